# Invented practice with two retest gaps, and what it says by R (nlme): Rscript gaps.R
# 24 trainees make 12 attempts, then 6 after 1 day and 6 after 30 days. Times are lognormal:
# a trainee's level, 25 % slower at the first attempt after a day and 60 % after 30 days, back
# at the second attempt.
set.seed(20260301)
n <- 24
rows <- NULL
for (i in 1:n) {
  level <- log(45) + rnorm(1, 0, .15); gain <- log(3) + rnorm(1, 0, .15)
  loss <- c(rnorm(1, .22, .10), rnorm(1, .47, .15))
  k <- 0
  for (s in 1:3) for (j in 1:(if (s == 1) 12 else 6)) {
    k <- k + 1
    mu <- level + (if (s == 1) gain * exp(-.7 * (k - 1)) else if (j == 1) loss[s - 1] else 0)
    rows <- rbind(rows, data.frame(trainee = sprintf("R%02d", i), attempt = k, date = as.character(as.Date("2026-03-02") + c(0, 1, 31)[s]), seconds = round(exp(mu + rnorm(1, 0, .12)), 2)))
  }
}
write.csv(rows, "gaps.csv", row.names = FALSE, quote = FALSE)
rows <- read.csv("gaps.csv")
library(nlme)
out <- NULL
for (s in 2:3) for (j in 1:2) {
  first <- if (s == 2) 12 else 18          # last attempt before the break
  skip <- if (s == 3) 13 else 0            # the first after a break of its own is no level
  d <- subset(rows, attempt > first - 5 & attempt <= first & attempt != skip | attempt == first + j)
  d$after <- as.numeric(d$attempt == first + j)
  d$y <- log(d$seconds)
  # Trainees differ in level and in loss; noise differs before and after so that nothing is
  # borrowed: a mixed model of the two means a trainee.
  m <- aggregate(y ~ trainee + after, d, mean)
  f <- lme(y ~ after, random = ~ 1 | trainee, data = m, method = "REML", weights = varIdent(form = ~ 1 | after))
  t <- summary(f)$tTable["after", ]
  p <- with(reshape(m, idvar = "trainee", timevar = "after", direction = "wide"), t.test(y.1, y.0, paired = TRUE))
  out <- rbind(out, data.frame(gap = c(1, 30)[s - 1], attempt = j, loss = t[["Value"]], se = t[["Std.Error"]], lower = p$conf.int[1], upper = p$conf.int[2]))
}
print(out, digits = 10)
write.csv(format(out, digits = 12), "gaps_expected.csv", row.names = FALSE, quote = FALSE)

# Bare fits of the studies with nlme: three parameters that differ between arms and between
# trainees with all correlations, starts at the true values. Prints studies, those that
# failed, processor seconds of the fits, and the mean log ratio of the plateaus.
suppressMessages(library(nlme))
d <- read.csv(commandArgs(TRUE)[1])
d$y <- log(d$seconds); d$trainee <- factor(d$trainee); d$new <- as.numeric(d$arm == "new")
curve <- deriv(~log(exp(a) + exp(g) * exp(-exp(r) * (attempt - 1))), c("a", "g", "r"), function(attempt, a, g, r) {})
failed <- 0; ratios <- c(); used <- 0
for (s in unique(d$study)) {
  one <- d[d$study == s, ]
  at <- proc.time()[["user.self"]]
  f <- try(nlme(y ~ curve(attempt, a, g, r), one, fixed = a + g + r ~ new, random = a + g + r ~ 1, groups = ~trainee,
                start = c(log(45), log(39 / 45), log(130), 0, log(0.2), 0), method = "ML"), silent = TRUE)
  used <- used + proc.time()[["user.self"]] - at
  if (inherits(f, "try-error")) failed <- failed + 1 else ratios <- c(ratios, fixef(f)[["a.new"]])
}
cat(length(unique(d$study)), failed, used, mean(ratios), "\n")

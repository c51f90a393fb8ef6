# Public data of R's packages, and what R makes of them by the methods of the command standard.
# Run in this folder:  Rscript public.R
# Writes a table a set and expected.csv (set, name, value with 12 digits). Sources: README.md.
out <- list(); put <- function(set, name, v) out[[length(out) + 1]] <<- data.frame(set, name, value = sprintf("%.12g", v))
# two groups: glucose of women without and with diabetes, as if not yet competent and competent
g <- MASS::Pima.te; d <- data.frame(score = g$glu, competent = as.integer(g$type == "Yes")); write.csv(d, "glucose.csv", row.names = FALSE, quote = FALSE)
a <- d$score[d$competent == 0]; b <- d$score[d$competent == 1]
gap <- function(w) function(x) log(w[1]) + dnorm(x, mean(a), sd(a), log = TRUE) - log(w[2]) - dnorm(x, mean(b), sd(b), log = TRUE)
cut <- uniroot(gap(c(1, 1)), c(mean(a), mean(b)), tol = 1e-12)$root; put("glucose", "normal", cut)
put("glucose", "weighted", uniroot(gap(c(length(a), length(b))), c(mean(a), mean(b)), tol = 1e-12)$root)
put("glucose", "observed/false_pass", mean(a >= cut)); put("glucose", "observed/false_fail", mean(b < cut)); put("glucose", "theoretical/false_pass", pnorm(cut, mean(a), sd(a), lower.tail = FALSE)); put("glucose", "theoretical/false_fail", pnorm(cut, mean(b), sd(b)))
m <- glm(competent ~ score, binomial, d, control = list(epsilon = 1e-15)); co <- unname(coef(m)); k <- c(-1 / co[2], co[1] / co[2]^2); put("glucose", "logistic", -co[1] / co[2]); put("glucose", "logistic/se", sqrt(drop(k %*% vcov(m) %*% k)))
# ratings: a school test by level of education, as if a global rating; 2 as the borderline rating
s <- psych::sat.act; d <- data.frame(score = s$ACT, rating = s$education); write.csv(d, "school.csv", row.names = FALSE, quote = FALSE)
p <- predict(lm(score ~ rating, d), data.frame(rating = 2), se.fit = TRUE, interval = "confidence")
put("school", "estimate", p$fit[1]); put("school", "se", p$se.fit); put("school", "lower", p$fit[2]); put("school", "upper", p$fit[3]); put("school", "r_squared", summary(lm(score ~ rating, d))$r.squared)
h <- d$score[d$rating == 2]; t <- t.test(h); put("school", "group/estimate", mean(h)); put("school", "group/lower", t$conf.int[1]); put("school", "group/upper", t$conf.int[2])
# experts: five series of twenty measured speeds of light, as if five experts of twenty runs; mean and mean + 1 SD of their means
d <- data.frame(expert = morley$Expt, run = morley$Run, score = morley$Speed); write.csv(d, "speed.csv", row.names = FALSE, quote = FALSE)
x <- tapply(d$score, d$expert, mean); n <- 5; put("speed", "mean", mean(x)); put("speed", "mean/lower", t.test(x)$conf.int[1]); put("speed", "mean/upper", t.test(x)$conf.int[2])
put("speed", "sds", mean(x) + sd(x)); put("speed", "sds/se", sd(x) * sqrt(1 / n + 1 / (2 * (n - 1))))
put("speed", "sds/lower", mean(x) + sd(x) / sqrt(n) * qt(.025, n - 1, sqrt(n))); put("speed", "sds/upper", mean(x) + sd(x) / sqrt(n) * qt(.975, n - 1, sqrt(n)))
# seven items of a questionnaire answered by 30 departments: reliability of their sum
write.csv(data.frame(id = 1:30, attitude), "attitude.csv", row.names = FALSE, quote = FALSE); v <- var(attitude); put("attitude", "alpha", 7 / 6 * (1 - sum(diag(v)) / sum(v)))
write.csv(do.call(rbind, out), "expected.csv", row.names = FALSE, quote = FALSE); cat(length(out), "numbers; R", as.character(getRversion()), "MASS", as.character(packageVersion("MASS")), "psych", as.character(packageVersion("psych")), "\n")

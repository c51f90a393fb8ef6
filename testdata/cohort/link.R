# Reference for passes and counts: the curve on the logit or log scale is linear
# in its deviations, so that lme4's glmer has the same model. Writes passes.csv
# and errors.csv (simulated) and prints what the tests compare with.
# R 4.2.2, lme4 1.1-31:  Rscript link.R
suppressMessages(library(lme4))
set.seed(99)
sim <- function(f, s1, s2) do.call(rbind, lapply(1:40, function(i) { n <- 1:20; a <- s1*rnorm(1); b <- s2*rnorm(1)
  data.frame(trainee = sprintf("T%02d", i), attempt = n, y = f(a, b, n)) }))
p <- sim(function(a, b, n) rbinom(20, 1, plogis(1.5 + a + (-3 + b)/n)), 0.8, 0)
e <- sim(function(a, b, n) rpois(20, exp(0.2 + a + (1.3 + b)/n)), 0.4, 0.5)
write.csv(setNames(p, c("trainee", "attempt", "pass")), "passes.csv", row.names = FALSE, quote = FALSE)
write.csv(setNames(e, c("trainee", "attempt", "errors")), "errors.csv", row.names = FALSE, quote = FALSE)
ctl <- glmerControl(optimizer = "bobyqa", optCtrl = list(maxfun = 1e5, rhoend = 1e-9), tolPwrss = 1e-12)
show <- function(m, what) { cat("==", what, "\n"); cat("logLik", format(as.numeric(logLik(m)), digits = 12), "\n"); print(fixef(m), digits = 10)
  print(sqrt(diag(as.matrix(vcov(m)))), digits = 8); print(as.data.frame(VarCorr(m))[, c("var1", "var2", "sdcor")], digits = 10) }
for (k in c(1, 9)) {
  show(glmer(y ~ I(1/attempt) + (1 | trainee), p, binomial, nAGQ = k, control = ctl), paste("passes,", k, "points"))
  show(glmer(y ~ I(1/attempt) + (1 | trainee), e, poisson, nAGQ = k, control = ctl), paste("errors, plateau random,", k, "points"))
}
show(glmer(y ~ I(1/attempt) + (I(1/attempt) | trainee), e, poisson, control = ctl), "errors, both random, correlated, Laplace")
show(glmer(y ~ I(1/attempt) + (I(1/attempt) || trainee), e, poisson, control = ctl), "errors, both random, Laplace")
m <- glmer(y ~ I(1/attempt) + (1 | trainee), p, binomial, nAGQ = 9, control = ctl)
options(digits = 9); print(confint(m, method = "profile"))

# Reference for residuals that carry over, REML and profiles: models that are
# linear in everything but the covariance, where the likelihood is exact.
# Writes carry.csv (simulated, with gaps) and prints what the tests compare with.
# R 4.2.2, nlme 3.1-162, lme4 1.1-31:  Rscript carry.R
suppressMessages({library(nlme); library(lme4)})
set.seed(4711)
d <- do.call(rbind, lapply(1:24, function(i) {
  n <- 1:16; a <- 60 + 6*rnorm(1); g <- 80 + 15*rnorm(1)
  e <- 5*as.numeric(arima.sim(list(ar = 0.5), 16, sd = sqrt(1 - 0.25))) + 2*rnorm(16)
  data.frame(trainee = sprintf("T%02d", i), attempt = n, score = round(a + g/n + e, 3))[runif(16) > 0.1, ] }))
write.csv(d, "carry.csv", row.names = FALSE, quote = FALSE)
d$x <- 1/d$attempt
show <- function(m, what) { cat("==", what, "\n"); cat("logLik", format(as.numeric(logLik(m)), digits = 14), "\n"); print(fixef(m), digits = 12)
  print(sqrt(diag(vcov(m))), digits = 10) }
ctl <- lmeControl(maxIter = 500, msMaxIter = 1000, msTol = 1e-12, tolerance = 1e-12, returnObject = TRUE, opt = "optim", niterEM = 200)
for (meth in c("ML", "REML")) {
  m <- lme(score ~ x, d, random = list(trainee = pdDiag(~x)), correlation = corAR1(0.3, form = ~attempt | trainee), method = meth, control = ctl)
  show(m, paste("AR(1), diagonal,", meth)); print(as.numeric(VarCorr(m)[, 2]), digits = 12); print(coef(m$modelStruct$corStruct, unconstrained = FALSE), digits = 12)
}
m <- lme(score ~ x, d, random = list(trainee = pdDiag(~x)), correlation = corExp(c(2, 0.3), form = ~attempt | trainee, nugget = TRUE), method = "ML", control = ctl)
show(m, "part carried, diagonal, ML"); print(as.numeric(VarCorr(m)[, 2]), digits = 12)
p <- coef(m$modelStruct$corStruct, unconstrained = FALSE); print(c(correlation = exp(-1/p[[1]]), share = 1 - p[[2]]), digits = 12)
for (reml in c(FALSE, TRUE)) {
  m <- lmer(score ~ x + (x | trainee), d, REML = reml, control = lmerControl(optimizer = "bobyqa", optCtrl = list(maxfun = 1e5, rhoend = 1e-10)))
  show(m, if (reml) "lmer, full, REML" else "lmer, full, ML"); print(as.data.frame(VarCorr(m))[, c("var1", "var2", "sdcor")], digits = 12)
}
m <- lmer(score ~ x + (x || trainee), d, REML = FALSE, control = lmerControl(optimizer = "bobyqa", optCtrl = list(maxfun = 1e5, rhoend = 1e-10)))
show(m, "lmer, diagonal, ML"); print(as.data.frame(VarCorr(m))[, c("grp", "var1", "sdcor")], digits = 12)
options(digits = 10); print(confint(m, method = "profile", devtol = 1e-12))
m <- lmer(score ~ x + (x | trainee), d, REML = FALSE, control = lmerControl(optimizer = "bobyqa", optCtrl = list(maxfun = 1e5, rhoend = 1e-10)))
cat("== profile, full, ML\n"); print(confint(m, method = "profile"))

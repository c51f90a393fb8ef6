# A cohort whose plateau and gain move together without exception: writes
# boundary.csv and prints lmer's fit, which ends at a correlation of 1.
# R 4.2.2, lme4 1.1-31:  Rscript boundary.R
suppressMessages(library(lme4))
set.seed(1)
d <- do.call(rbind, lapply(1:20, function(i) { u <- rnorm(1); n <- 1:10
  data.frame(trainee = sprintf("T%02d", i), attempt = n, score = round(60 + 6*u + (80 + 12*u)/n + 5*rnorm(10), 3)) }))
write.csv(d, "boundary.csv", row.names = FALSE, quote = FALSE)
m <- lmer(score ~ I(1/attempt) + (I(1/attempt) | trainee), d, REML = FALSE, control = lmerControl(optimizer = "bobyqa", optCtrl = list(maxfun = 1e5, rhoend = 1e-10)))
print(logLik(m), digits = 14); print(fixef(m), digits = 12); print(as.data.frame(VarCorr(m)), digits = 12)

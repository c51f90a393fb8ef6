# Variance components of a two-way table with gaps, and of a nested design, by
# REML in lme4. Run: Rscript gaps.R
suppressMessages(library(lme4))
show <- function(m) { v <- as.data.frame(VarCorr(m)); for (i in seq_len(nrow(v))) cat(sprintf("%s %.10g\n", v$grp[i], v$vcov[i])) }
ctl <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-12, maxfun = 1e6))
x <- rbind(c(9, 2, 5, 8), c(6, 1, 3, 2), c(8, 4, 6, 8), c(7, 1, 2, 6), c(10, 5, 6, 9), c(6, 2, 4, 7))
x[1, 2] <- NA; x[4, 4] <- NA
d <- data.frame(score = as.vector(x), subject = factor(rep(1:6, 4)), rater = factor(rep(1:4, each = 6)))
cat("gaps\n"); show(lmer(score ~ 1 + (1 | subject) + (1 | rater), d, control = ctl))
# Performances within trainees, raters crossed, two ratings lost.
g <- read.csv("nested.csv")
g$trainee <- factor(g$trainee); g$performance <- factor(g$performance); g$rater <- factor(g$rater)
cat("nested\n"); show(lmer(score ~ 1 + (1 | trainee) + (1 | rater) + (1 | performance) + (1 | trainee:rater), g, control = ctl))
g <- read.csv("gstudy_gleser_1965_pxixr.csv")
for (f in c("p", "i", "r")) g[[f]] <- factor(g[[f]])
cat("gleser\n"); show(lmer(score ~ 1 + (1 | p) + (1 | i) + (1 | r) + (1 | p:i) + (1 | p:r) + (1 | i:r), g, control = ctl))

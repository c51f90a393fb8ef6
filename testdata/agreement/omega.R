# One-factor maximum likelihood loadings and McDonald's omega of the raw sum.
# Run: Rscript omega.R
a <- read.csv("cronbach_attitude.csv")[, -1]
f <- factanal(a, 1, control = list(opt = list(factr = 1, maxit = 10000), lower = 0.005))
s <- sapply(a, sd)
l <- f$loadings[, 1] * s; u <- f$uniquenesses * s^2
cat(sprintf("omega %.10g\n", sum(l)^2 / (sum(l)^2 + sum(u))))

# Reference for times with heavy tails: log T = mu + tau z + sigma t, t on 4 degrees of freedom,
# to the times of censored.csv (cut off at 90 s, with a level of each trainee's own), by exact
# maximum likelihood: numerical integration over the level, 401 points from -8 to 8.
# R 4.2.2:  Rscript tails.R
d <- read.csv("censored.csv")
maximise <- function(th, nll) { for (k in 1:4) th <- optim(th, nll, method = if (k %% 2) "Nelder-Mead" else "BFGS", control = list(reltol = 1e-15, maxit = 2000))$par
  list(th = th, se = sqrt(diag(solve(optimHess(th, nll, control = list(ndeps = rep(1e-4, length(th))))))), ll = -nll(th)) }
z <- seq(-8, 8, length.out = 401); w <- dnorm(z) * (z[2] - z[1])
one <- function(x, th) { e <- outer(log(x$seconds) - th[1], exp(th[2]) * z, "-") / exp(th[3])
  colSums(ifelse(matrix(x$timeout == 1, nrow(x), length(z)), pt(e, 4, lower.tail = FALSE, log.p = TRUE), dt(e, 4, log = TRUE) - th[3])) }
parts <- split(d, d$trainee)
nll <- function(th) -sum(vapply(parts, function(x) { l <- one(x, th); m <- max(l); m + log(sum(exp(l - m) * w)) }, 0))
m <- maximise(c(log(60), log(0.3), log(0.3)), nll)
print(c(m$th[1], exp(m$th[2:3])), digits = 10); print(m$se, digits = 8)
cat("logLik of logs", format(m$ll, digits = 12), " log density of exact times", format(m$ll - sum(log(d$seconds[d$timeout == 0])), digits = 12), "\n")
# What the third trainee's own attempts make of the next one, at the estimates: chances of at most 40, 60 and 120 s.
l <- one(parts[[3]], m$th); p <- exp(l - max(l)) * w; p <- p / sum(p)
cat("chances", format(vapply(c(40, 60, 120), function(y) sum(p * pt((log(y) - m$th[1] - exp(m$th[2]) * z) / exp(m$th[3]), 4)), 0), digits = 12), "\n")

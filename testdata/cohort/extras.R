# Reference for censored times, trainees who differ in noise, and the slowdown
# after a break: exact maximum likelihood by numerical integration over the one
# deviation of each model. Writes censored.csv, spread.csv and sessions.csv
# (simulated) and prints what the tests compare with.
# R 4.2.2, lme4 1.1-31:  Rscript extras.R
suppressMessages(library(lme4))
set.seed(5)
maximise <- function(th, nll) { for (k in 1:6) th <- optim(th, nll, method = if (k %% 2) "Nelder-Mead" else "BFGS", control = list(reltol = 1e-15, maxit = 20000))$par
  list(th = th, se = sqrt(diag(solve(optimHess(th, nll, control = list(ndeps = rep(1e-4, length(th))))))), ll = -nll(th)) }
# Gauss-Hermite, 61 points, by the eigenvalues of the Jacobi matrix (Golub and Welsch, 1969)
k <- 61; J <- matrix(0, k, k); J[cbind(1:(k-1), 2:k)] <- J[cbind(2:k, 1:(k-1))] <- sqrt(1:(k-1)); E <- eigen(J, symmetric = TRUE); z <- E$values; w <- E$vectors[1, ]^2
integral <- function(parts) { m <- apply(parts, 1, max); sum(m + log(exp(parts - m) %*% w)) }   # rows: trainees; log likelihood at each point

# Times about a level of their own, cut off at 90 s: log T = mu + tau z + sigma e.
d <- do.call(rbind, lapply(1:30, function(i) data.frame(trainee = sprintf("T%02d", i), attempt = 1:8, seconds = exp(log(60) + 0.3*rnorm(1) + 0.35*rnorm(8)))))
d$timeout <- as.integer(d$seconds > 90); d$seconds <- round(pmin(d$seconds, 90), 3); d$timeout[d$seconds >= 90] <- 1L
write.csv(d, "censored.csv", row.names = FALSE, quote = FALSE); cat(sum(d$timeout), "censored\n")
nll <- function(th) -integral(t(vapply(split(d, d$trainee), function(x) vapply(z, function(v) { e <- (log(x$seconds) - th[1] - exp(th[2])*v)/exp(th[3])
  sum(ifelse(x$timeout == 1, pnorm(e, lower.tail = FALSE, log.p = TRUE), dnorm(e, log = TRUE) - th[3])) }, 0), z)))
m <- maximise(c(log(60), log(0.3), log(0.35)), nll); print(c(m$th[1], exp(m$th[2:3])), digits = 10); print(m$se, digits = 8); cat("logLik of logs", format(m$ll, digits = 12), "\n")

# Scores about one level, trainees differing in noise: y = mu + exp(s + tau z) e.
d <- do.call(rbind, lapply(1:40, function(i) data.frame(trainee = sprintf("T%02d", i), attempt = 1:12, score = round(50 + 4*exp(0.4*rnorm(1))*rnorm(12), 4))))
write.csv(d, "spread.csv", row.names = FALSE, quote = FALSE)
nll <- function(th) -integral(t(vapply(split(d, d$trainee), function(x) vapply(z, function(v) sum(dnorm(x$score, th[1], exp(th[2] + exp(th[3])*v), log = TRUE)), 0), z)))
m <- maximise(c(50, log(4), log(0.4)), nll); print(c(m$th[1], exp(m$th[2:3])), digits = 10); print(m$se, digits = 8); cat("logLik", format(m$ll, digits = 12), "\n")

# Scores on an inverse curve with three sessions of 8, slower after a break by 6 exp(-0.6 (r - 1)): lmer at a fading rate, which is then searched.
d <- do.call(rbind, lapply(1:30, function(i) { n <- 1:24; r <- ifelse(n <= 8, 0, (n - 1) %% 8 + 1)
  data.frame(trainee = sprintf("T%02d", i), attempt = n, session = (n - 1) %/% 8 + 1, score = round(60 + 5*rnorm(1) + 70/n + 6*(r > 0)*exp(-0.6*(r - 1)) + 3*rnorm(24), 3)) }))
write.csv(d, "sessions.csv", row.names = FALSE, quote = FALSE)
d$r <- ifelse(d$session == 1, 0, (d$attempt - 1) %% 8 + 1)
at <- function(f) { d$x <- ifelse(d$r > 0, exp(-exp(f)*(d$r - 1)), 0); lmer(score ~ I(1/attempt) + x + (1 | trainee), d, REML = FALSE, control = lmerControl(calc.derivs = FALSE)) }
f <- optimize(function(f) -as.numeric(logLik(at(f))), c(-3, 2), tol = 1e-9)$minimum
m <- at(f); print(c(fixef(m), log_fading = f, as.data.frame(VarCorr(m))$sdcor), digits = 10); cat("logLik", format(as.numeric(logLik(m)), digits = 12), "\n")

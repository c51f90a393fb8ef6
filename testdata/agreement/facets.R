# Many-facet rating model by marginal maximum likelihood, written afresh: normal
# abilities, 121-point rectangle rule, optim. With two categories the model is a
# logistic regression with a random intercept, fitted by lme4 as well.
# Run: Rscript facets.R
d <- read.csv("facets.csv")
s <- as.integer(factor(d$trainee)); r <- as.integer(factor(d$rater)); i <- as.integer(factor(d$item))
x <- d$score - min(d$score); K <- max(x); nr <- max(r); ni <- max(i)
grid <- seq(-7, 7, length.out = 121); w <- dnorm(grid); w <- w / sum(w)
nll <- function(p) {
  sev <- c(p[1:(nr - 1)], -sum(p[1:(nr - 1)])); dif <- c(p[nr:(nr + ni - 2)], -sum(p[nr:(nr + ni - 2)]))
  tau <- p[(nr + ni - 1):(nr + ni + K - 2)]; sd <- exp(p[nr + ni + K - 1])
  L <- matrix(0, max(s), length(grid))
  for (n in seq_along(x)) {
    eta <- sd * grid - sev[r[n]] - dif[i[n]]
    num <- sapply(0:K, function(k) if (k == 0) 0 * eta else k * eta - sum(tau[1:k]))
    L[s[n], ] <- L[s[n], ] + num[, x[n] + 1] - log(rowSums(exp(num)))
  }
  -sum(log(exp(L) %*% w))
}
p <- rep(0, nr + ni + K - 1)
for (k in 1:4) p <- optim(p, nll, method = "BFGS", control = list(maxit = 2000, reltol = 1e-15))$par
h <- optimHess(p, nll)
cat("estimate", sprintf("%.6f", p), "\n"); cat("se      ", sprintf("%.6f", sqrt(diag(solve(h)))), "\n"); cat("logLik  ", sprintf("%.6f", -nll(p)), "\n")
suppressMessages(library(lme4))
d$pass <- as.integer(d$score >= 3)
d$rater <- factor(d$rater); d$item <- factor(d$item)
contrasts(d$rater) <- contr.sum(nr); contrasts(d$item) <- contr.sum(ni)
g <- glmer(pass ~ rater + item + (1 | trainee), d, family = binomial, nAGQ = 41)
cat("binary  ", sprintf("%.6f", c(-fixef(g)[2:nr], -fixef(g)[(nr + 1):(nr + ni - 1)], -fixef(g)[1], attr(VarCorr(g)$trainee, "stddev"))), "\n")
cat("binary se", sprintf("%.6f", sqrt(diag(as.matrix(vcov(g))))), "\n")

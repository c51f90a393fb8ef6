# Expected results for curves with correlated neighbours and a shift after breaks:
# maximum likelihood with a first-order autoregression within sessions, and profile
# intervals of quantities read off a curve. The data are simulated here.
# Run in this folder: Rscript dependence.R
library(nlme)
set.seed(20261125)
n <- 1:48
session <- rep(1:6, each = 8)
first <- as.numeric(n > 1 & c(0, diff(session)) > 0)
mean <- 40 + 90 * exp(-0.12 * (n - 1))
e <- unlist(lapply(1:6, function(s) as.numeric(arima.sim(list(ar = 0.5), 8, sd = 1))))
d <- data.frame(attempt = n, session = paste0("S", session), first = first,
                seconds = signif(mean + 8 * first + 5 * e, 6), positive = signif(mean * exp(0.15 * first + 0.1 * e), 6))
write.csv(d[c("attempt", "session", "seconds", "positive")], "dependence.csv", row.names = FALSE, quote = FALSE)

# The exact likelihood, with the dense correlation matrix, minimised directly; nlme's
# gnls is run on the same models as a check of the set-up (printed, not stored).
exact <- function(case, data, mean, start, sessions = TRUE, correlated = TRUE, y = data$seconds) {
  n <- nrow(data)
  gap <- abs(outer(data$attempt, data$attempt, "-")); same <- outer(data$session, data$session, "==")
  f <- function(p) {
    m <- mean(p); if (any(!is.finite(m))) return(1e10)
    rho <- if (correlated) tanh(p[["z"]]) else 0
    V <- ifelse(same, sign(rho)^gap * abs(rho)^gap, 0); diag(V) <- 1
    U <- chol(V); u <- backsolve(U, y - m, transpose = TRUE)
    n / 2 * log(2 * pi * sum(u^2) / n) + n / 2 + sum(log(diag(U)))
  }
  if (correlated) start <- c(start, z = 0.3)
  o <- list(par = start)
  for (k in 1:6) o <- optim(o$par, f, method = c("Nelder-Mead", "BFGS")[1 + k %% 2], control = list(reltol = 1e-16, maxit = 20000, parscale = pmax(abs(o$par), 0.1)))
  q <- nlm(function(x) f(setNames(x, names(start))), o$par, typsize = abs(o$par), gradtol = 1e-10, steptol = 1e-12, iterlim = 1000); if (q$minimum < o$value) o$par <- setNames(q$estimate, names(o$par))
  value <- c(o$par[setdiff(names(o$par), "z")], if (correlated) c(rho = tanh(o$par[["z"]])), log_likelihood = -f(o$par))
  data.frame(case = case, quantity = names(value), value = signif(value, 10))
}
s <- c(plateau = 40, gain = 90, rate = 0.12)
expo <- function(data, restart) function(p) p[["plateau"]] + p[["gain"]] * exp(-p[["rate"]] * (data$attempt - 1)) + if (restart) p[["restart"]] * data$first else 0
# Every third attempt void: neighbours further apart than one attempt.
g <- d[d$attempt %% 3 != 0, ]
out <- rbind(
  exact("restart", d, expo(d, TRUE), c(s, restart = 5), correlated = FALSE),
  exact("correlated", d, expo(d, FALSE), s),
  exact("both", d, expo(d, TRUE), c(s, restart = 5)),
  exact("both lognormal", d, function(p) log(p[["plateau"]] + p[["gain"]] * exp(-p[["rate"]] * (d$attempt - 1))) + p[["restart"]] * d$first, c(s, restart = 0.1), y = log(d$positive)),
  exact("gaps", g, expo(g, FALSE), s, y = g$seconds))
try(print(summary(gnls(seconds ~ plateau + gain * exp(-rate * (attempt - 1)) + restart * first, d, start = c(s, restart = 5), correlation = corAR1(0.3, ~ attempt | session), control = gnlsControl(tolerance = 1e-5, nlsTol = 1e-3)))))

# Profile intervals at 95 %: ends at which RSS = RSSmin (1 + t^2/df). For a given rate
# and value of the quantity the curve has one coefficient left, which is linear; the
# rate is searched.
last <- 48
rss <- function(p) sum((d$seconds - p[1] - p[2] * exp(-p[3] * (d$attempt - 1)))^2)
best <- optim(c(40, 90, 0.12), rss, control = list(reltol = 1e-16, maxit = 5000))
for (k in 1:5) best <- optim(best$par, rss, method = "BFGS", control = list(reltol = 1e-16, maxit = 5000, parscale = best$par))
limit <- best$value * (1 + qt(.975, 45)^2 / 45)
h <- function(rate, n) exp(-rate * (n - 1))
pinned <- list(
  change = list(of = function(p) p[2] * (h(p[3], last + 10) - h(p[3], last)), from = 30, to = 1e-4, curve = function(rate, v) {
    gain <- v / (h(rate, last + 10) - h(rate, last)); c(mean(d$seconds - gain * h(rate, d$attempt)), gain, rate)
  }),
  share = list(of = function(p) (p[1] + p[2] * h(p[3], last)) / (p[1] + p[2] * h(p[3], last / 2)), from = 0.9, to = 1 / 0.93, curve = function(rate, v) {
    a <- (v * h(rate, last / 2) - h(rate, last)) / (1 - v); z <- a + h(rate, d$attempt); gain <- sum(z * d$seconds) / sum(z * z); c(gain * a, gain, rate)
  }))
for (k in names(pinned)) {
  q <- pinned[[k]]; v0 <- q$of(best$par)
  held <- function(v) optimize(function(lr) rss(q$curve(exp(lr), v)), interval = log(c(0.02, 1)), tol = 1e-12)$objective - limit
  lower <- uniroot(held, sort(c(v0 * q$from, v0)), tol = 1e-12)$root
  upper <- uniroot(held, sort(c(min(v0 * q$to, 1 - 1e-9), v0)), tol = 1e-12)$root
  out <- rbind(out, data.frame(case = paste("profile", k), quantity = c("estimate", "lower", "upper"), value = signif(c(v0, lower, upper), 9)))
}
write.csv(out, "dependence_expected.csv", row.names = FALSE, quote = FALSE)
print(out, digits = 10)

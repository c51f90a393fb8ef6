# Miettinen and Nurminen's interval of a difference of shares, the most likely shares at every
# difference found by a search over the likelihood, not by the cubic.
tails <- function(x, n, y, m, d) {
  ll <- function(p) { q <- p - d; dbinom(x, n, p, TRUE) + dbinom(y, m, q, TRUE) }
  p <- optimize(ll, c(max(0, d), min(1, 1 + d)), maximum = TRUE, tol = 1e-12)$maximum; q <- p - d
  (x / n - y / m - d) / sqrt((p * (1 - p) / n + q * (1 - q) / m) * (n + m) / (n + m - 1))
}
for (v in list(c(56, 70, 48, 80), c(29, 30, 24, 30), c(12, 12, 9, 12), c(3, 17, 5, 40))) {
  f <- function(side) uniroot(function(d) tails(v[1], v[2], v[3], v[4], d) - side * qnorm(0.975),
    if (side > 0) c(-0.999, v[1] / v[2] - v[3] / v[4]) else c(v[1] / v[2] - v[3] / v[4], 0.9999), tol = 1e-10)$root
  cat(v, format(c(f(1), f(-1)), digits = 8), "\n")
}

# Power against a margin of a test of two arms by Student's t: non-inferiority by
# power.t.test, which has it as a one-sided test of the difference plus the margin;
# equivalence by the integral over the sample's spread (Phillips, 1990), with R's integrate.
equivalence <- function(n, m, d, margin, level) {
  df <- n + m - 2
  c <- sqrt(1 / n + 1 / m)
  limit <- qt(level, df)
  f <- function(s) (pnorm((margin - d) / c - limit * s) - pnorm((-margin - d) / c + limit * s)) * 2 * s * df * dchisq(s * s * df, df)
  integrate(f, 0, margin / (c * limit), rel.tol = 1e-12, subdivisions = 2000)$value
}
rows <- list()
for (n in c(10, 25, 60)) for (d in c(0, 0.1, -0.2)) for (margin in c(0.5, 0.8)) {
  rows[[length(rows) + 1]] <- data.frame(n = n, m = n, d = d, margin = margin, kind = "equivalence", level = 0.95, power = equivalence(n, n, d, margin, 0.95))
  rows[[length(rows) + 1]] <- data.frame(n = n, m = n, d = d, margin = margin, kind = "non-inferiority", level = 0.95,
    power = power.t.test(n = n, delta = d + margin, sd = 1, sig.level = 0.025, alternative = "one.sided")$power)
}
rows[[length(rows) + 1]] <- data.frame(n = 20, m = 40, d = 0.1, margin = 0.7, kind = "equivalence", level = 0.9, power = equivalence(20, 40, 0.1, 0.7, 0.9))
rows[[length(rows) + 1]] <- data.frame(n = 68, m = 68, d = 0, margin = 0.5, kind = "equivalence", level = 0.95, power = equivalence(68, 68, 0, 0.5, 0.95))
out <- do.call(rbind, rows)
out$power <- sprintf("%.10f", out$power)
write.csv(out, "margin.csv", row.names = FALSE, quote = FALSE)

# Differences within sites, where sites hold both arms in unequal shares, by base R 4.2.2.
# Run in this folder:
#
#   Rscript clusters.R
#
# reads clusters.csv (invented) and writes clusters_expected.csv (quantity, value). b less a:
# the coefficient of the arm in a regression on arm and site; its standard error from squared
# residuals over 1 less leverage (HC2); p of all ways to deal the trainees out within their
# sites, by the coefficient over that standard error, a deal as extreme as the one seen
# counting half, twice the smaller side.
d <- read.csv("clusters.csv")
both <- names(which(tapply(d$arm, d$site, function(a) length(unique(a))) == 2))
all_rows <- d
d <- d[d$site %in% both, ]
t_of <- function(y, b) {
  x <- model.matrix(~ b + site, data.frame(b = as.numeric(b), site = d$site))
  q <- solve(crossprod(x)); beta <- q %*% crossprod(x, y); e <- as.vector(y - x %*% beta)
  h <- rowSums((x %*% q) * x)
  v <- q %*% crossprod(x * (e / sqrt(1 - h))) %*% q
  c(beta[2], sqrt(v[2, 2]))
}
one <- function(name, y) {
  seen <- t_of(y, d$arm == "b")
  full <- coef(lm(v ~ arm + site, transform(all_rows, v = if (name == "log ") log(seconds) else seconds)))["armb"]
  stopifnot(all.equal(unname(full), seen[1])) # a site of one arm says nothing
  per_site <- lapply(both, function(s) { rows <- which(d$site == s)
    lapply(combn(length(rows), sum(d$arm[rows] == "b"), simplify = FALSE), function(k) rows[k]) })
  picks <- expand.grid(lapply(per_site, seq_along))
  stat <- apply(picks, 1, function(p) { b <- logical(nrow(d))
    for (k in seq_along(p)) b[per_site[[k]][[p[k]]]] <- TRUE
    r <- t_of(y, b); r[1] / r[2] })
  s <- seen[1] / seen[2]; same <- abs(stat - s) < 1e-9
  above <- mean(stat > s & !same) + mean(same) / 2; below <- mean(stat < s & !same) + mean(same) / 2
  data.frame(quantity = paste0(name, c("estimate", "se", "p")), value = c(seen, 2 * min(above, below)))
}
out <- rbind(one("", d$seconds), one("log ", log(d$seconds)))
out$value <- sprintf("%.15g", out$value)
write.csv(out, "clusters_expected.csv", row.names = FALSE, quote = FALSE)

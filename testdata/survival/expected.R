# Expected results for analysis/survival, by R with its package survival and glm.
# Run in this folder:  Rscript expected.R
# Writes expected.csv: name,value with 17 digits; "inf" means not reached. Data: README.md.
suppressMessages(library(survival))
out <- list(); put <- function(name, v) for (i in seq_along(v)) out[[length(out) + 1]] <<- c(if (length(v) > 1) sprintf("%s.%d", name, i) else name, if (is.na(v[i])) "inf" else sprintf("%.17g", v[i]))
bands <- c("linear", "log", "log-log", "arcsine"); rname <- c("plain", "log", "log-log", "arcsin")

write.csv(veteran, "veteran.csv", row.names = FALSE, quote = FALSE)
write.csv(data.frame(time = ovarian$futime, status = ovarian$fustat, age = ovarian$age, residual = ovarian$resid.ds, treatment = ovarian$rx), "ovarian.csv", row.names = FALSE, quote = FALSE)

curves <- function(tag, time, status, tau) {
  for (b in 1:4) {
    f <- survfit(Surv(time, status) ~ 1, conf.type = rname[b])
    ok <- f$surv > 0
    put(paste(tag, bands[b], "lower", sep = "/"), f$lower[ok]); put(paste(tag, bands[b], "upper", sep = "/"), f$upper[ok])
    for (p in c(.25, .5, .75)) { q <- quantile(f, p); put(sprintf("%s/%s/midpoint-quantile-%g", tag, bands[b], p), unname(c(q$quantile, q$lower, q$upper))) }
  }
  ok <- f$surv > 0
  put(paste0(tag, "/survival"), f$surv); put(paste0(tag, "/se"), (f$surv * f$std.err)[ok])
  e <- f$n.event > 0
  put(paste0(tag, "/nelson-aalen"), f$cumhaz[e]); put(paste0(tag, "/nelson-aalen-se"), f$std.chaz[e])
  r <- summary(f, rmean = tau)$table; put(paste0(tag, "/restricted-mean"), c(r[["rmean"]], r[["se(rmean)"]]))
}
test <- function(tag, d) { k <- length(d$n[if (is.matrix(d$obs)) 1 else TRUE]); o <- if (is.matrix(d$obs)) rowSums(d$obs) else d$obs; e <- if (is.matrix(d$exp)) rowSums(d$exp) else d$exp
  put(tag, c(d$chisq, length(o) - 1, pchisq(d$chisq, length(o) - 1, lower.tail = FALSE))); put(paste0(tag, "/observed"), o); put(paste0(tag, "/expected"), e) }
cox <- function(tag, formula, d) for (t in c("breslow", "efron", "exact")) { m <- coxph(formula, d, ties = t, control = coxph.control(eps = 1e-13, toler.chol = 1e-14, iter.max = 100)); n <- paste(tag, t, sep = "/")
  put(paste0(n, "/coef"), unname(coef(m))); put(paste0(n, "/se"), unname(sqrt(diag(vcov(m))))); put(paste0(n, "/loglik"), m$loglik); put(paste0(n, "/score"), m$score); put(paste0(n, "/wald"), m$wald.test) }
# Fleming-Harrington weights S(t-)^rho (1-S(t-))^gamma, from the definition
fh <- function(time, status, g, rho, gamma) { s <- 1; u <- v <- 0; for (t in sort(unique(time[status == 1]))) { n <- sum(time >= t); d <- sum(time == t & status == 1); n1 <- sum(time >= t & g == 1); d1 <- sum(time == t & status == 1 & g == 1)
  w <- s^rho * (1 - s)^gamma; u <- u + w * (d1 - d * n1 / n); if (n > 1) v <- v + w^2 * d * (n - d) / (n - 1) * n1 / n * (1 - n1 / n); s <- s * (1 - d / n) }; u^2 / v }

fr <- read.csv("freireich_6mp.csv"); at <- read.csv("attempts_to_criterion.csv")
for (g in unique(fr$group)) with(fr[fr$group == g, ], curves(paste0("freireich/", g), time, status, 35))
for (g in unique(at$group)) with(at[at$group == g, ], curves(paste0("attempts/", g), time, status, 25))
# restricted mean of 6-MP up to 35 weeks: expanded percentiles of a bootstrap, the level as a t interval with 20 df would leave, widened by sqrt(21/20)
x <- fr[fr$group == fr$group[1], ]; area <- function(i) { f <- survfit(Surv(time, status) ~ 1, x[i, ]); t <- pmin(c(0, f$time, 35), 35); sum(diff(t) * c(1, f$surv)) }
set.seed(1); bs <- replicate(20000, area(sample(nrow(x), replace = TRUE))); n <- nrow(x); half <- pnorm(sqrt(n / (n - 1)) * qt(.975, n - 1))
put("freireich/restricted-mean-bootstrap", unname(quantile(bs, c(1 - half, half), type = 6)))
for (s in list(list("freireich", fr), list("attempts", at))) { d <- s[[2]]; d$group <- factor(d$group, levels = unique(d$group))
  test(paste0(s[[1]], "/log-rank"), survdiff(Surv(time, status) ~ group, d)); test(paste0(s[[1]], "/rho-1"), survdiff(Surv(time, status) ~ group, d, rho = 1))
  for (w in list(c(0, 1), c(1, 1), c(.5, .5))) put(sprintf("%s/fh-%g-%g", s[[1]], w[1], w[2]), fh(d$time, d$status, as.integer(d$group), w[1], w[2]))
  cox(paste0(s[[1]], "/cox"), Surv(time, status) ~ group, d) }
v <- veteran; v$cell <- as.integer(v$celltype)
test("veteran/log-rank", survdiff(Surv(time, status) ~ celltype, v)); test("veteran/stratified", survdiff(Surv(time, status) ~ celltype + strata(trt), v)); test("veteran/stratified-rho-1", survdiff(Surv(time, status) ~ celltype + strata(trt), v, rho = 1))
cox("veteran/cox", Surv(time, status) ~ trt + karno + age, v); cox("veteran/cox-strata", Surv(time, status) ~ trt + karno + age + strata(celltype), v)
cox("ovarian/cox", Surv(futime, fustat) ~ age + resid.ds + rx, ovarian)

# grouped hazards: one row an attempt of a person
at$paced <- as.integer(at$group == "paced"); pp <- do.call(rbind, lapply(seq_len(nrow(at)), function(i) data.frame(t = 1:at$time[i], y = c(rep(0, at$time[i] - 1), at$status[i]), paced = at$paced[i])))
ev <- sort(unique(pp$t[pp$y == 1])); control <- glm.control(epsilon = 1e-15, maxit = 100)
for (l in c("cloglog", "logit")) for (b in c("free", "constant", "log-linear")) {
  d <- if (b == "free") pp[pp$t %in% ev, ] else pp
  f <- switch(b, free = y ~ 0 + factor(t) + paced, constant = y ~ paced, `log-linear` = y ~ log(t) + paced)
  m <- glm(f, binomial(l), d, control = control); f0 <- update(f, . ~ . - paced); m0 <- glm(f0, binomial(l), d, control = control); n <- paste("attempts/grouped", l, b, sep = "/")
  put(paste0(n, "/coef"), unname(coef(m)["paced"])); put(paste0(n, "/se"), sqrt(vcov(m)["paced", "paced"])); put(paste0(n, "/loglik"), c(as.numeric(logLik(m0)), as.numeric(logLik(m))))
  h <- predict(m, data.frame(t = ev, paced = 1), type = "response"); put(paste0(n, "/hazard-paced"), unname(h)) }

writeLines(c("name,value", vapply(out, paste, "", collapse = ",")), "expected.csv"); cat(length(out), "numbers; R", as.character(getRversion()), "survival", as.character(packageVersion("survival")), "\n")

# Public data sets of R's package survival, and what R says of them.
# Run in this folder:  Rscript public.R
# Writes one table a set (time, status 1 or 0, group) and expected.csv (set, arm, name, value with 12 digits;
# "inf" means not reached). Sources: README.md.
suppressMessages(library(survival)); source("../../compare/average_hazard.R")
bands <- c("linear", "log", "log-log", "arcsine"); rname <- c(linear = "plain", log = "log", `log-log` = "log-log", arcsine = "arcsin")
sets <- list(
  aml        = with(aml, data.frame(time, status, group = x)),
  bladder    = with(bladder[bladder$enum == 1, ], data.frame(time = stop, status = event, group = c("placebo", "thiotepa")[rx])),
  kidney     = with(kidney, data.frame(time, status, group = disease)),
  lung       = with(lung, data.frame(time, status = status - 1, group = c("men", "women")[sex])),
  ovarian    = with(ovarian, data.frame(time = futime, status = fustat, group = paste("treatment", rx))),
  rats       = with(rats, data.frame(time, status, group = c("control", "drug")[rx + 1])),
  retinopathy = with(retinopathy, data.frame(time = futime, status, group = c("control", "laser")[trt + 1])),
  stanford2  = with(stanford2, data.frame(time, status, group = ifelse(age < 40, "under 40", "40 and over"))),
  veteran    = with(veteran, data.frame(time, status, group = celltype)))
out <- list(); put <- function(set, arm, name, v) out[[length(out) + 1]] <<- data.frame(set, arm, name, value = ifelse(is.na(v) | is.infinite(v), "inf", sprintf("%.12g", v)))
first <- function(time, curve, to) { hit <- !is.na(curve) & curve <= to + 1e-12; if (any(hit)) min(time[hit]) else Inf } # when a curve has fallen to a share
for (set in names(sets)) {
  d <- sets[[set]]; d$group <- as.character(d$group); write.csv(d, paste0(set, ".csv"), row.names = FALSE, quote = FALSE)
  arms <- unique(d$group); d$group <- factor(d$group, levels = arms); tau <- min(tapply(d$time, d$group, max))
  for (a in arms) { x <- d[d$group == a, ]
    for (b in bands) { f <- survfit(Surv(time, status) ~ 1, x, conf.type = rname[[b]]); f$lower[f$surv == 0] <- NA; f$upper[f$surv == 0] <- NA
      for (p in c(.5, .8, .9)) { n <- sprintf("%s/share %g", b, p); est <- first(f$time, f$surv, 1 - p)
        put(set, a, paste0(n, "/attempts"), est); put(set, a, paste0(n, "/lower"), min(est, first(f$time, f$lower, 1 - p))); put(set, a, paste0(n, "/upper"), first(f$time, f$upper, 1 - p))
        put(set, a, paste0(n, "/midpoint"), unname(quantile(f, p)$quantile)) }
      for (i in unique(round(seq(1, sum(f$surv > 0), length.out = 5)))) { n <- sprintf("%s/step %g", b, f$time[i])
        put(set, a, paste0(n, "/survival"), f$surv[i]); put(set, a, paste0(n, "/lower"), f$lower[i]); put(set, a, paste0(n, "/upper"), f$upper[i]) } }
    r <- summary(f, rmean = tau)$table; put(set, a, "restricted_mean", r[["rmean"]]); put(set, a, "restricted_mean_se", r[["se(rmean)"]]) }
  s <- survdiff(Surv(time, status) ~ group, d); k <- length(arms) - 1
  put(set, "", "log-rank/chi_square", s$chisq); put(set, "", "log-rank/p", pchisq(s$chisq, k, lower.tail = FALSE)); put(set, "", "rho-1/chi_square", survdiff(Surv(time, status) ~ group, d, rho = 1)$chisq)
  for (i in seq_len(k)) { d2 <- d[d$group %in% arms[c(1, i + 1)], ]; m <- average(data.frame(time = d2$time, status = d2$status, x = 1 * (d2$group == arms[i + 1])))
    for (n in c("ratio", "lower", "upper", "p")) put(set, arms[i + 1], paste0("hazard/", n), m[[n]]) } }
all <- do.call(rbind, out); write.csv(all, "expected.csv", row.names = FALSE, quote = FALSE)
cat(nrow(all), "numbers of", length(sets), "sets; R", as.character(getRversion()), "survival", as.character(packageVersion("survival")), "\n")

# Expected values of comparisons of arms, by base R 4.2.2 and, where base R has none, by
# formulas written out here. Run in this folder:
#
#   Rscript expected.R
#
# writes the data sets from R's own and from MASS, and expected.csv (set, quantity, value).
# Differences are the first arm named less the second.
suppressMessages(library(MASS))
rows <- data.frame(set = character(), quantity = character(), value = numeric())
put <- function(set, quantity, value) rows[nrow(rows) + seq_along(value), ] <<- list(rep(set, length(value)), quantity, as.numeric(value))
data_of <- function(name, arm, value) write.csv(data.frame(arm = arm, value = value), paste0(name, ".csv"), row.names = FALSE, quote = FALSE)

# every split of the pooled values into the two sizes
splits <- function(a, b) { x <- c(a, b); n <- length(a); s <- combn(length(x), n, function(i) sum(x[i])); e <- n * mean(x)
  mean(abs(s - e) >= abs(sum(a) - e) - 1e-9) }
# shifts not rejected by the permutation of |difference of means|, by bisection on the enumerated p
shift_end <- function(a, b, out) { f <- function(d) splits(a - d, b) - 0.05; lo <- mean(a) - mean(b); hi <- out
  for (i in 1:26) { m <- (lo + hi) / 2; if (f(m) > 0) lo <- m else hi <- m }; (lo + hi) / 2 }
pnct <- function(q, df, nc) integrate(function(u) pnorm(q * sqrt(u / df) - nc) * dchisq(u, df), 0, Inf, rel.tol = 1e-12, subdivisions = 2000)$value

two <- function(set, a, b, margin, ties) {
  n <- length(a); m <- length(b); w <- t.test(a, b); p <- t.test(a, b, var.equal = TRUE)
  put(set, "welch estimate", mean(a) - mean(b)); put(set, c("welch lower", "welch upper"), w$conf.int); put(set, "welch p", w$p.value)
  put(set, "welch df", w$parameter); put(set, "welch se", w$stderr)
  put(set, c("pooled lower", "pooled upper"), p$conf.int); put(set, "pooled p", p$p.value)
  sp <- sqrt(((n - 1) * var(a) + (m - 1) * var(b)) / (n + m - 2)); d <- (mean(a) - mean(b)) / sp; nu <- n + m - 2; k <- sqrt(1 / n + 1 / m)
  lam <- function(q) uniroot(function(l) pnct(d / k, nu, l) - q, d / k + c(-10, 10), extendInt = "downX", tol = 1e-12)$root
  j <- exp(lgamma(nu / 2) - lgamma((nu - 1) / 2)) / sqrt(nu / 2); ci <- k * c(lam(.975), lam(.025))
  put(set, "d estimate", d); put(set, c("d lower", "d upper"), ci); put(set, "g estimate", j * d); put(set, c("g lower", "g upper"), j * ci)
  D <- sign(outer(a, b, "-")); cl <- mean(D); z <- qnorm(.975)
  v <- (m^2 * sum((rowMeans(D) - cl)^2) + n^2 * sum((colMeans(D) - cl)^2) - sum((D - cl)^2)) / (n * m * (n - 1) * (m - 1))
  put(set, "cliff estimate", cl); put(set, "cliff se", sqrt(v))
  put(set, c("cliff lower", "cliff upper"), (cl - cl^3 + c(-1, 1) * z * sqrt(v) * sqrt((1 - cl^2)^2 + z^2 * v)) / (1 - cl^2 + z^2 * v))
  r <- rank(c(a, b)); put(set, "rank U", sum(r[1:n]) - n * (n + 1) / 2); put(set, "rank p", splits(r[1:n], r[-(1:n)]))
  put(set, "hodges-lehmann estimate", median(outer(a, b, "-")))
  # order statistics of the differences (Hollander and Wolfe, 1973, chapter 4); without ties wilcox.test has the same
  o <- sort(as.vector(outer(a, b, "-"))); h <- qwilcox(.025, n, m); put(set, c("hodges-lehmann lower", "hodges-lehmann upper"), c(o[h], o[n * m + 1 - h]))
  if (!ties) stopifnot(all.equal(as.numeric(wilcox.test(a, b, exact = TRUE, conf.int = TRUE)$conf.int), c(o[h], o[n * m + 1 - h])))
  put(set, "permutation p", splits(a, b))
  put(set, c("permutation lower", "permutation upper"), c(shift_end(a, b, mean(a) - mean(b) - 6 * w$stderr), shift_end(a, b, mean(a) - mean(b) + 6 * w$stderr)))
  lo <- t.test(a, b, mu = -margin, alternative = "greater")$p.value; hi <- t.test(a, b, mu = margin, alternative = "less")$p.value
  put(set, "margin", margin); put(set, "equivalence p", max(lo, hi)); put(set, c("equivalence lower", "equivalence upper"), t.test(a, b, conf.level = .9)$conf.int)
  put(set, "non-inferiority p", lo)
}
s <- sleep; data_of("sleep", paste0("drug", s$group), s$extra)
two("sleep", s$extra[s$group == 1], s$extra[s$group == 2], 1, TRUE)
g <- ToothGrowth[ToothGrowth$dose == 1, ]; data_of("toothgrowth", g$supp, g$len)
two("toothgrowth", g$len[g$supp == "OJ"], g$len[g$supp == "VC"], 3, TRUE)
p <- PlantGrowth[PlantGrowth$group != "trt1", ]; data_of("plantgrowth", p$group, p$weight)
two("plantgrowth", p$weight[p$group == "trt2"], p$weight[p$group == "ctrl"], 1, FALSE)

write.csv(data.frame(arm = anorexia$Treat, before = anorexia$Prewt, after = anorexia$Postwt), "anorexia.csv", row.names = FALSE, quote = FALSE)
adjusted <- function(set, arms) {
  x <- anorexia[anorexia$Treat %in% arms, ]; x$Treat <- factor(x$Treat, levels = arms)
  f <- lm(Postwt ~ Treat + Prewt, x); put(set, "slope", coef(f)["Prewt"]); put(set, "slope se", summary(f)$coefficients["Prewt", 2])
  put(set, "residual sd", summary(f)$sigma)
  put(set, paste("mean", arms), predict(f, data.frame(Treat = arms, Prewt = mean(x$Prewt))))
  put(set, paste("mean se", arms), predict(f, data.frame(Treat = arms, Prewt = mean(x$Prewt)), se.fit = TRUE)$se.fit)
  ps <- c(); names <- c()
  for (i in seq_along(arms)[-1]) for (j in seq_len(i - 1)) {
    x$Treat <- relevel(x$Treat, arms[j]); h <- lm(Postwt ~ Treat + Prewt, x); term <- paste0("Treat", arms[i]); pair <- paste(arms[i], "minus", arms[j])
    put(set, paste(pair, "estimate"), coef(h)[term]); put(set, paste(pair, c("lower", "upper")), confint(h)[term, ]); put(set, paste(pair, "p"), summary(h)$coefficients[term, 4])
    ps <- c(ps, summary(h)$coefficients[term, 4]); names <- c(names, pair) }
  put(set, paste(names, "holm"), p.adjust(ps, "holm")); put(set, paste(names, "hochberg"), p.adjust(ps, "hochberg"))
  a <- anova(lm(Postwt ~ Prewt, x), f); put(set, "group F", a$F[2]); put(set, "group p", a$"Pr(>F)"[2])
  a <- anova(f, lm(Postwt ~ Treat * Prewt, x)); put(set, "parallel F", a$F[2]); put(set, "parallel p", a$"Pr(>F)"[2])
}
adjusted("anorexia two", c("Cont", "CBT"))
adjusted("anorexia three", c("Cont", "CBT", "FT"))
q <- c(.01, .04, .03, .005, .04, .2)
put("p", paste("p", 1:6), q); put("p", paste("holm", 1:6), p.adjust(q, "holm")); put("p", paste("hochberg", 1:6), p.adjust(q, "hochberg"))
rows$value <- sprintf("%.17g", rows$value)
write.csv(rows, "expected.csv", row.names = FALSE, quote = FALSE)

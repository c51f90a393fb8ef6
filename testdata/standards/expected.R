# Expected results for analysis/standard, by base R (qt with ncp, lm, glm, uniroot, integrate) and minpack.lm.
# Run in this folder:  Rscript expected.R
# Writes expected.csv: name,value with 17 digits. Data: README.md.
out <- list(); put <- function(name, v) for (i in seq_along(v)) out[[length(out) + 1]] <<- c(if (length(v) > 1) sprintf("%s.%d", name, i) else name, sprintf("%.17g", v[i]))

# experts: mean + k SD on the lenient side; interval of a normal quantile through the noncentral t
ex <- read.csv("expert_benchmark.csv")
trim <- function(x, f) { g <- floor(f * length(x)); sort(x)[(g + 1):(length(x) - g)] }
keep <- list(all = identity, trim10 = function(x) trim(x, .1), trim20 = function(x) trim(x, .2),
  sd2 = function(x) x[abs(x - mean(x)) <= 2 * sd(x)], mad3.5 = function(x) x[abs(x - median(x)) <= 3.5 * mad(x)])
# qt with ncp is good to about 1e-8 only; polish its root by integrating the distribution function
nct <- function(p, df, nc) { if (nc == 0) return(qt(p, df))
  f <- function(q) integrate(function(w) dchisq(df * w^2, df) * 2 * df * w * pnorm(q * w - nc), 0, 1 + 12 / sqrt(2 * df), rel.tol = 1e-13, subdivisions = 5000)$value - p
  q <- suppressWarnings(qt(p, df, nc)); uniroot(f, q + c(-.01, .01), extendInt = "upX", tol = 1e-13)$root }
for (m in c("time_s", "score")) for (k in names(keep)) for (sds in 0:2) { x <- keep[[k]](ex[[m]]); n <- length(x); s <- if (m == "time_s") 1 else -1; nm <- sprintf("expert/%s/%s/%d", m, k, sds)
  put(paste0(nm, "/n"), n); put(paste0(nm, "/cut"), mean(x) + s * sds * sd(x)); put(paste0(nm, "/se"), sd(x) * sqrt(1 / n + sds^2 / (2 * (n - 1))))
  put(paste0(nm, "/interval"), mean(x) + sd(x) / sqrt(n) * c(nct(.025, n - 1, s * sds * sqrt(n)), nct(.975, n - 1, s * sds * sqrt(n)))) }
for (p in c(.25, .5, .75)) put(sprintf("expert/percentile/%g", p), quantile(ex$time_s, p))

# contrasting groups: crossings as roots of the difference of two densities
cg <- read.csv("contrasting_groups.csv"); a <- cg$score[cg$competent == 0]; b <- cg$score[cg$competent == 1]
root <- function(wa, wb, lo, hi) uniroot(function(x) log(wa) + dnorm(x, mean(a), sd(a), log = TRUE) - log(wb) - dnorm(x, mean(b), sd(b), log = TRUE), c(lo, hi), tol = 1e-14)$root
cut <- root(1, 1, mean(a), mean(b))
put("contrast/normal", cut); put("contrast/other", root(1, 1, mean(b), mean(b) + 60)); put("contrast/weighted", root(length(a), length(b), mean(a), mean(b)))
put("contrast/theoretical", c(pnorm(cut, mean(a), sd(a), lower.tail = FALSE), pnorm(cut, mean(b), sd(b)))); put("contrast/observed", c(mean(a >= cut), mean(b < cut)))
g <- glm(competent ~ score, binomial, cg, control = list(epsilon = 1e-15, maxit = 100)); V <- vcov(g); co <- unname(coef(g)); d <- c(-1 / co[2], co[1] / co[2]^2)
put("contrast/logistic", c(co, sqrt(diag(V)), V[1, 2], as.numeric(logLik(g)), -co[1] / co[2], sqrt(drop(t(d) %*% V %*% d)), (qlogis(.8) - co[1]) / co[2]))
J <- sapply(sort(unique(cg$score)), function(x) mean(b >= x) + mean(a < x) - 1); put("contrast/youden", c(max(J), sort(unique(cg$score))[which.max(round(J, 12))]))
# delta-method error of the crossing, from a numerical gradient in the four summaries
cross <- function(q) uniroot(function(x) dnorm(x, q[1], q[2], log = TRUE) - dnorm(x, q[3], q[4], log = TRUE), c(q[1], q[3]), tol = 1e-15)$root
q <- c(mean(a), sd(a), mean(b), sd(b)); gr <- sapply(1:4, function(i) { e <- replace(rep(0, 4), i, 1e-4); (cross(q + e) - cross(q - e)) / 2e-4 })
put("contrast/normal-se", sqrt(sum(gr^2 * c(q[2]^2 / length(a), q[2]^2 / (2 * (length(a) - 1)), q[4]^2 / length(b), q[4]^2 / (2 * (length(b) - 1))))))

# borderline regression at rating 2, and the borderline group
br <- read.csv("borderline_regression.csv"); f <- lm(checklist ~ global_rating, br); p <- predict(f, data.frame(global_rating = 2), se.fit = TRUE, interval = "confidence")
put("borderline/line", c(unname(coef(f)), summary(f)$r.squared, summary(f)$sigma, p$fit[1], p$se.fit, f$df.residual, p$fit[2:3]))
set.seed(1); bs <- replicate(50000, { i <- sample(nrow(br), replace = TRUE); m <- coef(.lm.fit(cbind(1, br$global_rating[i]), br$checklist[i])); m[1] + 2 * m[2] })
put("borderline/bootstrap", c(sd(bs), quantile(bs, c(.025, .975)))); h <- br$checklist[br$global_rating == 2]; put("borderline/group", c(length(h), mean(h), sd(h) / sqrt(length(h)), median(h)))

# Angoff: components from the two-way analysis of variance
an <- as.matrix(read.csv("angoff.csv")[, -1]); nj <- nrow(an); ni <- ncol(an); tot <- rowSums(an)
av <- summary(aov(v ~ judge + item, data.frame(v = c(an), judge = factor(row(an)), item = factor(col(an)))))[[1]][["Mean Sq"]]
vj <- max((av[1] - av[3]) / ni, 0); vi <- max((av[2] - av[3]) / nj, 0)
put("angoff/cut", c(mean(tot), sd(tot) / sqrt(nj), t.test(tot)$conf.int)); put("angoff/percent", 100 * mean(tot) / ni); put("angoff/total-sd", sd(tot)); put("angoff/total-median", median(tot))
put("angoff/components", c(vj, vi, av[3])); put("angoff/se-items-random", ni * sqrt(vj / nj + vi / ni + av[3] / (ni * nj))); put("angoff/item-means", colMeans(an)); put("angoff/item-sds", apply(an, 2, sd)); put("angoff/generalizability", vi / (vi + av[3] / nj))

# Hofstee: percent strictly below at whole scores, straight between
s <- read.csv("hofstee_scores.csv")$score; j <- colMeans(read.csv("hofstee_judges.csv")[, -1]); F <- approxfun(0:40, sapply(0:40, function(x) 100 * mean(s < x)))
line <- function(x) j["max_fail"] + (j["min_fail"] - j["max_fail"]) * (x - j["min_cut"]) / (j["max_cut"] - j["min_cut"])
x <- uniroot(function(x) F(x) - line(x), c(j["min_cut"], j["max_cut"]), tol = 1e-14)$root
put("hofstee/cut", x); put("hofstee/fail", c(line(x), 100 * mean(s < x))); w <- 20:27; put("hofstee/first-whole", w[which(F(w) >= line(w))[1]])

# Livingston and Lewis with two beta parameters, hofstee scores as a test of 0 to 40 with reliability 0.8, standard 23
m <- mean(s) / 40; v <- var(s) / 1600; r <- .8; n <- (m * (1 - m) - r * v) / (v * (1 - r)); size <- m * (1 - m) / (r * v) - 1; al <- m * size; be <- (1 - m) * size; c0 <- 23 / 40; from <- 22.5 / 40 # scores are whole
# binomial of n not whole, from halfway between the possible scores next to the standard
P <- function(t) pbeta(t, n * from + .5, n * (1 - from) + .5); I <- function(f, lo, hi) integrate(function(t) f(t) * dbeta(t, al, be), lo, hi, rel.tol = 1e-12, subdivisions = 2000)$value
fp <- I(P, 0, c0); ff <- I(function(t) 1 - P(t), c0, 1); cons <- I(function(t) P(t)^2 + (1 - P(t))^2, 0, c0) + I(function(t) P(t)^2 + (1 - P(t))^2, c0, 1); ps <- I(P, 0, c0) + I(P, c0, 1)
put("classify", c(n, 1 - fp - ff, fp, ff, cons, (cons - ps^2 - (1 - ps)^2) / (1 - ps^2 - (1 - ps)^2), ps, al, be))
# The same with four parameters: 400 simulated scores out of 60 (30 items of 2), true scores between 0.3 and 0.95
if (!file.exists("classification_scores.csv")) { set.seed(7); write.csv(data.frame(score = 2 * rbinom(400, 30, .3 + .65 * rbeta(400, 2, 1.5))), "classification_scores.csv", row.names = FALSE) }
s <- read.csv("classification_scores.csv")$score / 60; m <- mean(s); v <- var(s); r <- .82; n <- (m * (1 - m) - r * v) / (v * (1 - r))
y <- n * (m + (s - m) * sqrt(length(s) / (length(s) - 1))) # so that its moments about the mean, with 1/n, have the variance with 1/(n - 1)
tau <- c(mean(y) / n, mean(y * (y - 1)) / (n * (n - 1)), mean(y * (y - 1) * (y - 2)) / (n * (n - 1) * (n - 2)), mean(y * (y - 1) * (y - 2) * (y - 3)) / (n * (n - 1) * (n - 2) * (n - 3)))
betam <- function(q, k) prod((q[1] + 0:(k - 1)) / (q[1] + q[2] + 0:(k - 1))) # raw moments of a beta distribution
raw <- function(q, k) sum(choose(k, 0:k) * q[3]^(k - 0:k) * (q[4] - q[3])^(0:k) * sapply(0:k, function(j) if (j) betam(q, j) else 1))
q <- minpack.lm::nls.lm(c(2, 1.5, .3, .95), fn = function(q) sapply(1:4, function(k) (raw(q, k) - tau[k]) * 1e4), control = minpack.lm::nls.lm.control(ftol = 1e-15, ptol = 1e-15, maxiter = 1000))$par
c0 <- 36 / 60; from <- 35 / 60 # scores are even
I <- function(f, lo, hi) integrate(function(t) f(t) * dbeta((t - q[3]) / (q[4] - q[3]), q[1], q[2]) / (q[4] - q[3]), lo, hi, rel.tol = 1e-11, subdivisions = 2000)$value
fp <- I(P, q[3], c0); ff <- I(function(t) 1 - P(t), c0, q[4]); cons <- I(function(t) P(t)^2 + (1 - P(t))^2, q[3], c0) + I(function(t) P(t)^2 + (1 - P(t))^2, c0, q[4]); ps <- I(P, q[3], c0) + I(P, c0, q[4])
put("classify4", c(n, 1 - fp - ff, fp, ff, cons, (cons - ps^2 - (1 - ps)^2) / (1 - ps^2 - (1 - ps)^2), ps, mean(s >= c0), q))
writeLines(c("name,value", vapply(out, paste, "", collapse = ",")), "expected.csv"); cat(length(out), "numbers; R", as.character(getRversion()), "\n")

# Public growth data for the cohort fit, and two with straight lines, in R 4.2.2
# (nlme 3.1-162, lme4 1.1-31): writes public_*.csv and prints what
# analysis/cohort/public_test.go compares with.
#
# Curves in which one parameter differs between groups, and enters the mean
# linearly, have a closed normal likelihood: exact maximum likelihood by optim,
# polished until two starts agree. nlme is printed beside it: it alternates
# linearised steps and does not maximise the same function exactly.
suppressMessages({library(nlme); library(lme4)})
options(digits = 12)

# exact: y ~ N(f, s2 I + t2 z z'), with f and z functions of the parameters.
exact <- function(d, group, y, parts, start) {
  g <- split(seq_len(nrow(d)), as.character(group))
  nll <- function(th) {
    p <- parts(th); k <- length(th); t2 <- exp(2*th[k-1]); s2 <- exp(2*th[k])
    if (any(!is.finite(p$f), !is.finite(p$z))) return(1e10)
    sum(vapply(g, function(i) { r <- y[i] - p$f[i]; z <- p$z[i]; q <- sum(z^2); n <- length(i); den <- s2 + t2*q
      0.5*(n*log(2*pi) + (n-1)*log(s2) + log(den) + (sum(r^2) - t2*sum(z*r)^2/den)/s2) }, 0))
  }
  polish <- function(th) { for (k in 1:40) {
    o <- optim(th, nll, method = if (k %% 2) "Nelder-Mead" else "BFGS", control = list(parscale = pmax(abs(th), 0.1), reltol = 1e-16, maxit = 20000))
    th <- o$par }; o }
  a <- polish(start); b <- polish(start*1.03 + 0.01)
  stopifnot(abs(a$value - b$value) < 1e-7)
  o <- if (a$value < b$value) a else b
  V <- solve(optimHess(o$par, nll, control = list(parscale = pmax(abs(o$par), 0.1), ndeps = rep(1e-4, length(o$par)))))
  list(par = o$par, se = sqrt(diag(V)), loglik = -o$value)
}
show <- function(name, e, k) { cat("\n==", name, "\n"); n <- length(e$par)
  cat("fixed", format(e$par[seq_len(n-2)], digits = 12), "\nse   ", format(e$se[seq_len(n-2)], digits = 8),
      "\nsd", format(exp(e$par[n-1]), digits = 10), "residual", format(exp(e$par[n]), digits = 10), "loglik", format(e$loglik, digits = 13), "\n") }
nl <- function(m) { cat("nlme fixed", format(fixef(m), digits = 8), "loglik", format(as.numeric(logLik(m)), digits = 10), "\n"); print(VarCorr(m)) }

# Logistic growth from 0 to a random final size: f = (A + u)/(1 + exp(-(x - m)/s)),
# in tyro's words start 0, plateau A, midpoint m, rate 1/s on the log scale.
logis <- function(x, arms = NULL) function(th) { k <- if (is.null(arms)) 0 else ncol(arms)
  A <- th[1] + if (k) arms %*% th[1+seq_len(k)] else 0; z <- 1/(1 + exp(-exp(th[k+3])*(x - th[k+2]))); list(f = as.vector(A)*z, z = z) }
# Exponential from a common level R at 0 to a random plateau: f = A + u + (R - A - u) exp(-r x).
asymp <- function(x, arms = NULL) function(th) { k <- if (is.null(arms)) 0 else ncol(arms)
  A <- th[1] + if (k) arms %*% th[1+seq_len(k)] else 0; e <- exp(-exp(th[k+3])*x); list(f = as.vector(A)*(1-e) + th[k+2]*e, z = 1-e) }
dummies <- function(f) { f <- factor(f, levels = unique(as.character(f))); model.matrix(~f)[, -1, drop = FALSE] }

# ChickWeight: weight of chicks on four diets, Crowder and Hand (1990).
d <- as.data.frame(datasets::ChickWeight); d$Chick <- as.character(d$Chick); d <- d[order(as.integer(d$Chick), d$Time), ]
write.csv(data.frame(chick = d$Chick, diet = d$Diet, day = d$Time, weight = d$weight), "public_chicks.csv", row.names = FALSE, quote = FALSE)
show("ChickWeight", exact(d, d$Chick, d$weight, logis(d$Time, dummies(d$Diet)), c(250, 60, 150, 90, 16, log(1/8), log(60), log(13))), 1)
nl(nlme(weight ~ Asym/(1 + exp(-(Time - xmid)/scal)), d, fixed = list(Asym ~ Diet, xmid ~ 1, scal ~ 1), random = Asym ~ 1 | Chick, start = c(250, 60, 150, 90, 16, 8), method = "ML", control = list(maxIter = 500, tolerance = 1e-9)))

# CO2: uptake of grasses of two origins, chilled or not, Potvin, Lechowicz and Tardif (1990).
d <- as.data.frame(datasets::CO2); d$Plant <- as.character(d$Plant); d$arm <- paste(d$Type, d$Treatment)
write.csv(data.frame(plant = d$Plant, arm = d$arm, conc = d$conc, uptake = d$uptake), "public_co2.csv", row.names = FALSE, quote = FALSE)
show("CO2", exact(d, d$Plant, d$uptake, asymp(d$conc, dummies(d$arm)), c(38, -5, -10, -20, -25, log(0.01), log(2), log(2))), 1)
nl(nlme(uptake ~ Asym + (R0 - Asym)*exp(-exp(lrc)*conc), d, fixed = list(Asym ~ factor(arm, levels = unique(arm)), R0 ~ 1, lrc ~ 1), random = Asym ~ 1 | Plant, start = c(38, -5, -10, -20, -25, log(0.01)), method = "ML", control = list(maxIter = 500, tolerance = 1e-9)))

# Soybean: leaf weight of two varieties in three years, Davidian and Giltinan (1995).
d <- as.data.frame(nlme::Soybean); d$Plot <- as.character(d$Plot)
write.csv(data.frame(plot = d$Plot, variety = d$Variety, year = d$Year, day = d$Time, weight = d$weight), "public_soybean.csv", row.names = FALSE, quote = FALSE)
show("Soybean", exact(d, d$Plot, d$weight, logis(d$Time, dummies(d$Variety)), c(19, 3, 55, log(1/8), log(4), log(1.4))), 1)
nl(nlme(weight ~ Asym/(1 + exp(-(Time - xmid)/scal)), d, fixed = list(Asym ~ factor(Variety, levels = unique(as.character(Variety))), xmid ~ 1, scal ~ 1), random = Asym ~ 1 | Plot, start = c(19, 3, 55, 8), method = "ML", control = list(maxIter = 500, tolerance = 1e-9)))

# The same with the year, centred at its mean over plots, on the final size.
p <- unique(d[c("Plot", "Year", "Variety")]); y <- as.numeric(as.character(d$Year)) - mean(as.numeric(as.character(p$Year)))
show("Soybean, year and variety", exact(d, d$Plot, d$weight, logis(d$Time, cbind(y, dummies(d$Variety))), c(17, 0, 4, 55, log(1/8), log(3), log(1.3))), 1)

# DNase: optical density of an assay by log concentration, Davidian and Giltinan (1995).
d <- as.data.frame(datasets::DNase); d$Run <- as.character(d$Run); d$x <- log(d$conc)
write.csv(data.frame(run = d$Run, log_conc = format(d$x, digits = 17, trim = TRUE), density = d$density), "public_dnase.csv", row.names = FALSE, quote = FALSE)
show("DNase", exact(d, d$Run, d$density, logis(d$x), c(2.4, 1.5, log(1), log(0.1), log(0.05))), 1)
nl(nlme(density ~ Asym/(1 + exp(-(x - xmid)/scal)), d, fixed = Asym + xmid + scal ~ 1, random = Asym ~ 1 | Run, start = c(2.4, 1.5, 1), method = "ML", control = list(maxIter = 500, tolerance = 1e-9)))

# Dialyzer: ultrafiltration rate by pressure at two blood flows, Vonesh and Carter (1992).
d <- as.data.frame(nlme::Dialyzer); d$Subject <- as.character(d$Subject)
write.csv(data.frame(subject = d$Subject, flow = d$QB, pressure = d$pressure, rate = d$rate), "public_dialyzer.csv", row.names = FALSE, quote = FALSE)
show("Dialyzer", exact(d, d$Subject, d$rate, asymp(d$pressure, dummies(d$QB)), c(45, 17, -20, log(0.8), log(3), log(3))), 1)
nl(nlme(rate ~ Asym + (R0 - Asym)*exp(-exp(lrc)*pressure), d, fixed = list(Asym ~ factor(QB, levels = unique(as.character(QB))), R0 ~ 1, lrc ~ 1), random = Asym ~ 1 | Subject, start = c(45, 17, -20, log(0.8)), method = "ML", control = list(maxIter = 500, tolerance = 1e-9)))

# DNase with two parameters differing (independent): no closed likelihood;
# lme4's Laplace approximation, and nlme.
cat("\n== DNase, two parameters differ, Laplace\n")
d <- as.data.frame(datasets::DNase); d$Run <- factor(as.character(d$Run)); d$x <- log(d$conc)
lx <- deriv(~ Asym/(1 + exp(-exp(lr)*(x - xmid))), c("Asym", "xmid", "lr"), function(x, Asym, xmid, lr) NULL)
m <- nlmer(density ~ lx(x, Asym, xmid, lr) ~ (0 + Asym | Run) + (0 + xmid | Run), d, start = c(Asym = 2.4, xmid = 1.5, lr = 0), control = nlmerControl(tolPwrss = 1e-12))
print(fixef(m)); print(VarCorr(m), digits = 10); print(logLik(m))
nl(nlme(density ~ Asym/(1 + exp(-exp(lr)*(x - xmid))), d, fixed = Asym + xmid + lr ~ 1, random = list(Run = pdDiag(Asym + xmid ~ 1)), start = c(2.4, 1.5, 0), method = "ML", control = list(maxIter = 500, tolerance = 1e-9)))

# sleepstudy: reaction time by day without sleep, Belenky and others (2003), a
# straight line in the log of the day, and linear mixed model.
d <- lme4::sleepstudy; d$day <- d$Days + 1
write.csv(data.frame(subject = d$Subject, day = d$day, reaction = d$Reaction), "public_sleep.csv", row.names = FALSE, quote = FALSE)
m <- lmer(Reaction ~ log(day) + (log(day) | Subject), d, REML = FALSE, control = lmerControl(optCtrl = list(xtol_abs = 1e-12, ftol_abs = 1e-12)))
cat("\n== sleepstudy\n"); print(summary(m)$coef); print(VarCorr(m), digits = 10); print(logLik(m), digits = 13)

# Passes of 20 simulated trainees (pass_fail.csv), logistic in the log of the
# attempt with a start that differs: lme4's Laplace and 25-point quadrature.
d <- read.csv("pass_fail.csv"); d$x <- log(d$n)
for (q in c(1, 25)) { m <- glmer(y ~ x + (1 | who), d, family = binomial, nAGQ = q, control = glmerControl(tolPwrss = 1e-12, optCtrl = list(maxfun = 1e6)))
  cat("\n== passes,", q, "points\n"); print(summary(m)$coef); print(VarCorr(m), digits = 10); print(logLik(m), digits = 13) }

# sleepstudy without one subject at a time: fixed effects.
d <- lme4::sleepstudy; d$day <- d$Days + 1
for (s in unique(as.character(d$Subject))[1:6]) {
  m <- lmer(Reaction ~ log(day) + (log(day) | Subject), d[d$Subject != s, ], REML = FALSE, control = lmerControl(optCtrl = list(xtol_abs = 1e-12, ftol_abs = 1e-12)))
  cat("without", s, format(fixef(m), digits = 10), "\n") }

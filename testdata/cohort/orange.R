# Other public growth data for the cohort fit, exact maximum likelihood in
# R 4.2.2: writes orange.csv and prints what the test compares with.
# Orange trees: Draper and Smith (1981), datasets::Orange; logistic curve in age
# with a random final size, linear in it, so that the likelihood is closed.
d <- as.data.frame(datasets::Orange); d$Tree <- as.character(d$Tree)
write.csv(d, "orange.csv", row.names = FALSE, quote = FALSE)
f <- function(b, x) 1/(1 + exp(-(x - b[2])/b[3]))
g <- split(seq_len(nrow(d)), d$Tree)
nll <- function(th) { b <- c(th[1], th[2], exp(th[3])); t2 <- exp(2*th[4]); s2 <- exp(2*th[5]); h <- f(b, d$age)
  sum(vapply(g, function(i) { r <- d$circumference[i] - b[1]*h[i]; z <- h[i]; q <- sum(z^2); n <- length(i); den <- s2 + t2*q
    0.5*(n*log(2*pi) + (n-1)*log(s2) + log(den) + (sum(r^2) - t2*sum(z*r)^2/den)/s2) }, 0)) }
th <- c(192, 727, log(350), log(30), log(8))
for (k in 1:20) th <- optim(th, nll, method = if (k %% 2) "Nelder-Mead" else "BFGS", control = list(parscale = c(100, 500, 1, 1, 1), reltol = 1e-16, maxit = 20000))$par
V <- solve(optimHess(th, nll, control = list(parscale = c(100, 500, 1, 1, 1), ndeps = rep(1e-4, 5))))
print(c(asym = th[1], mid = th[2], log_rate = -th[3], sd = exp(th[4]), residual = exp(th[5]), loglik = -nll(th)), digits = 12)
print(sqrt(diag(V)), digits = 8)

# Makes counts.csv (simulated error counts) and prints what R's glm and
# MASS::glm.nb find in it. Run with R 4.2.2, MASS 7.3-58.2.
set.seed(20260214)
attempt <- rep(1:40, 2)
errors <- rnbinom(80, size = 2, mu = exp(1.6 - 0.5 * log(attempt)))
d <- data.frame(attempt, errors)
write.csv(d, "counts.csv", row.names = FALSE, quote = FALSE)
p <- glm(errors ~ log(attempt), poisson, d, control = glm.control(epsilon = 1e-14))
n <- MASS::glm.nb(errors ~ log(attempt), d, control = glm.control(epsilon = 1e-12, maxit = 200))
cat(sprintf("%.12g\n", c(coef(p), sqrt(diag(vcov(p)))[2], logLik(p), coef(n), sqrt(diag(vcov(n)))[2], logLik(n), 1 / n$theta)))

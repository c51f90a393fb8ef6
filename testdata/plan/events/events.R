# Errors of invented trainees of two arms, and the Poisson regression on the logarithm of the
# attempt's number by R's glm.
set.seed(20261129)
rows <- do.call(rbind, lapply(1:24, function(i) {
  arm <- if (i <= 12) "usual" else "new"
  n <- seq_len(8 + i %% 5)
  own <- exp(0.6 * rnorm(1) - 0.18)
  data.frame(trainee = i, arm = arm, attempt = n, errors = rpois(length(n), (if (arm == "new") 0.8 else 1.6) * own * exp(0.8 * rnorm(length(n)) - 0.32) * n^-0.4))
}))
write.csv(rows, "errors.csv", row.names = FALSE, quote = FALSE)
rows$arm <- factor(rows$arm, c("usual", "new"))
f <- glm(errors ~ arm + log(attempt), family = poisson, data = rows, control = glm.control(epsilon = 1e-14, maxit = 100))
b <- coef(f)
m <- fitted(f)
d <- rows$errors - m
sums <- function(v) tapply(v, rows$trainee, sum)
trainee <- sum(sums(d)^2 - sums(d^2)) / sum(sums(m)^2 - sums(m^2))
attempt <- (1 + sum(d^2 - m) / sum(m^2)) / (1 + trainee) - 1
write.csv(data.frame(name = c("usual", "new", "fall", "trainee_sd", "attempt_sd"),
  value = sprintf("%.10f", c(exp(b[1]), exp(b[1] + b[2]), -b[3], sqrt(log1p(max(0, trainee))), sqrt(log1p(max(0, attempt)))))),
  "expected.csv", row.names = FALSE, quote = FALSE)

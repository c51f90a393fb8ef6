# Severities of four raters with two ratings missing: least squares with an
# effect for every subject and rater, raters summing to 0. Run: Rscript severity.R
x <- rbind(c(9, 2, 5, 8), c(6, 1, 3, 2), c(8, 4, 6, 8), c(7, 1, 2, 6), c(10, 5, 6, 9), c(6, 2, 4, 7))
x[1, 2] <- NA; x[4, 4] <- NA
d <- data.frame(score = as.vector(x), subject = factor(rep(1:6, 4)), rater = factor(rep(1:4, each = 6)))
m <- lm(score ~ subject + rater, d, contrasts = list(rater = contr.sum))
k <- grep("^rater", names(coef(m)))
a <- rbind(diag(3), -1)
cat(sprintf("%.10g %.10g\n", -(a %*% coef(m)[k]), sqrt(diag(a %*% vcov(m)[k, k] %*% t(a)))))

# A bare fit of the exponential cohort with nlme: all correlations, starts given.
suppressMessages(library(nlme))
d <- read.csv(commandArgs(TRUE)[1]); d$y <- log(d$seconds); d$trainee <- factor(d$trainee)
curve <- deriv(~log(exp(a) + exp(g) * exp(-exp(r) * (attempt - 1))), c("a", "g", "r"), function(attempt, a, g, r) {})
nlme(y ~ curve(attempt, a, g, r), d, fixed = a + g + r ~ 1, random = a + g + r ~ 1, groups = ~trainee,
     start = c(3.8, 4.8, -2), method = "ML")

# So many refits of one trainee's residual bootstrap, one family, with minpack.lm.
suppressMessages(library(minpack.lm))
args <- commandArgs(TRUE)
d <- read.csv(args[1]); d$y <- log(d$seconds); set.seed(1)
f <- nlsLM(y ~ log(exp(a) + exp(g) * exp(-exp(r) * (attempt - 1))), d, start = list(a = 3.8, g = 4.8, r = -2))
m <- fitted(f); e <- resid(f); s <- as.list(coef(f))
for (i in seq_len(as.integer(args[2]))) {
  d$y <- m + sample(e, replace = TRUE)
  try(nlsLM(y ~ log(exp(a) + exp(g) * exp(-exp(r) * (attempt - 1))), d, start = s), silent = TRUE)
}

# nlme and lme4::nlmer on the cohort that the program beside this writes; both timed in one run on one core.
suppressMessages({library(nlme); library(lme4)})
d <- read.csv(commandArgs(TRUE)[1]); d$y <- log(d$seconds); d$trainee <- factor(d$trainee)
gf <- deriv(~log(exp(la) + exp(lg)*exp(-exp(lk)*(attempt-1))), c("la","lg","lk"), function(attempt, la, lg, lk) {})
t0 <- proc.time()
m <- nlme(y ~ gf(attempt, la, lg, lk), d, fixed = la+lg+lk~1, random = pdDiag(la+lg+lk~1), groups=~trainee, start=c(3.8,4.8,-1.5), method="ML")
t1 <- proc.time(); print((t1-t0)[1:3]); print(c(as.numeric(logLik(m)), fixef(m)))
m2 <- try(nlmer(y ~ gf(attempt, la, lg, lk) ~ (la|trainee)+(lg|trainee)+(lk|trainee), d, start=c(la=3.8,lg=4.8,lk=-1.5)))
t2 <- proc.time(); print((t2-t1)[1:3]); if(!inherits(m2,"try-error")) print(c(as.numeric(logLik(m2)), fixef(m2)))

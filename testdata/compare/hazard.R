# Ratios of hazards by partial likelihood, with Efron's ties. R 4.2.2, survival 3.5-3:
# Rscript hazard.R
#
# Interval and p are of the likelihood ratio over how much more the estimate varies between
# trainees than the likelihood says: of coxph's own contributions of trainees (residuals of
# type dfbeta, of which robust=TRUE adds up the squares), about each arm's mean, with n - 1;
# judged by t with Welch's degrees of freedom.
library(survival)
show <- function(v) {
  f <- coxph(Surv(time,status)~x, v, robust=TRUE)
  cat("log ratio", format(coef(f), digits=12), " robust se", format(sqrt(f$var[1]), digits=12),
      " likelihood's", format(sqrt(f$naive.var[1]), digits=12), "\n")
  d <- residuals(f, type="dfbeta")
  a <- tapply(d, v$x, function(r) length(r)*var(r)); n <- table(v$x)
  df <- sum(a)^2/sum(a^2/(n-1)); more <- max(1, sum(a)/f$naive.var[1])
  cat("times", format(sum(a)/f$naive.var[1], digits=12), " df", format(df, digits=12), "\n")
  ll <- function(b) coxph(Surv(time,status)~offset(b*x), v)$loglik
  top <- f$loglik[2]; dev <- function(b) 2*(top-ll(b))/more
  g <- function(b) dev(b)-qt(.975,df)^2
  b <- coef(f)
  print(exp(c(uniroot(g,c(b-9,b),tol=1e-11)$root, b, uniroot(g,c(b,b+9),tol=1e-11)$root)), digits=12)
  print(2*pt(-sqrt(dev(0)),df), digits=12)
}
# the veterans' trial, treatment alone; whether its ratio moves with the logarithm of time
v <- data.frame(time=veteran$time, status=veteran$status, x=1*(veteran$trt==2))
show(v)
f <- coxph(Surv(time,status)~x, v)
g <- coxph(Surv(time,status)~x+tt(x), v, tt=function(x,t,...) x*log(t))
print(2*(g$loglik[2]-f$loglik[2]),digits=12)
# attempts to a rule, invented: many ties, and hazards that do not stay apart
ref <- c(5,6,6,7,8,9,9,11,12,14,17,20); arm <- c(3,3,4,4,4,5,5,6,6,13,19,20)
show(data.frame(time=c(ref,arm), status=1*(c(ref,arm)<20), x=rep(0:1,each=12)))

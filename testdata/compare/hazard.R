# Hazard ratio of the veterans' trial by partial likelihood, its limits, and whether it moves
# with the logarithm of time. R 4.2.2, survival 3.5-3: Rscript hazard.R
library(survival)
v <- veteran
f <- coxph(Surv(time,status)~I(trt==2), v)
print(summary(f)$coef, digits=12); print(f$loglik, digits=14)
ll <- function(b) coxph(Surv(time,status)~offset(b*(trt==2)), v)$loglik
top <- f$loglik[2]; d <- function(b) 2*(top-ll(b))-qchisq(.95,1)
print(exp(c(uniroot(d,c(-2,coef(f)),tol=1e-10)$root, uniroot(d,c(coef(f),2),tol=1e-10)$root)),digits=12)
print(1-pchisq(2*(top-ll(0)),1),digits=12)
g <- coxph(Surv(time,status)~I(trt==2)+tt(1*(trt==2)), v, tt=function(x,t,...) x*log(t))
print(2*(g$loglik[2]-top),digits=12); print(coef(g))

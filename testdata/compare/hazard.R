# Average ratios of hazards: Rscript hazard.R, in this folder. R 4.2.2, survival 3.5-3.
source("average_hazard.R")
show <- function(name, v) {
  a <- average(v)
  cat(name, ": ", paste(names(a), sapply(a, format, digits=12), collapse="  "), "\n", sep="")
}
# the veterans' trial, treatment alone; whether its ratio moves with the logarithm of time
v <- data.frame(time=veteran$time, status=veteran$status, x=1*(veteran$trt==2))
show("veterans", v)
f <- coxph(Surv(time,status)~x, v)
g <- coxph(Surv(time,status)~x+tt(x), v, tt=function(x,t,...) x*log(t))
print(2*(g$loglik[2]-f$loglik[2]),digits=12)
# attempts to a rule, invented: many ties, and hazards that do not stay apart
ref <- c(5,6,6,7,8,9,9,11,12,14,17,20); arm <- c(3,3,4,4,4,5,5,6,6,13,19,20)
until <- data.frame(time=c(ref,arm), status=1*(c(ref,arm)<20), x=rep(0:1,each=12))
show("attempts", until)
# the same, of whom some stopped before without having met the rule
until$status[c(3,9,14,21)] <- 0
show("some stopped", until)
# remission of leukaemia (Freireich et al., 1963), placebo against 6-MP
l <- read.csv("../survival/freireich_6mp.csv")
show("remission", data.frame(time=l$time, status=l$status, x=1*(l$group!="6-MP")))

# Functions that give an average ratio of hazards of two arms by weighted partial likelihood, with
# Efron's ties; hazard.R and ../survival/public/public.R use them. R 4.2.2, survival 3.5-3.
#
# Weights are the pooled survivor function over that of being followed, both just before an
# event. Everybody at risk at an event time is a row of that time's stratum with its weight,
# so that coxph's weighted partial likelihood is the sum over event times. Interval and p are
# of the likelihood ratio over how much more the estimate varies than that likelihood says:
# between trainees by coxph's own contributions (residuals of type dfbeta, weighted, summed by
# trainee), about each arm's mean, with n - 1, judged by t with Welch's degrees of freedom; or
# where that is more, as where hazards are proportional, judged by the normal distribution.
# v has columns time, status (1: the event) and x (0 and 1).
library(survival)
weights <- function(v) {
  t <- sort(unique(v$time)); s <- g <- 1; out <- NULL
  for (k in t) {
    at <- sum(v$time>=k); met <- sum(v$time==k & v$status==1); left <- sum(v$time==k & v$status==0)
    out <- rbind(out, data.frame(time=k, met=met, w=s/g))
    s <- s*(1-met/at); if (at > met) g <- g*(1-left/(at-met))
  }
  out[out$met>0,]
}
rows <- function(v) {
  v$id <- seq_len(nrow(v)); w <- weights(v)
  do.call(rbind, lapply(seq_len(nrow(w)), function(i) {
    r <- v[v$time>=w$time[i],]
    if (length(unique(r$x)) < 2) return(NULL)
    data.frame(id=r$id, x=r$x, stop=1, event=1*(r$time==w$time[i] & r$status==1), stratum=i, w=w$w[i])
  }))
}
average <- function(v) {
  r <- rows(v)
  f <- coxph(Surv(stop,event)~x+strata(stratum)+cluster(id), r, weights=w, ties="efron",
    control=coxph.control(eps=1e-12, toler.chol=1e-13, iter.max=100))
  d <- numeric(nrow(v)); c <- rowsum(residuals(f, type="dfbeta", weighted=TRUE), r$id); d[as.integer(rownames(c))] <- c
  a <- tapply(d, v$x, function(e) length(e)*var(e)); n <- table(v$x)
  e <- coxph.detail(f); w <- tapply(r$w, r$stratum, mean)
  own <- sum(w*e$imat)*f$naive.var[1]^2
  df <- if (sum(a) > own) sum(a)^2/sum(a^2/(n-1)) else Inf
  more <- max(own, sum(a))/f$naive.var[1]
  ll <- function(b) coxph(Surv(stop,event)~offset(b*x)+strata(stratum), r, weights=w, ties="efron")$loglik
  b <- unname(coef(f)); top <- ll(b); dev <- function(b) 2*(top-ll(b))/more
  g <- function(b) dev(b)-qt(.975,df)^2
  list(ratio=exp(b), lower=exp(uniroot(g,c(b-9,b),tol=1e-12)$root), upper=exp(uniroot(g,c(b,b+9),tol=1e-12)$root),
    p=2*pt(-sqrt(dev(0)),df), df=df, robust=sqrt(f$var[1]), own=sqrt(own), trainee=sqrt(sum(a)))
}

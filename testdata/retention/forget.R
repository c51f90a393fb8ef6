# Forgetting by least squares with R 4.2.2: Rscript forget.R
# Six invented trainees: level before the break, gain, days, first attempt after, by trainee
# and break. loss = -gain * (1 - kept).
d <- data.frame(
  gain = c(-40,-40,-55,-55,-48,-48,-60,-60,-35,-35,-50,-50),
  days = rep(c(1,30),6),
  loss = c(3.1,14.2,2.0,20.5,4.4,13.0,1.2,25.1,2.6,9.8,3.9,18.3))
least <- function(f) { o <- optimize(function(r) sum((d$loss + d$gain * (1 - f(r)))^2), c(0, 2), tol = 1e-12); sprintf("%.9g %.12g", o$minimum, o$objective) }
cat(least(function(r) exp(-r * d$days)), "\n", least(function(r) (1 + d$days)^(-r)), "\n")
# a loss of the first attempt: the mean of every break with its t interval
print(t.test(d$loss[d$days==30])$conf.int, digits=12); cat(mean(d$loss[d$days==30]), sd(d$loss[d$days==30])/sqrt(6), "\n")

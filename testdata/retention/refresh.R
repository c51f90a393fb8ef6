# The day to refresh and its lower end, with R 4.2.2: Rscript refresh.R
# The six invented trainees of forget.R, each now with a level of their own; smaller is better.
# The standard is 65, which 80 % of first attempts are to meet. Each trainee is left out in
# turn of the rate, of the spread and of those counted; the lower end is the last day on which the
# share's normal deviate, less that of 80 %, is more of its standard errors by the jackknife
# than the 97.5 % point of t with five degrees of freedom.
level <- c(49,51,50,52,48,50)
gain <- matrix(c(-40,-40,-55,-55,-48,-48,-60,-60,-35,-35,-50,-50), 2)
loss <- matrix(c(3.1,14.2,2.0,20.5,4.4,13.0,1.2,25.1,2.6,9.8,3.9,18.3), 2)
days <- c(1,30); n <- 6
for (kept in list(function(r, d) exp(-r*d), function(r, d) (1+d)^(-r))) {
  fit <- function(w) {
    o <- optimize(function(r) sum((loss[,w] + gain[,w]*(1 - kept(r, days)))^2), c(0, 2), tol = 1e-12)
    list(w = w, r = o$minimum, s = sqrt(o$objective/(2*length(w) - 1)))
  }
  deviate <- function(f, d) -qnorm(mean(pnorm((level[f$w] - gain[1,f$w]*(1 - kept(f$r, d)) - 65)/f$s)))
  whole <- fit(1:n); rest <- lapply(1:n, function(i) fit((1:n)[-i]))
  se <- function(d) { v <- sapply(rest, deviate, d); sqrt((n-1)/n*sum((v - mean(v))^2)) }
  above <- function(d) deviate(whole, d) - qnorm(.8)
  day <- uniroot(above, c(0, 60), tol = 1e-10)$root
  tells <- function(d) above(d) - qt(.975, n-1)*se(d)
  d <- seq(day, 0, by = -day/1000); at <- d[which(sapply(d, tells) > 0)[1]]
  lower <- if (is.na(at)) 0 else uniroot(tells, c(at, at + day/1000), tol = 1e-10)$root
  cat(sprintf("spread %.9g day %.9g lower %.9g\n", whole$s, day, lower))
}

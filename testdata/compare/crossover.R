# A crossover by linear models: 12 invented trainees, two periods. The effect is that of a
# model with trainee and period as factors, the carry-over that of the sums on the order.
# R 4.2.2: Rscript crossover.R
a <- rbind(c(52,41),c(60,50),c(47,44),c(55,43),c(62,49),c(58,51))  # reference first
b <- rbind(c(45,50),c(39,47),c(51,52),c(44,55),c(48,50),c(40,46))  # arm first
d <- data.frame(id=factor(rep(1:12,2)), period=factor(rep(1:2,each=12)), y=c(a[,1],b[,1],a[,2],b[,2]),
  arm=factor(c(rep("ref",6),rep("arm",6),rep("arm",6),rep("ref",6)),levels=c("ref","arm")))
f <- lm(y ~ id + period + arm, d)
print(coef(summary(f))[c("armarm","period2"),],digits=12); print(confint(f)[c("armarm","period2"),],digits=12)
s <- c(rowSums(a),rowSums(b)); g <- factor(rep(c("r","a"),each=6),levels=c("r","a"))
h <- lm(s~g); print(coef(summary(h)),digits=12); print(confint(h),digits=12)

# A table read into memory.
d <- read.csv(commandArgs(TRUE)[1])
stopifnot(nrow(d) == 1e6)

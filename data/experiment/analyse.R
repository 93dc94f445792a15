# An example of how the table of `peakward experiment --csv` is analysed:
#
#     peakward experiment --csv | Rscript analyse.R
#
# Prints for each taper the mean true gain with its 95 % interval, the share
# harmed and that whose claimed range holds the truth, then how many athletes a group a trial needs to tell each taper from
# the one that gains most (two-sided t test at 5 %, power 80 %). The athletes
# are invented.
#
# SPDX-License-Identifier: GPL-3.0-or-later
runs <- read.csv(file("stdin"))
runs <- runs[runs$status == "ok", ]
of <- split(runs, factor(runs$taper, unique(runs$taper)))
gain <- lapply(of, function(r) r$true_gain)
m <- sapply(gain, mean)
s <- sapply(gain, sd)
half <- 1.96 * s / sqrt(sapply(gain, length))
harmed <- sapply(of, function(r) mean(r$harm))
held <- sapply(of, function(r)
  mean(r$claimed_low <= r$true_gain & r$true_gain <= r$claimed_high))
best <- which.max(m)
size <- sapply(seq_along(m), function(i) {
  if (i == best) return(NA)
  ceiling(power.t.test(delta = abs(m[i] - m[best]),
                       sd = sqrt((s[i]^2 + s[best]^2) / 2), power = .8)$n)
})
for (i in seq_along(m))
  cat(sprintf("%s: gain %.4g +- %.4g, harmed %.0f %%, trial %s, held %.0f %%\n",
              names(m)[i], m[i], half[i], 100 * harmed[i], size[i],
              100 * held[i]))

"""How long a best fit and the family's posterior take, on the same seeded athletes
in the same run: beside SciPy's least_squares and R's nls (port) from nine starts,
which fit one kind of model and say nothing of likely others, and beside chains of
JAGS on the same family and prior.

    fit.py BENCH PICTURE [ATHLETES]

BENCH is the program made from fit.c, PICTURE a file to draw. Times are processor
time of one core: the median over athletes (of five runs each for the program, of
one run each for the references, which take long and so the first athletes only).
"Found": the share of them for whom the smallest residual sum within the bounds was
reached, to a part in a million. Effective draws of JAGS: of the shape's least
certain coordinate, by the error of its mean.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import json
import os
import resource
import subprocess
import sys
import time

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
    os.environ[name] = "1"

import numpy as np
from scipy.optimize import least_squares
from scipy.signal import lfilter

from ratios import draw, facts

sys.path.insert(0, "tests/calibrate")
import family_jags  # noqa: E402

BY_SCIPY, BY_R, BY_JAGS = 50, 5, 2  # athletes
RATIO, LONGEST = 1.1, 200.0
# p0, k1, k2, ln tau2, ln tau1/tau2
LOW = np.array([-np.inf, 0, 0, 0, np.log(RATIO)])
HIGH = np.array([np.inf, np.inf, np.inf, np.log(LONGEST / RATIO),
                 np.log(LONGEST)])
STARTS = [(tau1, tau2) for tau1 in (20, 45, 90) for tau2 in (3, 8, 15)]


def trace(load, before, tau):
    """What training has left before each day's load."""
    q = np.exp(-1 / tau)
    days = np.arange(len(load))
    return lfilter([0, q], [1, -q], load) + before * q / (1 - q) * q**days


def residuals(x, a):
    tau2 = np.exp(x[3])
    tau1 = tau2 * np.exp(x[4])
    fitness = trace(a["load"], a["before"], tau1)[a["step"]]
    fatigue = trace(a["load"], a["before"], tau2)[a["step"]]
    return x[0] + x[1] * fitness - x[2] * fatigue - a["value"]


def start_of(a, tau1, tau2):
    """Level and gains of a size that suits the tests."""
    f = trace(a["load"], a["before"], tau1)
    k1 = np.std(a["value"]) / np.std(f)
    return [np.mean(a["value"]), k1, 1.9 * k1, np.log(tau2),
            np.log(tau1 / tau2)]


def scipy_fit(a):
    began = time.process_time()
    best = np.inf
    for tau1, tau2 in STARTS:
        try:
            r = least_squares(residuals, start_of(a, tau1, tau2), args=(a,),
                              bounds=(LOW, HIGH), x_scale="jac")
        except ValueError:
            continue
        if r.x[3] + r.x[4] <= np.log(LONGEST):
            best = min(best, 2 * r.cost)
    return 1e3 * (time.process_time() - began), best


R_FIT = r"""
trace <- function(load, before, tau) {
  q <- exp(-1 / tau); n <- length(load)
  s <- c(0, stats::filter(q * load[-n], q, method = "recursive"))
  s + before * q / (1 - q) * q^(0:(n - 1))
}
lines <- readLines(file("stdin"))
for (at in seq(1, length(lines), 4)) {
  row <- lapply(lines[at:(at + 3)], function(l) as.numeric(strsplit(l, " ")[[1]]))
  before <- row[[1]][1]; load <- row[[2]]; step <- row[[3]] + 1; y <- row[[4]]
  model <- function(p0, k1, k2, b, r) {
    p0 + k1 * trace(load, before, exp(b + r))[step] -
      k2 * trace(load, before, exp(b))[step]
  }
  best <- Inf
  began <- proc.time()
  for (t1 in c(20, 45, 90)) for (t2 in c(3, 8, 15)) {
    k1 <- sd(y) / sd(trace(load, before, t1))
    m <- try(suppressWarnings(nls(y ~ model(p0, k1, k2, b, r),
      start = list(p0 = mean(y), k1 = k1, k2 = 1.9 * k1, b = log(t2),
                   r = log(t1 / t2)),
      algorithm = "port", lower = c(-Inf, 0, 0, 0, log(1.1)),
      upper = c(Inf, Inf, Inf, log(200 / 1.1), log(200)),
      control = nls.control(maxiter = 200, warnOnly = TRUE))), silent = TRUE)
    if (!inherits(m, "try-error") && sum(coef(m)[4:5]) <= log(200))
      best <- min(best, deviance(m))
  }
  spent <- proc.time() - began
  cat(1e3 * (spent[1] + spent[2]), format(best, digits = 17), "\n")
}
"""


def r_fits(athletes):
    lines = []
    for a in athletes:
        lines.append(repr(a["before"]))
        for name in ("load", "step", "value"):
            lines.append(" ".join(repr(float(v)) for v in a[name]))
    done = subprocess.run(["Rscript", "--vanilla", "-e", R_FIT],
                          input="\n".join(lines) + "\n", text=True,
                          capture_output=True, check=True)
    return [tuple(float(v) for v in line.split())
            for line in done.stdout.splitlines()]


def jags(a):
    """ms for a thousand effective draws, with warming up as part of it."""
    began = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
    moments = family_jags.moments(a, a["prior"], 2000, 500, 1)
    spent = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - began
    return 1e6 * spent / min((sd / error)**2 for _, sd, error in moments[:4])


AIM = 10  # times as fast as SciPy's best fits, fit and posterior together
MOST = 30  # ms an athlete


def print_table(athletes, rows, both, chains):
    least = [min(found[i][1] for _, found in rows if i < len(found))
             for i in range(len(athletes))]
    print(facts())
    print(f"{len(athletes)} athletes, two years, 20 tests; processor time of "
          "one core, medians\n")
    print(f"{'':38}{'ms':>11}{'ratio':>9}{'found':>9}")
    for name, found in rows:
        ms = np.median([t for t, _ in found])
        hit = sum(rss <= low * (1 + 1e-6) for (_, rss), low
                  in zip(found, least))
        print(f"{name:38}{ms:11.2f}{ms / both:9.1f}"
              f"{100 * hit / len(found):8.0f}%")
    posterior = np.median([a["posterior_ms"] for a in athletes])
    thousand = np.median([1e3 * a["posterior_ms"] / a["ess"] for a in athletes])
    worst = max(a["fit_ms"] + a["posterior_ms"] for a in athletes)
    for name, ms in (("posterior of the family", posterior),
                     ("best fit and posterior", both),
                     ("posterior, 1,000 effective draws", thousand),
                     ("JAGS, 1,000 effective draws", chains)):
        print(f"{name:38}{ms:11.2f}{ms / both:9.1f}")
    print(f"\nThe slowest athlete: {worst:.1f} ms; effective draws at least "
          f"{min(a['ess'] for a in athletes):.0f}")
    own = rows[0][1]
    worse = sum(rss > low * (1 + 1e-6) for (_, rss), low in zip(own, least))
    if worse:
        print(f"Missed: a residual sum above another's for {worse} athletes")
    return thousand


def main():
    bench, picture = sys.argv[1:3]
    done = subprocess.run([bench] + sys.argv[3:], stdout=subprocess.PIPE,
                          check=True)
    athletes = json.loads(done.stdout)
    for a in athletes:
        for name in ("load", "value"):
            a[name] = np.array(a[name])
        a["step"] = np.array(a["step"], dtype=int)
    rows = [("best fit", [(a["fit_ms"], a["rss"]) for a in athletes]),
            ("SciPy least_squares, 9 starts",
             [scipy_fit(a) for a in athletes[:BY_SCIPY]]),
            ("R nls (port), 9 starts", r_fits(athletes[:BY_R]))]
    both = np.median([a["fit_ms"] + a["posterior_ms"] for a in athletes])
    chains = np.median([jags(a) for a in athletes[:BY_JAGS]])
    thousand = print_table(athletes, rows, both, chains)
    other = [np.median([t for t, _ in found]) for _, found in rows]
    draw([("best fit", rows[1][0], other[0] / other[1], None),
          ("best fit and posterior", rows[1][0], both / other[1], 1 / AIM),
          ("best fit and posterior", rows[2][0], both / other[2], None),
          ("1,000 effective draws", "JAGS, the same family", thousand / chains,
           None)], picture)
    if other[1] < AIM * both:
        print(f"Missed: best fit and posterior: aimed at {AIM} times SciPy's "
              "nine starts")
    if both >= MOST:
        sys.exit(f"Missed: over {MOST} ms an athlete")


main()

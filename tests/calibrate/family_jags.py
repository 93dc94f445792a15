"""The posterior of the literature's family by chains of JAGS (Plummer 2003, Proc
3rd Int Workshop DSC; from memory): level, trend, scale, sigma, correlation time
and growth are sampled together with the shape.

    family_jags.py ATHLETE EFFECT SIGMA SPREAD TREND DRAWS BURN THIN

ATHLETE is JSON: before, load, step, value; the prior is PosteriorPrior's, with
correlated errors. Prints mean, SD and error of the mean (by batches) of ln tau1,
ln tau2, ln ratio, ln tau3, ln sigma, scale and growth.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import json
import os
import subprocess
import sys
import tempfile

import numpy as np

MODEL = """model {
x1 ~ dnorm(log(39), 1/.4^2)
x2 ~ dnorm(log(12), 1/.7^2)
x3 ~ dnorm(log(2.1), 1/.5^2)
x4 ~ dnorm(log(2.3), 1/.5^2)
one ~ dbern(step(x1 - x2 - log(1.3)))
gi ~ dcat(fifth)
fi ~ dcat(third)
g <- (gi - 1) / 4
q1 <- exp(-exp(-x1))
q2 <- exp(-exp(-x2))
q4 <- exp(-exp(-x4))
F[1] <- before * q1 / (1 - q1)
G[1] <- before * q2 / (1 - q2)
M[1] <- before * q4 / (1 - q4) + load[1]
V[1] <- before^2 / (1 - q4) * q2 / (1 - q2)
for (i in 2:D) {
  F[i] <- (F[i-1] + load[i-1]) * q1
  G[i] <- (G[i-1] + load[i-1]) * q2
  M[i] <- M[i-1] * q4 + load[i]
  V[i] <- (V[i-1] + load[i-1] * M[i-1]) * q2
}
for (i in 1:D) {
  z[i] <- F[i] - exp(x3) * ((1 - g) * G[i] + g * V[i] * (1 - q4) / wbar)
}
for (j in 1:J) { zd[j] <- z[days[j]] }
s <- sd(zd) * sqrt((J - 1) / J)
b ~ dnorm(0, 1 / effect^2) T(0,)
lsigma ~ dnorm(log(s0), 1 / a^2)
prec <- exp(-2 * lsigma)
level ~ dnorm(ybar, 1.0E-6)
tr ~ dnorm(0, 1 / trend^2)
for (i in 1:n) { mu[i] <- level + b * (z[at[i]] - z[at[1]]) / s + tr * t[i] }
y[1] ~ dnorm(mu[1], prec)
for (i in 2:n) {
  y[i] ~ dnorm(mu[i] + kept[i, fi] * (y[i-1] - mu[i-1]),
               prec / (1 - kept[i, fi]^2))
}
}"""
NAMES = ["x1", "x2", "x3", "x4", "lsigma", "b", "gi"]
CHAINS, BATCHES = 4, 10


def row(name, values):
    return f'"{name}" <- c({",".join("%.17g" % x for x in values)})\n'


def data_of(athlete, effect, sigma, spread, trend):
    load, y = np.array(athlete["load"]), np.array(athlete["value"])
    at = np.array(athlete["step"]).astype(int)
    stride = max(1, len(load) // 64)
    stride -= stride % 7 == 0
    days = np.arange(0, len(load), stride)
    kept = np.array([[0 if not m or not i else np.exp(-(at[i] - at[i - 1]) / m)
                      for m in (0, 7, 21)] for i in range(len(y))])
    numbers = {"before": athlete["before"], "D": len(load), "J": len(days),
               "n": len(y), "effect": effect, "a": spread, "s0": sigma,
               "trend": trend, "ybar": y.mean(), "one": 1, "wbar": load.mean()}
    return "".join([f'"{k}" <- {v:.17g}\n' for k, v in numbers.items()] + [
        row("load", load), row("days", days + 1), row("at", at + 1),
        row("y", y), row("t", (at - at[0]) / 182),
        row("fifth", [.2] * 5), row("third", [1 / 3] * 3),
        f'"kept" <- structure(c({",".join("%.17g" % x for x in kept.T.ravel())}'
        f"), .Dim = c({len(y)}L, 3L))\n"])


def moments(athlete, prior, draws, burn, thin):
    """Of each of NAMES: mean, SD, error of the mean."""
    with tempfile.TemporaryDirectory() as folder:
        def write(name, text):
            with open(os.path.join(folder, name), "w", encoding="ascii") as out:
                out.write(text)
        script = f'model in "m"\ndata in "d"\ncompile, nchains({CHAINS})\n'
        write("m", MODEL)
        write("d", data_of(athlete, *prior))
        for c in range(1, CHAINS + 1):
            write(f"i{c}", '".RNG.name" <- "base::Wichmann-Hill"\n'
                  f'".RNG.seed" <- {c}\n')
            script += f'parameters in "i{c}", chain({c})\n'
        script += f"initialize\nupdate {burn}\n"
        script += "".join(f"monitor {v}, thin({thin})\n" for v in NAMES)
        write("s", script + f"update {draws}\ncoda *\n")
        subprocess.run(["jags", "s"], cwd=folder, stdout=subprocess.DEVNULL,
                       stderr=subprocess.DEVNULL, check=False)
        chains = [np.loadtxt(f"{folder}/CODAchain{c}.txt")[:, 1]
                  .reshape(len(NAMES), -1) for c in range(1, CHAINS + 1)]
    out = []
    for k, name in enumerate(NAMES):
        v = np.array([chain[k] for chain in chains])
        v = (v - 1) / 4 if name == "gi" else v
        part = v.reshape(CHAINS, BATCHES, -1).mean(2).ravel()
        out.append((v.mean(), v.std(), part.std(ddof=1) / np.sqrt(part.size)))
    return out


if __name__ == "__main__":
    for three in moments(json.loads(sys.argv[1]),
                         [float(x) for x in sys.argv[2:6]],
                         *(int(x) for x in sys.argv[6:9])):
        print(*(float(x) for x in three))

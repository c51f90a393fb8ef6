"""Fits the tasks with SciPy's curve_fit, unbounded and bounded, and prints seconds
and residual sums of squares as JSON. In the hard set the bounded solver starts from
three rates within the bounds."""
import json
import sys
import time
import warnings

import numpy as np
from scipy.optimize import curve_fit

warnings.simplefilter("ignore")
tasks = json.load(open(sys.argv[1]))
shapes = {
    "power": lambda x, a, b, r: a + b * x ** -r,
    "exponential": lambda x, a, b, r: a + b * np.exp(-r * (x - 1)),
}
for t in tasks:
    t["X"], t["Y"] = np.array(t["X"]), np.array(t["Y"])


def start(t, r):
    h = shapes[t["Family"]](t["X"], 0.0, 1.0, r)
    b = np.cov(h, t["Y"])[0, 1] / np.var(h, ddof=1)
    return [t["Y"].mean() - b * h.mean(), b, r]


def rates(t):
    if t["Set"] == "speed":
        return [0.5 if t["Family"] == "power" else 0.1]
    return np.exp(np.linspace(np.log(max(t["Lower"], 1e-3)), np.log(min(t["Upper"], 10)), 3))


def fit(t, bounded):
    f, best = shapes[t["Family"]], 0.0
    for r in rates(t):
        options = {}
        if bounded:
            options = dict(bounds=([-np.inf, -np.inf, t["Lower"]], [np.inf, np.inf, t["Upper"]]))
            if t["Set"] == "hard":
                options.update(ftol=1e-13, xtol=1e-13, gtol=1e-13, max_nfev=200)
        try:
            p, _ = curve_fit(f, t["X"], t["Y"], start(t, r), **options)
        except (RuntimeError, ValueError):
            continue
        if bounded or t["Lower"] <= p[2] <= t["Upper"]:
            v = float(((t["Y"] - f(t["X"], *p)) ** 2).sum())
            if np.isfinite(v) and (best == 0 or v < best):
                best = v
    return best


def run(bounded):
    begin = time.perf_counter()
    rss = [fit(t, bounded) for t in tasks]
    return {"Seconds": time.perf_counter() - begin, "RSS": rss}


print(json.dumps({"curve_fit": run(False), "curve_fit bounded": run(True)}))

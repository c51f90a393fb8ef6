# Expected values for the tests of analysis/monitor, computed from the definitions
# with numpy and scipy and no code of the package. Run in this folder:
#
#   /usr/bin/python3 reference.py > reference.json
#
# Pass/fail charts: the chance of every reachable value is carried forward attempt
# by attempt in a dictionary; means are sums of the chances of no signal with a
# geometric tail once their ratio has settled. Normal charts: Gauss-Legendre
# quadrature of the integral equations of the run length. In the sequence 1 is a
# failed attempt.
import json
import math

import numpy as np
from scipy.stats import norm

SEQUENCE = [int(c) for c in "000000100001010011100101011011000000000000000100100000000101"]
EPS = 1e-9


def log_ratio(rate, other):
    return math.log(rate / other), math.log((1 - rate) / (1 - other))


def steps(weights, h, restart):
    value, out = 0.0, []
    for x in SEQUENCE:
        value = max(0.0, value + (weights[0] if x else weights[1]))
        out.append([value, int(value >= h)])
        if value >= h and restart:
            value = 0.0
    return out


def no_signal(weights, p, lower, upper, start=0.0, attempts=None):
    """chances of no signal after 0, 1, ... attempts; lower None holds at zero"""
    state, alive, last, calm = {round(start / EPS): (start, 1.0)}, [1.0], 0.0, 0
    ends = [0.0, 0.0]
    while True:
        new = {}
        for v, q in state.values():
            for w, r in ((v + weights[0], q * p), (v + weights[1], q * (1 - p))):
                if w >= upper - EPS:
                    ends[1] += r
                    continue
                if lower is not None and w <= lower + EPS:
                    ends[0] += r
                    continue
                if lower is None and w < EPS:
                    w = 0.0
                if r > 1e-26:
                    key = round(w / EPS)
                    new[key] = (w, new[key][1] + r if key in new else r)
        state = new
        alive.append(math.fsum(q for _, q in state.values()))
        if attempts is not None and len(alive) > attempts:
            return alive, 0.0, ends
        ratio = alive[-1] / alive[-2] if alive[-2] else 0.0
        calm = calm + 1 if abs(ratio - last) < 1e-15 else 0
        last = ratio
        if attempts is None and (calm >= 20 or alive[-1] < 1e-17 or len(alive) > 4000):
            return alive, ratio, ends


def mean(weights, p, lower, upper, start=0.0):
    alive, ratio, _ = no_signal(weights, p, lower, upper, start)
    return math.fsum(alive) + (alive[-1] * ratio / (1 - ratio) if alive[-1] > 1e-17 else 0.0)


def within(weights, p, upper, ns, start=0.0):
    alive, _, _ = no_signal(weights, p, None, upper, start, max(ns))
    return {str(n): 1 - alive[n] for n in ns}


def quantile(weights, p, upper, level):
    alive, ratio, _ = no_signal(weights, p, None, upper)
    for n, a in enumerate(alive):
        if 1 - a >= level:
            return n
    return len(alive) - 1 + math.ceil(math.log((1 - level) / alive[-1]) / math.log(ratio))


def chain(weights, h, p, cells):
    """Brook and Evans 1972 on values i*h/cells, moves rounded to the nearest"""
    d, q = h / cells, np.zeros((cells, cells))
    for i in range(cells):
        for w, chance in ((weights[0], p), (weights[1], 1 - p)):
            v = i * d + w
            if v < h - 1e-12:
                q[i, min(int(math.floor(max(0.0, v) / d + 0.5)), cells - 1)] += chance
    return float(np.linalg.solve(np.eye(cells) - q, np.ones(cells))[0])


def lattice(up, down, h, p):
    q = np.zeros((h, h))
    for i in range(h):
        if i + up < h:
            q[i, i + up] += p
        q[i, max(0, i - down)] += 1 - p
    return float(np.linalg.solve(np.eye(h) - q, np.ones(h))[0])


def wald(p, weights, lower, upper):
    drift = p * weights[0] + (1 - p) * weights[1]
    f = lambda t: p * math.exp(t * weights[0]) + (1 - p) * math.exp(t * weights[1]) - 1
    near, far = (1e-6, 60.0) if drift < 0 else (-1e-6, -60.0)
    for _ in range(300):
        mid = (near + far) / 2
        near, far = (mid, far) if f(mid) < 0 else (near, mid)
    accept = (math.exp(near * upper) - 1) / (math.exp(near * upper) - math.exp(near * lower))
    return [accept, (accept * lower + (1 - accept) * upper) / drift]


def normal_cusum(k, h, shift, start=0.0, nodes=60):
    x, w = np.polynomial.legendre.leggauss(nodes)
    x, w = (x + 1) * h / 2, w * h / 2
    at = np.concatenate(([start, 0.0], x))
    a = np.zeros((nodes + 2, nodes + 2))
    a[:, 1] = norm.cdf(k - shift - at)
    a[:, 2:] = w * norm.pdf(x[None, :] - at[:, None] + k - shift)
    return float(np.linalg.solve(np.eye(nodes + 2) - a, np.ones(nodes + 2))[0])


def normal_ewma(lam, limit, shift, nodes=80):
    c = limit * math.sqrt(lam / (2 - lam))
    x, w = np.polynomial.legendre.leggauss(nodes)
    x, w = x * c, w * c
    a = w * norm.pdf((x[None, :] - (1 - lam) * x[:, None]) / lam - shift) / lam
    u = np.linalg.solve(np.eye(nodes) - a, np.ones(nodes))
    return float(1 + (w * norm.pdf(x / lam - shift) / lam) @ u)


rates = [0.05, 0.1, 0.15, 0.2, 0.3]
worse, better = log_ratio(0.2, 0.1), log_ratio(0.1, 0.3)
low, high = math.log(0.1 / 0.9), math.log(0.9 / 0.1)
total, sums, so_far, decisions = 0.0, [], "undecided", []
for x in SEQUENCE:
    total += worse[0] if x else worse[1]
    if so_far == "undecided":
        so_far = "unacceptable" if total >= high else "acceptable" if total <= low else so_far
    sums.append(total)
    decisions.append(so_far)
exact = []
for p in rates:
    alive, _, ends = no_signal(worse, p, low, high)
    exact.append({"rate": p, "unacceptable": ends[1], "acceptable": ends[0], "mean": math.fsum(alive), "wald": wald(p, worse, low, high)})
shifts = [0, 0.25, 0.5, 0.75, 1, 1.5, 2, 2.5, 3, 4]
print(json.dumps({
    "sequence": SEQUENCE,
    "sequential": {"acceptable": 0.1, "unacceptable": 0.2, "alpha": 0.1, "beta": 0.1, "sums": sums, "decisions": decisions, "exact": exact},
    "relapse": {"acceptable": 0.1, "unacceptable": 0.2, "h": 2, "steps": steps(worse, 2, True), "rates": rates,
                "mean": [mean(worse, p, None, 2) for p in rates],
                "mean_headstart_1": [mean(worse, p, None, 2, 1.0) for p in rates],
                "within": [within(worse, p, 2, [10, 20, 30, 50, 100, 200]) for p in rates],
                "within_headstart_1": [within(worse, p, 2, [1, 10, 50], 1.0) for p in rates],
                "quantiles": [[quantile(worse, p, 2, q) for q in (0.05, 0.5, 0.95)] for p in rates],
                "chain": {str(n): [chain(worse, 2, p, n) for p in rates] for n in (100, 400, 1600)}},
    "lattice": {"up": 6, "down": 1, "h": 18, "rates": [0.05, 0.1, 0.2], "mean": [lattice(6, 1, 18, p) for p in (0.05, 0.1, 0.2)]},
    "learning": {"acceptable": 0.1, "unacceptable": 0.3, "steps": steps(better, 1.5, False),
                 "by_h": [{"h": h, "mean_acceptable": mean(better, 0.1, None, h), "mean_unacceptable": mean(better, 0.3, None, h),
                           "true_within": within(better, 0.1, h, [10, 25, 50]), "false_within": within(better, 0.3, h, [10, 25, 50])} for h in (1, 1.5, 2, 2.5)]},
    "normal_cusum": [{"k": 0.5, "h": h, "start": s, "shifts": shifts, "mean": [normal_cusum(0.5, h, m, s) for m in shifts]} for h in (4, 5) for s in (0, h / 2)],
    "normal_cusum_below": [{"k": 0.5, "h": h, "shifts": shifts, "mean": [normal_cusum(0.5, h, -m) for m in shifts]} for h in (4, 5)],
    "normal_ewma": [{"lambda": l, "l": c, "shifts": shifts, "mean": [normal_ewma(l, c, m) for m in shifts]} for l, c in ((0.1, 2.814), (0.2, 2.962))],
}, indent=1))

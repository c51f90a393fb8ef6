# One curve over a calendar by SciPy's least squares, every trainee's plateau and gain among
# the numbers sought: writes course.csv (invented trainees) and course_expected.csv.
#   /usr/bin/python3 course.py
import csv
import numpy as np
from scipy.optimize import least_squares

rng = np.random.default_rng(7)
sessions = [(0, 9), (3, 6), (25, 6)]  # days before, attempts


def load(path, shape):
    learn, regain, rate = np.exp(path)
    left, lost, out = 1.0, 0.0, []
    for days, attempts in sessions:
        if days:
            kept = np.exp(-rate * days) if shape == "exponential" else (1 + days) ** -rate
            lost += (1 - left - lost) * (1 - kept)
        for _ in range(attempts):
            out.append(left + lost)
            left, lost = left * np.exp(-learn), lost * np.exp(-regain)
    return np.array(out)


truth = load(np.log([0.3, 0.8, 0.02]), "exponential")
values, rows = [], []
for i in range(8):
    y = np.round(20 + 3 * rng.normal() + (50 + 8 * rng.normal()) * truth + 2.5 * rng.normal(size=len(truth)), 2)
    values.append(y)
    k = 0
    for s, (days, attempts) in enumerate(sessions):
        for _ in range(attempts):
            rows.append([chr(97 + i), s + 1, days, y[k]])
            k += 1
with open("course.csv", "w", newline="") as f:
    w = csv.writer(f, lineterminator="\n")
    w.writerow(["trainee", "session", "days", "value"])
    w.writerows(rows)
with open("course_expected.csv", "w", newline="") as f:
    w = csv.writer(f, lineterminator="\n")
    w.writerow(["shape", "rss", "learnt", "regained", "rate", "plateau", "gain"])
    for shape in ["exponential", "power"]:
        def residuals(x):
            h = load(x[:3], shape)
            return np.concatenate([y - x[3 + i] - x[11 + i] * h for i, y in enumerate(values)])
        best = None
        for start in [(0.3, 0.8, 0.02), (0.2, 2.0, 0.2), (0.5, 0.4, 0.1)]:
            x0 = np.concatenate([np.log(start), [20.0] * 8, [50.0] * 8])
            r = least_squares(residuals, x0, xtol=1e-14, ftol=1e-14, gtol=1e-12, max_nfev=20000)
            if best is None or r.cost < best.cost:
                best = r
        x = best.x
        w.writerow([shape] + [repr(float(v)) for v in [2 * best.cost, 1 - np.exp(-np.exp(x[0])), 1 - np.exp(-np.exp(x[1])), np.exp(x[2]), x[3:11].mean(), x[11:].mean()]])

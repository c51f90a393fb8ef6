# So many refits of one trainee's residual bootstrap, one family, with SciPy.
import csv, sys
import numpy as np
from scipy.optimize import curve_fit
rows = list(csv.DictReader(open(sys.argv[1])))
x = np.array([float(r["attempt"]) for r in rows]); y = np.log([float(r["seconds"]) for r in rows])
f = lambda x, a, g, r: np.log(np.exp(a) + np.exp(g) * np.exp(-np.exp(r) * (x - 1)))
rng = np.random.default_rng(1)
p, _ = curve_fit(f, x, y, p0=[3.8, 4.8, -2])
m = f(x, *p); e = y - m
for _ in range(int(sys.argv[2])):
    try:
        curve_fit(f, x, m + rng.choice(e, len(e)), p0=p)
    except RuntimeError:
        pass

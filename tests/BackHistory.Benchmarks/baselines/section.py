"""The work of one cross-section with general numerical libraries: reads points as JSON from standard input, prints milliseconds a
section (the fastest of 200).

Smoothing spline of known noise over chord length (FITPACK through scipy), crossings, total least squares slopes, areas (shapely),
skew, and the orthogonal circle fit (scipy.optimize.least_squares). No standard errors, no flags, no refusals.
"""
import json
import sys
import time

import numpy as np
from scipy.interpolate import UnivariateSpline, PPoly, splrep, splev
from scipy.optimize import least_squares
from shapely.geometry import LineString, Polygon

points = np.array(json.load(sys.stdin))
NOISE = 1.0


def measure(p):
    simple = LineString(p).is_simple
    t = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(p, axis=0).T))])
    s = len(t) * NOISE ** 2
    x, y = splrep(t, p[:, 0], s=s), splrep(t, p[:, 1], s=s)
    middle = min(PPoly.from_spline(x).solve(0.0, extrapolate=False), key=lambda u: abs(splev(u, y)))
    top = float(splev(middle, y))
    u = np.linspace(0, t[-1], 1200)
    c = np.column_stack([splev(u, x), splev(u, y) - top])
    step = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(c, axis=0).T))])
    origin = np.interp(middle, u, step)
    out = {}
    sides = {}
    for name, sign in (("left", -1), ("right", 1)):
        arc = np.linspace(0, 150, 121)
        sides[name] = np.column_stack([np.interp(origin + sign * arc, step, c[:, 0]), np.interp(origin + sign * arc, step, c[:, 1])])
        d = sides[name][32:113] - sides[name][32:113].mean(axis=0)
        axis = np.linalg.eigh(d.T @ d)[1][:, 1]
        axis = axis * np.sign(axis @ (d[-1] - d[0]))
        out["slope-" + name] = np.degrees(np.arctan2(-axis[1], sign * axis[0]))
        out["fill-" + name] = Polygon(sides[name]).area / 100
    reach = {}
    for depth in (30, 60, 100, 150):
        at = PPoly.from_spline(y).solve(top - depth, extrapolate=False)
        xs = splev(at, x)
        reach[depth] = (xs.min(), xs.max())
        out["width@%d" % depth] = xs.max() - xs.min()
        if depth >= 100:
            for name, sign, q in (("left", -1, at[xs.argmin()]), ("right", 1, at[xs.argmax()])):
                w = np.linspace(middle, q, 200)
                ring = np.column_stack([splev(w, x), splev(w, y) - top])
                out["half-area-%s@%d" % (name, depth)] = Polygon(np.vstack([ring, [0, -depth]])).area / 100
    out["width-ratio"] = out["width@30"] / out["width@150"]
    mirrored = sides["left"] * [-1, 1]
    out["skew-shape"] = np.sqrt(((sides["right"] - mirrored) ** 2).sum(axis=1).mean())
    ridge = np.vstack([sides["left"][32:0:-1], sides["right"][:33]])
    fit = least_squares(lambda q: np.hypot(ridge[:, 0] - q[0], ridge[:, 1] - q[1]) - q[2], [0, -50, 50])
    out["ridge-radius"] = fit.x[2]
    return simple, out


for _ in range(5):
    measure(points)
times = []
for _ in range(200):
    start = time.perf_counter()
    measure(points)
    times.append(time.perf_counter() - start)
print(min(times) * 1000)

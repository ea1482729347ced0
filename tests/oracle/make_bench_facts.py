"""Makes tests/facts/{line_fit,next_reading,grubbs_critical}.csv with scipy.

    python make_bench_facts.py FOLDER

Lines by scipy.stats.linregress on random readings from the recorded seed, prediction intervals
and critical values from scipy.stats.t.
"""

import random
import sys
from pathlib import Path

import numpy as np
import scipy
from scipy import stats

SEED = 20251125
HEAD = f"# Source: computed with scipy {scipy.__version__}, seed {SEED}\n"


def line_fit(rng):
    for _ in range(40):
        count = rng.randint(3, 12)
        level, slope, noise = rng.uniform(-1e7, 1e7), rng.gauss(0, 50), rng.uniform(0.1, 20)
        times = sorted(round(rng.uniform(0, 60), 2) for _ in range(count))
        values = [round(level + slope * t + rng.gauss(0, noise), 3) for t in times]
        # Centred, so that linregress itself loses no digits.
        fit = stats.linregress(np.array(times), np.array(values) - values[0])
        expanded = stats.t.ppf(0.975, count - 2) * fit.stderr
        yield [count, *times, *values, fit.slope, fit.intercept + values[0], fit.stderr, expanded]


def next_reading(rng):
    for _ in range(40):
        pulls = [round(rng.gauss(-400, 60), 1) for _ in range(rng.randint(2, 9))]
        count, mean, spread = len(pulls), np.mean(pulls), np.std(pulls, ddof=1)
        scale = spread * (1 + 1 / count) ** 0.5
        low, high = round(rng.uniform(-120, 0), 1), round(rng.uniform(0, 120), 1)
        next_one = stats.t(count - 1, 0, scale)
        yield [
            count,
            *pulls,
            low,
            high,
            mean,
            next_one.ppf(0.975),
            next_one.cdf(high) - next_one.cdf(low),
        ]


def grubbs_critical(rng):
    for risk in (0.01, 0.05):
        for n in range(3, 31):
            t = stats.t.isf(risk / (2 * n), n - 2)
            yield [n, risk, (n - 1) / n**0.5 * (t * t / (n - 2 + t * t)) ** 0.5]


def write(folder, make, heading):
    rng = random.Random(SEED)
    rows = [",".join(repr(float(v)) if isinstance(v, float) else str(v) for v in row) for row in make(rng)]
    Path(folder, f"{make.__name__}.csv").write_text(HEAD + heading + "\n" + "\n".join(rows) + "\n")


write(sys.argv[1], line_fit, "count,minutes...,values...,slope,intercept,standard,expanded")
write(sys.argv[1], next_reading, "count,pulls...,low,high,mean,half_width,chance")
write(sys.argv[1], grubbs_critical, "count,risk,critical")

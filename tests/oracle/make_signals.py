"""Makes signals.csv: signals by chance, with what numpy and scipy measure in them.

    python make_signals.py FOLDER COUNT

A line holds what a signal is made of and a seed, so that anybody can make its samples again:
tests/signal_oracle.rs does, and compares. Nothing here knows how Halfturn measures. The sine comes
from scipy's own least squares, the filters from scipy.signal.welch and the published tables.
"""

import csv
import sys
from pathlib import Path

import numpy as np
from scipy.optimize import least_squares
from scipy.signal import welch

SEED = 20261130
RATES = [8000, 11025, 16000, 22050, 32000, 44100, 48000, 96000]
WEIGHTINGS = ["whole", "speech", "psophometric", "c-message"]
HARMONICS = 10


def even(seed, first, count):
    """Even numbers from splitmix64, from the first on (counted from 1)."""
    with np.errstate(over="ignore"):
        at = np.arange(first, first + count, dtype=np.uint64)
        z = np.uint64(seed) + at * np.uint64(0x9E3779B97F4A7C15)
        z = (z ^ (z >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
        z = (z ^ (z >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
        z = z ^ (z >> np.uint64(31))
    return ((z >> np.uint64(11)).astype(float) + 0.5) / 2.0**53


def normal(seed, count):
    pairs = even(seed, 1, 2 * count)
    return np.sqrt(-2 * np.log(pairs[::2])) * np.cos(2 * np.pi * pairs[1::2])


def draw(rng):
    """What a signal is made of. SINAD comes to 0 to 80 dB, in whatever shares."""
    rate = int(rng.choice(RATES))
    bits = int(rng.integers(12, 25))
    count = int(rng.integers(rate // 4, rate))
    hertz = rng.uniform(350, min(3300, rate * 0.45))
    rest = 10 ** (-rng.uniform(0.5, 80) / 20)
    shares = rng.dirichlet([1, 1, 1])
    noise, hum, harmonics = rest * np.sqrt(shares)
    peak = 10 ** (rng.uniform(-30, -1) / 20) / (1 + 4 * noise + 1.5 * hum + 2.5 * harmonics) / 1.1
    return {
        "rate": rate,
        "bits": bits,
        "count": count,
        "seed": int(rng.integers(1, 2**53)),
        "hertz": hertz,
        "peak": peak,
        "phase": rng.uniform(0, 2 * np.pi),
        "offset": rng.uniform(-0.05, 0.05),
        "noise": peak * noise / np.sqrt(2),
        "mains": float(rng.choice([50, 60])) + rng.uniform(-0.1, 0.1),
        "hum": peak * hum,
        "second": peak * harmonics * 0.8,
        "third": peak * harmonics * 0.6,
        "weighting": str(rng.choice(WEIGHTINGS)),
    }


def samples(made):
    time = np.arange(made["count"]) / made["rate"]
    turn = 2 * np.pi * time
    hertz, phase = made["hertz"], made["phase"]
    x = made["offset"] + made["peak"] * np.cos(turn * hertz + phase)
    x += made["second"] * np.cos(turn * 2 * hertz + 1) + made["third"] * np.cos(turn * 3 * hertz + 2)
    x += made["hum"] * (0.8 * np.cos(turn * made["mains"]) + 0.6 * np.cos(turn * 2 * made["mains"]))
    x += made["noise"] * normal(made["seed"], made["count"])
    steps = 2.0 ** (made["bits"] - 1)
    return np.floor(x * steps + 0.5) / steps


def fitted(x, rate, near):
    """The sine by scipy's least squares on four parameters, in units that suit it."""
    n = np.arange(len(x)) - (len(x) - 1) / 2
    base = 2 * np.pi * near / rate
    columns = np.stack([np.cos(base * n), np.sin(base * n), np.ones(len(x))], axis=1)
    start = np.linalg.lstsq(columns, x, rcond=None)[0]

    def model(p):
        turn = (base + p[3] / len(x)) * n
        return p[0] * np.cos(turn) + p[1] * np.sin(turn) + p[2]

    def slopes(p):
        turn = (base + p[3] / len(x)) * n
        c, s = np.cos(turn), np.sin(turn)
        return np.stack([c, s, np.ones(len(x)), n / len(x) * (p[1] * c - p[0] * s)], axis=1)

    found = least_squares(
        lambda p: model(p) - x, [*start, 0.0], slopes, method="lm", xtol=1e-15, ftol=1e-15, gtol=1e-15
    )
    hertz = (base + found.x[3] / len(x)) * rate / (2 * np.pi)
    return hertz, np.hypot(*found.x[:2]), x - model(found.x)


def table(name):
    path = Path(__file__).parent.parent / "facts" / f"{name}.csv"
    rows = list(csv.reader(path.open()))[2:]
    return np.array([[float(r[0]), float(r[1])] for r in rows]).T


def weight(weighting, hertz):
    if weighting == "speech":
        return ((hertz >= 300) & (hertz <= 3400)).astype(float)
    frequencies, levels = table(weighting.replace("-", "_"))
    inside = (hertz >= frequencies[0]) & (hertz <= frequencies[-1])
    at = np.interp(np.log(np.maximum(hertz, 1e-9)), np.log(frequencies), levels)
    return np.where(inside, 10 ** (at / 10), 0.0)


def power(x, rate, weighting):
    if weighting == "whole":
        return np.mean(x**2)
    length = 2 ** int(np.floor(np.log2(min(rate / 10, len(x) / 4))))
    hertz, density = welch(
        x, rate, "hann", nperseg=length, noverlap=length // 2, detrend=False, scaling="density"
    )
    spacing = hertz[1]
    w = weight(weighting, hertz)
    if weighting != "speech":
        # The window's spread of a third of a line squared, taken off the table again.
        around = [weight(weighting, np.abs(hertz + k * spacing)) for k in (-2, -1, 1, 2)]
        around[0][:2] = 0
        around[1][:1] = 0
        bend = around[1] + around[2] - 2 * w
        bend_of_bend = around[0] + around[3] - 4 * (around[1] + around[2]) + 6 * w
        w = w - bend / 6 + bend_of_bend / 36
    return np.sum(density * w) * spacing


def thd(x, rate, hertz):
    orders = [k for k in range(1, HARMONICS + 1) if k * hertz < rate * 0.475]
    if len(orders) < 2:
        return float("nan")
    n = np.arange(len(x)) - (len(x) - 1) / 2
    turns = [2 * np.pi * k * hertz / rate * n for k in orders]
    columns = [np.ones(len(x))] + [f(turn) for turn in turns for f in (np.cos, np.sin)]
    found = np.linalg.lstsq(np.stack(columns, axis=1), x, rcond=None)[0][1:]
    sizes = np.hypot(found[::2], found[1::2])
    return np.sqrt(np.sum(sizes[1:] ** 2)) / sizes[0]


def measured(made):
    x = samples(made)
    rate = made["rate"]
    hertz, peak, rest = fitted(x, rate, made["hertz"])
    weighting = made["weighting"]
    gain = 1.0 if weighting == "whole" else float(weight(weighting, np.array([hertz]))[0])
    ratio = gain * peak**2 / 2 / power(rest, rate, weighting)
    return {
        "found_hertz": hertz,
        "found_dbfs": 20 * np.log10(peak),
        "found_sinad": 10 * np.log10(1 + ratio),
        "found_thd_n": 1 / np.sqrt(1 + ratio),
        "found_thd": thd(x, rate, hertz),
    }


def main(folder, count):
    rng = np.random.default_rng(SEED)
    rows = []
    while len(rows) < count:
        made = draw(rng)
        row = {**made, **measured(made)}
        rows.append({k: repr(float(v)) if isinstance(v, float) else v for k, v in row.items()})
    with (Path(folder) / "signals.csv").open("w", newline="") as file:
        writer = csv.DictWriter(file, rows[0].keys(), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


main(sys.argv[1], int(sys.argv[2]))

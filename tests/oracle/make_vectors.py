"""Makes reference vectors for the arithmetic with general libraries.

    python make_vectors.py FOLDER ROWS

writes one CSV per formula into FOLDER: a line with seed and versions, then ROWS rows of inputs
and, last, the expected result. The first rows are the corners of the input ranges; the others
are random from the recorded seed, so that a smaller set is always the start of a larger one.

Closed formulas are worked out in 40 digits with mpmath, straight from their definitions and not
in the rearranged form that the code uses. Match comes from scikit-rf, the distributions from
scipy, uncertainty budgets from GTC, statistics and frequency plans from exact fractions.
"""

import itertools
import math
import random
import sys
from fractions import Fraction
from importlib.metadata import version
from multiprocessing import get_context
from pathlib import Path

import GTC
import numpy as np
import scipy.stats
import skrf
from mpmath import mp, mpf
from skrf.mathFunctions import db_2_mag
from skrf.tlineFunctions import zl_2_Gamma0

SEED = 20250331
mp.dps = 40
VERSIONS = ", ".join(
    f"{name} {version(name)}" for name in ("GTC", "mpmath", "numpy", "scikit-rf", "scipy")
)


class Log:
    """A range that is covered evenly in its logarithm."""

    def __init__(self, low, high):
        self.low, self.high = low, high

    def draw(self, rng):
        return short(math.exp(rng.uniform(math.log(self.low), math.log(self.high))))

    def corners(self):
        return [self.low, self.high]


class Lin(Log):
    """A range that is covered evenly."""

    def draw(self, rng):
        return short(rng.uniform(self.low, self.high))


class Int(Log):
    """Whole numbers."""

    def draw(self, rng):
        return rng.randint(self.low, self.high)


class Pick:
    """One of a few values."""

    def __init__(self, *values):
        self.values = values

    def draw(self, rng):
        return rng.choice(self.values)

    def corners(self):
        return list(self.values)


def short(value):
    """Nine significant digits: as many as an instrument shows, and exact to type."""
    return float(f"{value:.9g}")


def inputs(name, ranges, rows, sort=()):
    """Corners, then random rows; columns in `sort` are put in descending order."""
    rng = random.Random(f"{SEED} {name}")
    corners = list(itertools.product(*(r.corners() for r in ranges)))[:40]
    drawn = ([r.draw(rng) for r in ranges] for _ in itertools.count())
    for row in itertools.islice(itertools.chain(corners, drawn), rows):
        row = list(row)
        for column, value in zip(sort, sorted((row[c] for c in sort), reverse=True)):
            row[column] = value
        yield row


FORMULAS = {}


def formula(name, *ranges, sort=()):
    """Registers a function of one row, given as exact 40-digit numbers."""

    def register(function):
        def make(rows):
            for row in inputs(name, ranges, rows, sort):
                yield row, function(*map(mpf, row))

        FORMULAS[name] = make
        return function

    return register


def table(name, *ranges, sort=()):
    """Registers a function of all rows at once, given as columns of floats."""

    def register(function):
        def make(rows):
            given = list(inputs(name, ranges, rows, sort))
            columns = [np.array(column, dtype=float) for column in zip(*given)]
            return zip(given, function(*columns))

        FORMULAS[name] = make
        return function

    return register


def exact(name, *ranges):
    """Registers a function of one row of texts, whose result is a text."""

    def register(function):
        def make(rows):
            for row in inputs(name, ranges, rows):
                texts = [text(value) for value in row]
                yield texts, function(*texts)

        FORMULAS[name] = make
        return function

    return register


def text(value):
    return value if isinstance(value, str) else repr(value)


def db(ratio):
    return 10 * mp.log10(ratio)


# Levels

WATTS = Log(1e-20, 1e6)
OHMS = Log(0.1, 1e6)
VOLTS = Log(1e-9, 1e5)
DBM = Lin(-200.0, 100.0)
GAIN = Lin(-60.0, 60.0)
PARTS = Log(1e-9, 1e9)

formula("decibels-of-power-ratio", PARTS)(db)
formula("power-ratio-of-decibels", DBM)(lambda x: mpf(10) ** (x / 10))
formula("decibels-of-voltage-ratio", PARTS)(lambda r: 20 * mp.log10(r))
formula("voltage-ratio-of-decibels", DBM)(lambda x: mpf(10) ** (x / 20))
formula("dbm-of-watts", WATTS)(lambda p: db(p / mpf("0.001")))
formula("watts-of-dbm", DBM)(lambda x: mpf("0.001") * mpf(10) ** (x / 10))
formula("watts-of-volts", VOLTS, OHMS)(lambda v, r: v**2 / r)
formula("volts-of-watts", WATTS, OHMS)(lambda p, r: mp.sqrt(p * r))
formula("peak-of-rms", VOLTS)(lambda v: v * mp.sqrt(2))
formula("rms-of-peak", VOLTS)(lambda v: v / mp.sqrt(2))
formula("peak-to-peak-of-rms", VOLTS)(lambda v: 2 * v * mp.sqrt(2))
formula("rms-of-peak-to-peak", VOLTS)(lambda v: v / 2 / mp.sqrt(2))
formula("dbuv-of-volts", VOLTS)(lambda v: 20 * mp.log10(v / mpf("1e-6")))
formula("volts-of-dbuv", DBM)(lambda x: mpf("1e-6") * mpf(10) ** (x / 20))
formula("dbuv-above-dbm", OHMS)(
    lambda z: 20 * mp.log10(mp.sqrt(mpf("0.001") * z) / mpf("1e-6"))
)
formula("level-after", DBM, GAIN, GAIN, GAIN)(lambda x, a, b, c: x + a + b + c)
formula("level-before", DBM, Lin(0.0, 90.0), Lin(0.0, 90.0))(lambda x, a, b: x + a + b)

# Match: scikit-rf where it has the definition, else the definition itself

RHO = Lin(1e-6, 0.999999)
SWR = Log(1.000001, 1e5)
LOSS = Lin(0.0, 20.0)


def one_ports(reflections):
    s = np.asarray(reflections, dtype=complex).reshape(-1, 1, 1)
    return skrf.Network(s=s, f=np.arange(1, len(s) + 1), f_unit="hz", z0=50)


@table("swr-of-reflection", RHO)
def _(rho):
    return one_ports(rho).s_vswr[:, 0, 0]


@table("return-loss-of-reflection", RHO)
def _(rho):
    return -one_ports(rho).s_db[:, 0, 0]


@table("reflection-of-return-loss", Lin(1e-6, 120.0))
def _(loss):
    return db_2_mag(-loss)


@table("reflection-of-load", OHMS, Pick(50.0, 75.0, 300.0, 600.0))
def _(load, line):
    return np.abs(zl_2_Gamma0(line, load))


formula("reflection-of-swr", SWR)(lambda s: (s - 1) / (s + 1))
formula("return-loss-of-swr", SWR)(lambda s: -20 * mp.log10((s - 1) / (s + 1)))


@formula("swr-of-return-loss", Log(1e-6, 120.0))
def _(loss):
    rho = mpf(10) ** (-loss / 20)
    return (1 + rho) / (1 - rho)


formula("mismatch-loss", RHO)(lambda rho: -db(1 - rho**2))
formula("reflected-share", RHO)(lambda rho: rho**2)
formula("reflection-of-powers", Log(1e-5, 1e4), Log(1e-6, 9e3), sort=(0, 1))(
    lambda f, r: mp.sqrt(r / f)
)
formula("reflection-before-cable", RHO, LOSS)(
    lambda rho, loss: mp.sqrt(rho**2 * mpf(10) ** (-2 * loss / 10))
)
formula("reflection-behind-cable", Lin(1e-6, 0.009), LOSS)(
    lambda rho, loss: mp.sqrt(rho**2 * mpf(10) ** (2 * loss / 10))
)
formula("mismatch-error", RHO, RHO)(lambda a, b: 2 * a * b)

# Modulation

DEPTH = Lin(0.0, 1.0)
TONE = Log(10.0, 1e5)
formula("depth-of-envelope", Log(1e-3, 1e3), Log(1e-3, 1e3), sort=(0, 1))(
    lambda a, b: (a - b) / (a + b)
)
formula("depth-of-trapezoid", Lin(0.5, 10.0), Lin(0.0, 10.0), sort=(0, 1))(
    lambda a, b: (a - b) / (a + b)
)
formula("depth-of-sideband", Log(1.0, 1e3), Lin(0.0, 0.5))(lambda c, s: s / (c / 2))
formula("sideband-power", WATTS, DEPTH)(lambda p, m: p * (m / 2) ** 2)
formula("mean-power", WATTS, DEPTH)(lambda p, m: p + 2 * p * (m / 2) ** 2)
formula("peak-envelope-power", WATTS, DEPTH)(lambda p, m: (mp.sqrt(p) * (1 + m)) ** 2)
formula("carrier-of-mean-power", WATTS, DEPTH)(lambda p, m: p / (1 + 2 * (m / 2) ** 2))
formula("pep-of-crest", VOLTS, OHMS)(lambda v, r: (v / 2 / mp.sqrt(2)) ** 2 / r)
formula("relative-level", DBM, DBM)(lambda a, b: b - a)
formula("modulation-index", TONE, TONE)(lambda d, f: d / f)
formula("carson-bandwidth", TONE, TONE)(lambda d, f: 2 * d + 2 * f)


CARRIER_NULLS = [mp.besseljzero(0, nth) for nth in range(1, 9)]
formula("tone-of-carrier-null", TONE, Int(1, 8))(lambda d, nth: d / CARRIER_NULLS[int(nth) - 1])


# Receiver

AUDIO = Log(1e-6, 10.0)
formula("sinad-of-voltages", AUDIO, AUDIO, sort=(0, 1))(lambda a, b: 20 * mp.log10(a / b))
formula("sinad-of-distortion", Log(1e-6, 1.0))(lambda d: 20 * mp.log10(1 / d))
formula("distortion-of-sinad", Lin(0.0, 120.0))(lambda x: 1 / mpf(10) ** (x / 20))
formula("residue-of-sinad", Log(1e-6, 120.0))(lambda x: 1 / mp.sqrt(mpf(10) ** (x / 10) - 1))
formula("signal-plus-noise", AUDIO, AUDIO, sort=(0, 1))(lambda a, b: db((a / b) ** 2))
formula("signal-to-noise", Log(1e-6, 120.0))(lambda x: db(mpf(10) ** (x / 10) - 1))

BOLTZMANN = mpf("1.380649e-23")


def thermal(bandwidth):
    return db(BOLTZMANN * 290 * bandwidth / mpf("0.001"))


formula("thermal-noise", Log(1.0, 1e9))(thermal)
formula("noise-figure", Lin(-125.0, -60.0), Log(10.0, 1e3), Lin(-10.0, 12.0))(
    lambda level, b, ratio: level - thermal(b) - ratio
)
formula("image", Log(1e5, 1e9), Log(1e5, 1e9))(lambda f, lo: abs(lo + (lo - f)))
formula("half-if", Log(1e5, 1e9), Log(1e5, 1e9))(lambda f, lo: lo + (f - lo) / 2)
formula("level-of-s-units", Lin(0.0, 9.0), Lin(0.0, 60.0))(lambda s, over: -73 - 6 * (9 - s) + over)
formula("ppm-of-frequencies", Log(1e3, 1e9), Log(1e3, 1e9))(
    lambda r, f: (r / f - 1) * 1000000
)
formula("hertz-of-ppm", Lin(-1e4, 1e4), Log(1e3, 1e9))(lambda ppm, f: f * ppm / 1000000)

# Stages

CELSIUS = Lin(-50.0, 100.0)
THETA = Log(0.01, 100.0)
HENRIES = Log(1e-10, 10.0)
FARADS = Log(1e-14, 1e-1)
formula("current-of-drop", VOLTS, OHMS)(lambda v, r: v / r)
formula("pass-dissipation", Lin(0.0, 100.0), Lin(0.0, 100.0), Log(1e-6, 100.0), sort=(0, 1))(
    lambda a, b, i: a * i - b * i
)
formula("junction-temperature", CELSIUS, Log(1e-3, 1e3), THETA, THETA, THETA)(
    lambda t, p, a, b, c: t + p * a + p * b + p * c
)
formula(
    "heatsink-needed",
    Lin(100.0, 200.0), Lin(-50.0, 90.0), Log(1e-3, 1.0), Lin(0.0, 2.0), Lin(0.0, 1.0),
)(lambda tj, ta, p, a, b: (tj - ta - p * a - p * b) / p)
formula("resonance", HENRIES, FARADS)(lambda l, c: 1 / (2 * mp.pi * mp.sqrt(l * c)))
formula("resonating-capacitance", Log(1.0, 1e9), HENRIES)(
    lambda f, l: 1 / (2 * mp.pi * f) / (2 * mp.pi * f * l)
)
formula("resonating-inductance", Log(1.0, 1e9), FARADS)(
    lambda f, c: 1 / (2 * mp.pi * f) / (2 * mp.pi * f * c)
)


@formula("probe-shift", HENRIES, FARADS, Log(1e-14, 1e-9))
def _(l, c, probe):
    return 1 / (2 * mp.pi * mp.sqrt(l * (c + probe))) - 1 / (2 * mp.pi * mp.sqrt(l * c))


# Before the iron

formula("charge", FARADS, VOLTS)(lambda c, v: c * v)
formula("energy", FARADS, VOLTS)(lambda c, v: c * v * v / 2)
formula("voltage-after", Log(0.1, 1e4), Log(100.0, 1e6), Log(1e-5, 1e-2), Log(1e-6, 3e-2))(
    lambda v, r, c, t: v * mp.exp(-t / (r * c))
)
formula("time-to-bleed", Log(0.1, 1e4), Log(0.1, 1e4), OHMS, FARADS, sort=(0, 1))(
    lambda v, safe, r, c: r * c * (mp.log(v) - mp.log(safe))
)

# Preferred values

E24 = [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91]
E96 = [int(mp.nint(100 * mpf(10) ** (mpf(i) / 96))) for i in range(96)]


def nearest(decade):
    rungs = np.array([float(f"{v}e{d}") for d in range(-6, 9) for v in decade])

    def function(values):
        for value in values:
            yield rungs[np.argmin(np.abs(np.log(rungs / value)))]

    return function


table("preferred-e24", Log(1e-2, 1e6))(nearest(E24))
table("preferred-e96", Log(1e-2, 1e6))(nearest(E96))

E12 = np.array([float(f"{v}e{d}") for d in range(-3, 2) for v in E24[::2]])


def best_pair(name, targets, join):
    """By how much the best of all pairs misses, as the logarithm of the ratio."""

    @table(name, targets)
    def _(column):
        together = join(E12[:, None], E12[None, :]).ravel()
        return (np.min(np.abs(np.log(together / target))) for target in column)


best_pair("pair-parallel-e12", Lin(1.0, 9.9), lambda a, b: 1 / (1 / a + 1 / b))
best_pair("pair-series-e12", Lin(1.0, 9.9), lambda a, b: a + b)


# Distributions

P = Log(1e-12, 0.5)
UPPER = Lin(0.5, 0.999999)
NU = Log(1.0, 1e5)
table("normal-cdf", Lin(-37.0, 8.0))(scipy.stats.norm.cdf)
table("normal-quantile-low", Log(1e-300, 0.5))(scipy.stats.norm.ppf)
table("normal-quantile-high", UPPER)(scipy.stats.norm.ppf)
table("student-cdf", Lin(-30.0, 30.0), NU)(scipy.stats.t.cdf)
table("student-quantile-low", P, NU)(scipy.stats.t.ppf)
table("student-quantile-high", UPPER, NU)(scipy.stats.t.ppf)
table("student-quantile-whole", UPPER, Int(1, 200))(scipy.stats.t.ppf)
table("coverage-factor", Lin(0.5, 0.9999), NU)(lambda p, nu: scipy.stats.t.interval(p, nu)[1])
table("false-accept-risk", Lin(0.0, 4.0))(lambda r: scipy.stats.norm.sf(2 * r))


@table("conformance-one-sided", Lin(-10.0, 10.0), Lin(-10.0, 10.0), Log(0.6, 10.0))
def _(value, high, standard):
    return scipy.stats.norm.cdf(high, loc=value, scale=standard)


@table("conformance-two-sided", Lin(-10.0, 10.0), Lin(0.0, 10.0), Lin(-10.0, 0.0), Log(0.1, 10.0))
def _(value, high, low, standard):
    law = scipy.stats.norm(loc=value, scale=standard)
    return law.cdf(high) - law.cdf(low)


# Uncertainty

BUDGET = [Log(1e-6, 1e3)] * 3 + [Lin(-10.0, 10.0)] * 3 + [Int(1, 100)] * 3


def by_gtc(row):
    inputs = [GTC.ureal(1, u, df) for u, df in zip(row[:3], row[6:])]
    return sum(c * x for c, x in zip(row[3:6], inputs))


table("budget-combined", *BUDGET)(lambda *columns: (by_gtc(r).u for r in zip(*columns)))
table("budget-freedom", *BUDGET)(lambda *columns: (by_gtc(r).df for r in zip(*columns)))


@table("budget-expanded", *BUDGET)
def _(*columns):
    results = [by_gtc(row) for row in zip(*columns)]
    k = scipy.stats.t.ppf(0.975, [math.floor(y.df + 1e-9) for y in results])
    return k * [y.u for y in results]


MODEL = [Lin(1.0, 5.0)] * 5 + [Log(1e-6, 1.0)] * 5 + [Lin(-0.99, 0.99)] * 2


def model_by_gtc(row):
    """a/b·cos c + √(d·e) − ln d·sin a, with a and b, and c and d, correlated."""
    inputs = [GTC.ureal(x, u, independent=False) for x, u in zip(row[:5], row[5:10])]
    a, b, c, d, e = inputs
    GTC.set_correlation(row[10], a, b)
    GTC.set_correlation(row[11], c, d)
    return a / b * GTC.cos(c) + GTC.sqrt(d * e) - GTC.log(d) * GTC.sin(a)


table("model-value", *MODEL)(lambda *columns: (model_by_gtc(r).x for r in zip(*columns)))
table("model-combined", *MODEL)(lambda *columns: (model_by_gtc(r).u for r in zip(*columns)))


formula("resolution", PARTS)(lambda d: d / mp.sqrt(12))
formula("rectangular", PARTS)(lambda a: a / mp.sqrt(3))
formula("triangular", PARTS)(lambda a: a / mp.sqrt(6))
formula("u-shaped", PARTS)(lambda a: a / mp.sqrt(2))
formula("time-base-ppm", Log(9.99e6, 1.001e7), Pick(1e7))(lambda r, f: (r - f) / f * 1000000)
formula("time-base-corrected", Log(1e3, 1e9), Lin(-100.0, 100.0))(
    lambda r, ppm: r / (1 + ppm / 1000000)
)

# Exact decimals


class Reading(Log):
    """A decimal as typed, of which only the last digits differ from row to row."""

    def draw(self, rng):
        return f"{self.low}.{rng.randint(0, 999999):06d}"

    def corners(self):
        return [f"{self.low}.000000", f"{self.low}.999999"]


READINGS = [Reading(10000000, 0)] * 5


def real(fraction):
    return mp.nstr(mpf(fraction.numerator) / fraction.denominator, 17)


@exact("statistics-mean", *READINGS)
def _(*texts):
    return real(sum(map(Fraction, texts)) / len(texts))


@exact("statistics-deviation", *READINGS)
def _(*texts):
    values = list(map(Fraction, texts))
    mean = sum(values) / len(values)
    variance = sum((v - mean) ** 2 for v in values) / (len(values) - 1)
    return mp.nstr(mp.sqrt(mpf(variance.numerator) / variance.denominator), 17)


FACTOR = Pick("1", "-1", "2", "-2", "3", "-3")
PLAN = [Reading(16, 0), FACTOR, Reading(10, 0), FACTOR, Reading(9, 0), FACTOR]


def decimal(fraction, places):
    """A decimal without trailing zeros, rounded half to even."""
    scaled = round(fraction * 10**places)
    sign, digits = ("-" if scaled < 0 else ""), str(abs(scaled)).rjust(places + 1, "0")
    return (sign + digits[:-places] + "." + digits[-places:]).rstrip("0").rstrip(".")


@exact("plan-on-air", *PLAN)
def _(a, ka, b, kb, c, kc):
    megahertz = sum(Fraction(f) * int(k) for f, k in ((a, ka), (b, kb), (c, kc)))
    return decimal(megahertz * 10**6, 6)


@exact("plan-last-target", Reading(27, 0), *PLAN[:4], FACTOR)
def _(channel, a, ka, b, kb, kc):
    others = Fraction(a) * int(ka) + Fraction(b) * int(kb)
    return decimal((Fraction(channel) - others) / int(kc) * 10**6, 6)


def shown(value):
    if isinstance(value, str):
        return value
    return mp.nstr(value, 17) if isinstance(value, mpf) else repr(float(value))


def write(folder, name, rows):
    lines = [f"# seed {SEED}; {VERSIONS}"]
    for row, expected in FORMULAS[name](rows):
        lines.append(",".join([*map(text, row), shown(expected)]))
    (folder / f"{name}.csv").write_text("\n".join(lines) + "\n")


def main():
    folder, rows = Path(sys.argv[1]), int(sys.argv[2])
    folder.mkdir(parents=True, exist_ok=True)
    with get_context("fork").Pool() as pool:
        pool.starmap(write, [(folder, name, rows) for name in FORMULAS], chunksize=1)
    print(f"{len(FORMULAS)} formulas, {rows} rows each, in {folder}")


main()

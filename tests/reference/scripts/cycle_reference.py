"""Answers of NumPy and SciPy for the demodulation of cycled power.

Run:  python3 tests/reference/scripts/cycle_reference.py
Writes tests/reference/data/cycle.json, with versions, command and seed.
The inputs are rounded before they are used, so that both sides see the same numbers.
"""
import json
import pathlib
import platform

import numpy as np
import scipy
from scipy import signal, special, stats

SEED = 20240923
DATA = pathlib.Path(__file__).resolve().parent.parent / "data"


def fit(count, period, random):
    """A sine with drift, a second harmonic and noise, and its fit by least squares with the same columns."""
    n = np.arange(count)
    x = (n - (count - 1) / 2) / ((count - 1) / 2)
    turn = 2 * np.pi * n / period
    readings = 0.3 * x - 0.2 * x**2 + 0.05 * np.cos(turn - 1.1) + 0.02 * np.sin(2 * turn) + 0.037 * random.normal(size=count)
    readings = np.round(readings, 4)
    columns = [np.ones(count), x, x**2]
    for order in (2, 3):
        if order / period <= 0.5 - 0.5 / count:
            columns += [np.cos(order * turn), np.sin(order * turn)]
    columns += [np.cos(turn), np.sin(turn)]
    matrix = np.column_stack(columns)
    amounts = np.linalg.lstsq(matrix, readings, rcond=None)[0]
    covariance = np.linalg.inv(matrix.T @ matrix)
    return {
        "frames": count,
        "periodFrames": period,
        "readings": readings.tolist(),
        "cosine": amounts[-2],
        "sine": amounts[-1],
        "gain": float(np.sqrt((covariance[-2, -2] + covariance[-1, -1]) / 2)),
    }


def chance(power, others):
    """P(U/S <= u/s) for U exponential and S the sum of as many exponential numbers as there are neighbours: F(2, 2J)."""
    count = lambda x: (2 * x - 1) * np.exp(-x)
    ratio = count(power) / sum(count(x) for x in others)
    return {"power": power, "others": others, "pValue": float(stats.f.cdf(ratio * len(others), 2, 2 * len(others)))}


def excursions(power, resels):
    """Worsley's density of the Euler characteristic of a chi-squared field of nu degrees in two dimensions, nu = 2."""
    nu, t = 2, 2 * power
    density = (4 * np.log(2) / (2 * np.pi)) * t ** ((nu - 2) / 2) * np.exp(-t / 2)
    density *= (t - (nu - 1)) / (2 ** ((nu - 2) / 2) * special.gamma(nu / 2))
    return {"power": power, "resels": resels, "expected": float(resels * density)}


def line(count, period, random):
    """The frequency at which the Lomb-Scargle periodogram of a sine in noise is largest."""
    n = np.arange(count, dtype=float)
    readings = np.round(0.05 * np.cos(2 * np.pi * n / period - 0.4) + 0.037 * random.normal(size=count), 4)
    frequencies = np.linspace(1 / period - 0.5 / count, 1 / period + 0.5 / count, 20001)
    power = signal.lombscargle(n, readings - readings.mean(), 2 * np.pi * frequencies)
    return {
        "frames": count,
        "readings": readings.tolist(),
        "periodFrames": float(1 / frequencies[np.argmax(power)]),
    }


random = np.random.default_rng(SEED)
answer = {
    "source": "independent libraries",
    "versions": {"python": platform.python_version(), "numpy": np.__version__, "scipy": scipy.__version__},
    "command": "python3 tests/reference/scripts/cycle_reference.py",
    "seed": SEED,
    "cases": {
        "fits": [fit(16, 6.2, random), fit(57, 9.3, random), fit(200, 2.9, random), fit(131, 60.4, random)],
        "chances": [chance(11.2, [9.1, 10.4, 8.8]), chance(25.5, [9.7, 12.3, 10.9, 11.4, 8.6]), chance(7.3, [8.9, 9.2])],
        "excursions": [excursions(8.0, 100), excursions(12.5, 730), excursions(15.0, 42)],
        "rayleigh": [{"z": z, "tail": float(stats.rayleigh.sf(z))} for z in (1.3, 3.7, 6.1)],
        "lines": [line(240, 11.3, random), line(97, 23.9, random)],
    },
}
(DATA / "cycle.json").write_text(json.dumps(answer, separators=(",", ":")) + "\n")

"""Answers of independent libraries for the numeric kernels.

Run:  python3 tests/reference/scripts/numeric_reference.py
Writes tests/reference/data/numeric-*.json. Every file names the versions, the command and the seed.
The inputs are rounded before they are used, so that both sides see the same numbers.
"""
import json
import pathlib
import platform

import mpmath
import numpy as np
import PIL
import scipy
import skimage
from PIL import Image
from scipy import ndimage, optimize, stats
from skimage import measure

SEED = 20240611
DATA = pathlib.Path(__file__).resolve().parent.parent / "data"


def write(name, cases):
    head = {
        "source": "independent libraries",
        "versions": {
            "python": platform.python_version(),
            "numpy": np.__version__,
            "scipy": scipy.__version__,
            "scikit-image": skimage.__version__,
            "pillow": PIL.__version__,
            "mpmath": mpmath.__version__,
        },
        "command": "python3 tests/reference/scripts/numeric_reference.py",
        "seed": SEED,
        "cases": cases,
    }
    (DATA / f"numeric-{name}.json").write_text(json.dumps(head, separators=(",", ":")) + "\n")


def short(values, digits=7):
    """NaN becomes null; `digits` significant digits."""
    return [None if np.isnan(v) else float(f"{v:.{digits}g}") for v in np.asarray(values, float).ravel()]


def picture(rng, width, height):
    y, x = np.mgrid[0:height, 0:width]
    smooth = 22 + 0.07 * x - 0.05 * y + 6 * np.exp(-((x - 0.6 * width) ** 2 + (y - 0.35 * height) ** 2) / 9)
    return np.round(smooth + rng.normal(0, 0.4, (height, width)), 3)


def gaussian():
    rng = np.random.default_rng(SEED)
    width, height = 31, 23
    data = picture(rng, width, height)
    holed = data.copy()
    holed[rng.random(data.shape) < 0.06] = np.nan
    holed[10:14, 5:11] = np.nan
    cases = []
    for sigma, values in ((0.8, data), (2.1, data), (1.4, holed)):
        known = np.isfinite(values).astype(float)
        filled = np.where(known > 0, values, 0.0)
        total = ndimage.gaussian_filter(filled, sigma, mode="constant", truncate=4.0)
        weight = ndimage.gaussian_filter(known, sigma, mode="constant", truncate=4.0)
        case = {
            "sigmaPx": sigma, "width": width, "height": height,
            "data": short(values), "normalised": short(total / weight),
        }
        if known.all():
            case["plain"] = short(ndimage.gaussian_filter(values, sigma, mode="reflect", truncate=4.0))
        cases.append(case)
    write("gaussian", cases)


def warp():
    rng = np.random.default_rng(SEED + 1)
    width, height = 19, 13
    data = picture(rng, width, height)
    y, x = np.mgrid[0:height, 0:width].astype(float)
    cases = []
    for matrix in ([1, 0, 0.37, 0, 1, -1.22], [0.98, 0.06, -0.4, -0.06, 0.98, 0.9]):
        a, b, c, d, e, f = matrix
        at = np.array([d * x + e * y + f, a * x + b * y + c])
        inside = (at[0] >= 0) & (at[0] <= height - 1) & (at[1] >= 0) & (at[1] <= width - 1)
        for order, name in ((3, "spline"), (1, "linear")):
            values = ndimage.map_coordinates(data, at, order=order, mode="mirror")
            cases.append({
                "order": name, "matrix": matrix, "width": width, "height": height,
                "data": short(data), "expected": short(np.where(inside, values, np.nan)),
            })
    # Pillow enlarges with the cubic of a = -1/2; output pixel i lies at input (i + 0.5)/factor - 0.5.
    factor = 3
    large = Image.fromarray(data.astype(np.float32)).resize((width * factor, height * factor), Image.BICUBIC)
    left, top = 12, 15
    part = np.asarray(large)[top:top + height, left:left + width]
    shift = [(left + 0.5) / factor - 0.5, (top + 0.5) / factor - 0.5]
    cases.append({
        "order": "cubic", "matrix": [1 / factor, 0, shift[0], 0, 1 / factor, shift[1]],
        "width": width, "height": height, "data": short(data), "expected": short(part),
    })
    write("warp", cases)


def labels():
    rng = np.random.default_rng(SEED + 2)
    cases = []
    for width, height, share in ((23, 17, 0.4), (17, 23, 0.55), (31, 11, 0.65)):
        mask = (rng.random((height, width)) < share).astype(np.uint8)
        for connectivity in (4, 8):
            ours = measure.label(mask, connectivity=1 if connectivity == 4 else 2)
            other, count = ndimage.label(mask, structure=None if connectivity == 4 else np.ones((3, 3)))
            assert ours.max() == count
            # Numbered by first pixel in reading order, whatever order a library prefers.
            number = {0: 0}
            for label in ours.ravel():
                number.setdefault(int(label), len(number))
            assert len({(int(p), int(q)) for p, q in zip(ours.ravel(), other.ravel())}) == count + 1
            cases.append({
                "connectivity": connectivity, "width": width, "height": height, "count": int(count),
                "mask": "".join(str(v) for v in mask.ravel()), "labels": [number[int(v)] for v in ours.ravel()],
            })
    write("labels", cases)


def statistics():
    rng = np.random.default_rng(SEED + 3)
    cases = []
    for count, holes, quantised in ((1, 0, False), (2, 0, False), (37, 5, False), (1400, 60, True), (1777, 0, False)):
        values = np.round(rng.standard_t(2, count), 1 if quantised else 4)
        values[rng.permutation(count)[:holes]] = np.nan
        known = values[np.isfinite(values)]
        shares = [0, 0.05, 0.25, 0.5, 0.9, 0.997, 1]
        cases.append({
            "values": short(values), "median": float(np.median(known)),
            "mad": float(stats.median_abs_deviation(known)),
            "shares": shares, "quantiles": [float(np.quantile(known, p)) for p in shares],
        })
    write("statistics", cases)


def nonnegative():
    rng = np.random.default_rng(SEED + 4)
    cases = []
    for rows, columns, free in ((12, 5, 0), (30, 9, 0), (40, 24, 0), (26, 8, 3), (50, 20, 4)):
        a = np.round(rng.normal(0, 1, (rows, columns)) + 0.6, 3)
        truth = rng.normal(0, 1, columns)
        b = np.round(a @ truth + rng.normal(0, 0.5, rows), 3)
        # A free variable is the difference of two that are not negative.
        x, residual = optimize.nnls(np.hstack([a, -a[:, :free]]), b, maxiter=1000)
        solution = x[:columns].copy()
        solution[:free] -= x[columns:]
        fitted = (np.arange(columns) < free) | (solution > 0)
        inverse = np.linalg.inv(a[:, fitted].T @ a[:, fitted])
        variance = np.full(columns, np.nan)
        variance[fitted] = np.diag(inverse)
        cases.append({
            "rows": rows, "columns": columns, "free": free, "a": short(a), "b": short(b),
            "x": short(solution, 12), "residual": float(residual), "variance": short(variance, 12),
        })
    write("nonnegative", cases)


def special():
    mpmath.mp.dps = 40
    places = [1e-6, 0.003, 0.07, 0.9, 1.0, 1.1, 1.99, 2.01, 3.7, 8.3, 19.9, 20.1, 45.0, 130.0, 600.0]
    tails = [-6.0, -1.3, 0.0, 0.4, 2.8, 2.83, 3.9, 7.7, 15.0, 30.0, 37.0]
    chances = [1e-300, 1e-120, 1e-30, 1e-9, 3e-4, 0.02, 0.29, 0.31, 0.499, 0.7, 0.99]
    digits = lambda value: float(mpmath.nstr(value, 17))
    inverse = lambda p: digits(mpmath.findroot(
        lambda z: mpmath.log(mpmath.erfc(z / mpmath.sqrt(2)) / 2) - mpmath.log(mpmath.mpf(p)), stats.norm.isf(p)))
    write("special", {
        "x": places,
        "i0": [digits(mpmath.besseli(0, x)) for x in places],
        "i1": [digits(mpmath.besseli(1, x)) for x in places],
        "k0": [digits(mpmath.besselk(0, x)) for x in places],
        "k1": [digits(mpmath.besselk(1, x)) for x in places],
        "e1": [digits(mpmath.e1(x)) for x in places],
        "z": tails, "tail": [digits(mpmath.erfc(z / mpmath.sqrt(2)) / 2) for z in tails],
        "p": chances, "zForTail": [inverse(p) for p in chances],
    })


for job in (gaussian, warp, labels, statistics, nonnegative, transforms, special):
    job()

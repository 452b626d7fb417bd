"""bench: the plain chain (align, shift, subtract, smooth, robust noise, label, split, measure) by other libraries.

chain-peers.py warm cv|mix WIDTH HEIGHT REPEATS BASELINE POWERED: raw float32 files; milliseconds and spots, as JSON.
chain-peers.py pair sep|cv BASELINE POWERED: a pair of CSV files, in this process; spots and peak memory in MB, as JSON.
chain-peers.py burst loadtxt|imread LOW HIGH BASELINES FOLDER: every frame read and put through the chain; spots of the last.
One thread, as ours.
"""
import json
import os
import resource
import statistics
import sys
import time

import numpy

os.environ.setdefault("OMP_NUM_THREADS", "1")
SIGMA_PX = 1.5
LIMIT = 6.0
FAR_PX = 8


def load(name):
    if name == "cv2":
        import cv2

        cv2.setNumThreads(1)
        return cv2
    if name == "sep":
        import sep

        return sep
    import scipy.fft

    return scipy.fft


def shift_by_fft(a, b, fft):
    """Shift of b against a by phase correlation, with a parabola through the peak."""
    window = numpy.outer(numpy.hanning(a.shape[0]), numpy.hanning(a.shape[1])).astype(numpy.float32)
    f = fft.rfft2((b - b.mean()) * window)
    g = fft.rfft2((a - a.mean()) * window)
    cross = f * numpy.conj(g)
    cross /= numpy.abs(cross) + 1e-12
    surface = fft.irfft2(cross, a.shape)
    row, column = numpy.unravel_index(surface.argmax(), surface.shape)

    def vertex(before, at, after):
        curve = before - 2 * at + after
        return 0.0 if curve == 0 else 0.5 * (before - after) / curve

    h, w = surface.shape
    y = row + vertex(surface[row - 1, column], surface[row, column], surface[(row + 1) % h, column])
    x = column + vertex(surface[row, column - 1], surface[row, column], surface[row, (column + 1) % w])
    return (x - w if x > w / 2 else x), (y - h if y > h / 2 else y)


def noise_of(smooth):
    centre = numpy.median(smooth)
    return centre, 1.4826 * numpy.median(numpy.abs(smooth - centre))


def chain_cv(a, b, cv2):
    window = cv2.createHanningWindow((a.shape[1], a.shape[0]), cv2.CV_32F)
    (dx, dy), _ = cv2.phaseCorrelate(a - a.mean(), b - b.mean(), window)
    smooth = rise(a, b, dx, dy, cv2)
    centre, sigma = noise_of(smooth)
    high = ((smooth - centre) > LIMIT * sigma).astype(numpy.uint8)
    count, labels, stats, _ = cv2.connectedComponentsWithStats(high)
    tops = (smooth == cv2.dilate(smooth, numpy.ones((7, 7), numpy.uint8))) & (high == 1)
    y, x = numpy.nonzero(tops)
    sums = numpy.bincount(labels.ravel(), weights=smooth.ravel(), minlength=count)
    found = [(float(u), float(v), float(smooth[v, u]), int(stats[labels[v, u], 4]), float(sums[labels[v, u]])) for u, v in zip(x, y)]
    return sorted(found, key=lambda spot: -spot[2])


def chain_mix(a, b, cv2, fft, sep):
    dx, dy = shift_by_fft(a, b, fft)
    smooth = rise(a, b, dx, dy, cv2)
    centre, sigma = noise_of(smooth)
    found = sep.extract(smooth - centre, LIMIT, err=sigma, filter_kernel=None)
    return sorted([(float(o["x"]), float(o["y"]), float(o["peak"]), int(o["npix"]), float(o["flux"])) for o in found], key=lambda spot: -spot[2])


def rise(a, b, dx, dy, cv2):
    """The powered frame brought back and subtracted; a border as wide as the shift is left out."""
    move = numpy.array([[1, 0, dx], [0, 1, dy]], numpy.float32)
    back = cv2.warpAffine(b, move, (b.shape[1], b.shape[0]), flags=cv2.INTER_CUBIC | cv2.WARP_INVERSE_MAP)
    difference = back - a
    edge = int(numpy.ceil(max(abs(dx), abs(dy)))) + 1
    difference[:edge] = 0
    difference[-edge:] = 0
    difference[:, :edge] = 0
    difference[:, -edge:] = 0
    return cv2.GaussianBlur(difference, (0, 0), SIGMA_PX)


def warm(which, width, height, repeats, *files):
    a, b = (numpy.fromfile(file, numpy.float32).reshape(int(height), int(width)) for file in files)
    cv2 = load("cv2")
    others = (load("fft"), load("sep")) if which == "mix" else ()
    run = (lambda: chain_mix(a, b, cv2, *others)) if others else (lambda: chain_cv(a, b, cv2))
    times = []
    for _ in range(int(repeats)):
        start = time.perf_counter()
        found = run()
        times.append(1000 * (time.perf_counter() - start))
    return {"ms": statistics.median(times), "spots": [spot[:2] for spot in found]}


def pair(which, *files):
    a, b = (numpy.loadtxt(file, delimiter=",", dtype=numpy.float32) for file in files)
    if which == "cv":
        found = chain_cv(a, b, load("cv2"))
    else:
        dx, dy = shift_by_fft(a, b, numpy.fft)
        u, v = int(numpy.floor(dx)), int(numpy.floor(dy))
        s, t = dx - u, dy - v
        at = lambda i, j: numpy.roll(b, (-v - j, -u - i), (0, 1))
        back = (1 - s) * (1 - t) * at(0, 0) + s * (1 - t) * at(1, 0) + (1 - s) * t * at(0, 1) + s * t * at(1, 1)
        difference = (back - a).astype(numpy.float32)
        edge = FAR_PX
        difference = numpy.ascontiguousarray(difference[edge:-edge, edge:-edge])
        sep = load("sep")
        ground = sep.Background(difference)
        objects = sep.extract(difference - ground.back(), 5.0, err=ground.globalrms)
        found = sorted(([float(o["x"]) + edge, float(o["y"]) + edge, float(o["peak"])] for o in objects), key=lambda spot: -spot[2])
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return {"spots": [spot[:2] for spot in found], "peakMb": peak}


def burst(kind, low, high, baselines, folder):
    cv2 = load("cv2")

    def read(file):
        if kind == "loadtxt":
            return numpy.loadtxt(file, delimiter=",", dtype=numpy.float32)
        levels = cv2.imread(file, cv2.IMREAD_UNCHANGED)
        return levels * numpy.float32((float(high) - float(low)) / 65535) + numpy.float32(low)

    def listed(place):
        return [os.path.join(place, name) for name in sorted(os.listdir(place))]

    a = numpy.mean([read(file) for file in listed(baselines)], axis=0, dtype=numpy.float32)
    found = []
    for file in listed(folder):
        found = chain_cv(a, read(file), cv2)
    return {"spots": [spot[:2] for spot in found]}


print(json.dumps({"warm": warm, "pair": pair, "burst": burst}[sys.argv[1]](*sys.argv[2:])))

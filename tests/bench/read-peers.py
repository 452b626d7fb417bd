"""bench: a file of a frame, or a folder of them -> milliseconds that a library takes to read it into degrees C, and the
sum of all values, as JSON.

read-peers.py loadtxt|imread FILE REPEATS LOW HIGH; one thread, as ours.
"""
import json
import os
import statistics
import sys
import time

import numpy

kind, file, repeats, low, high = sys.argv[1:]
if kind == "imread":
    import cv2

    cv2.setNumThreads(1)


files = [os.path.join(file, name) for name in sorted(os.listdir(file))] if os.path.isdir(file) else [file]


def read(file):
    if kind == "loadtxt":
        return numpy.loadtxt(file, delimiter=",", dtype=numpy.float32)
    levels = cv2.imread(file, cv2.IMREAD_UNCHANGED)
    return levels * numpy.float32((float(high) - float(low)) / 65535) + numpy.float32(low)


times = []
for _ in range(int(repeats)):
    start = time.perf_counter()
    frames = [read(one) for one in files]
    times.append(1000 * (time.perf_counter() - start))
print(json.dumps({"ms": statistics.median(times), "sum": sum(float(frame.sum(dtype=numpy.float64)) for frame in frames)}))

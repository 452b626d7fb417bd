"""Reference homographies by OpenCV: noisy pairs, all of them used (method 0), refined on the distance.

Run from the project's root: python3 tests/reference/scripts/homography-opencv.py
Writes tests/reference/data/homography-opencv.json. Made with OpenCV 4.6.0, numpy 1.24.2, seed 20417.
"""
import json
import cv2
import numpy as np

rng = np.random.default_rng(20417)
truth = np.array([[3.7, -0.42, 21.3], [0.31, 3.55, 17.9], [1.1e-3, -0.7e-3, 1.0]])
cases = []
for count, sigma in [(5, 0.4), (8, 0.4), (23, 1.5)]:
    board = np.round(rng.uniform([0, 0], [58, 34], size=(count, 2)), 3)
    image = np.c_[board, np.ones(count)] @ truth.T
    pixel = np.round(image[:, :2] / image[:, 2:] + rng.normal(0, sigma, size=(count, 2)), 3)
    matrix, _ = cv2.findHomography(board, pixel, 0)
    back = np.c_[board, np.ones(count)] @ matrix.T
    miss = back[:, :2] / back[:, 2:] - pixel
    cases.append({
        "sigmaPx": sigma,
        "board": board.tolist(),
        "pixel": pixel.tolist(),
        "matrix": matrix.ravel().tolist(),
        "rmsPx": float(np.sqrt((miss ** 2).sum(axis=1).mean())),
    })
with open("tests/reference/data/homography-opencv.json", "w") as file:
    json.dump({"tool": "OpenCV " + cv2.__version__ + " findHomography, method 0",
               "numpy": np.__version__, "seed": 20417, "cases": cases}, file, indent=1)
    file.write("\n")

"""A public photograph, shifted by known fractions of a pixel → small grey pictures for tests/reference/align-*.

Run:  python3 tests/reference/scripts/align_camera.py   (writes tests/reference/data/align-camera*.png and .json)
Needs: NumPy, SciPy, scikit-image with its picture `camera` (released under CC0).
No randomness: no seed. The whole 512 × 512 picture is shifted in the frequency domain and then cut, so that the
wrapped border is not in the cut. Figures of scikit-image's own registration are kept beside the true shifts.
"""

import json
import pathlib

import numpy
import scipy
import skimage
from scipy.ndimage import fourier_shift
from skimage import data, io
from skimage.registration import phase_cross_correlation

HERE = pathlib.Path(__file__).resolve().parent.parent / "data"
WIDTH, HEIGHT = 128, 96
LEFT, TOP = 150, 120  # tripod, camera and coat: edges in many directions
SHIFTS = [(2.4, -1.32), (-0.55, 0.3), (-5.15, 3.7)]  # (dx, dy), content moves right and down


def cut(picture):
    part = picture[TOP : TOP + HEIGHT, LEFT : LEFT + WIDTH]
    return numpy.clip(numpy.rint(part), 0, 255).astype(numpy.uint8)


def save(name, picture):
    io.imsave(HERE / name, picture, check_contrast=False)


camera = data.camera().astype(float)
baseline = cut(camera)
save("align-camera.png", baseline)
cases = []
for number, (dx, dy) in enumerate(SHIFTS, start=1):
    moved = cut(numpy.fft.ifft2(fourier_shift(numpy.fft.fft2(camera), (dy, dx))).real)
    name = f"align-camera-{number}.png"
    save(name, moved)
    # Registration answers with the shift that brings the moved picture back.
    back = phase_cross_correlation(baseline, moved, upsample_factor=100)[0]
    cases.append({"file": name, "dxPx": dx, "dyPx": dy, "phaseCorrelation": [-float(back[1]), -float(back[0])]})
(HERE / "align-camera.json").write_text(
    json.dumps(
        {
            "made by": "tests/reference/scripts/align_camera.py",
            "numpy": numpy.__version__,
            "scipy": scipy.__version__,
            "scikit-image": skimage.__version__,
            "picture": "skimage.data.camera(), CC0",
            "baseline": "align-camera.png",
            "cases": cases,
        },
        indent=1,
    )
    + "\n"
)

"""How noise and the positions of single points spread widths, areas, peaks: the program on sixty simulated
planes of one Gaussian beam, against the uncertainties that it states for one of them.

Outside source: the scatter over independent repeats, drawn by numpy; every point of a plane measured where
the stage really went, with fresh noise. A standard deviation of sixty is good to 9 % (1/√(2(n − 1)), closed
form for a normal distribution), the program's own draws to 9 %; two of both together are 25 %.
"""

import math
import tempfile
import unittest
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np

import program
import scans

RUNS = 60
F_HZ, DT_S, W_M = 1.5e6, 4e-8, 1.2e-3
X_M, Y_M = np.arange(-7, 8) * 0.3e-3, np.arange(-6, 7) * 0.35e-3
NOISE_PA, POSITION_M = 2e4, 1e-5
# Those of the data are stated in standard uncertainties of the value.
SOURCES = (("noise", 1.0), ("position", POSITION_M), ("noise-bias", 1.0))
NAMES = ("width_x_6", "width_y_6", "area_6", "pc", "x_peak", "y_peak")
NEAR = 0.25


def planes(folder, runs):
    """Every point where the stage went, which is not quite where it was sent."""
    t = np.arange(360) * DT_S
    wave = scans.tone_burst(1e6, F_HZ, t, 5e-6, 5, 2.0)
    for run in runs:
        rng = np.random.default_rng((3, run))
        dx, dy = POSITION_M * rng.standard_normal((2, len(Y_M), len(X_M)))
        g = np.exp(-((X_M[None, :] + dx) ** 2 + (Y_M[:, None] + dy) ** 2) / W_M**2)
        p = g[..., None] * wave + NOISE_PA * rng.standard_normal((*g.shape, len(t)))
        scans.write_scan(folder / f"{run}.h5", p, DT_S, 0.0, x_m=X_M, y_m=Y_M, z_m=0.05)
    return scans.write_record(
        folder,
        [(f"plane-{run}", "plane", f"{run}.h5") for run in runs],
        excitation={"frequency_hz": F_HZ, "cycles": 5, "repetition_hz": 100.0},
        frame={"u_position": {"value": POSITION_M, "kind": "standard"}},
        analysis={"lowpass": {"kind": "cosine", "cutoff_hz": 3.75e6}},
    )


def measured(runs):
    """By quantity: a list of its entries, one a run."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        sheet = program.report(planes(folder, runs), folder / "sheet")
    return {name: [sheet.quantity(f"plane-{run}", name) for run in runs] for name in NAMES}


class GaussianBeam(unittest.TestCase):
    def test_noise_and_positions(self):
        """In the peaks there is also what the correction for noise scatters by itself."""
        with ThreadPoolExecutor(2) as pool:
            first, second = pool.map(measured, (range(0, RUNS, 2), range(1, RUNS, 2)))
        for name in NAMES:
            entries = first[name] + second[name]
            seen = np.std([entry["value"] for entry in entries], ddof=1)
            said = [
                math.hypot(*(entry["sensitivities"].get(source, 0.0) * u for source, u in SOURCES)) for entry in entries
            ]
            stated = math.sqrt(np.mean(np.square(said)))
            self.assertLess(abs(stated / seen - 1.0), NEAR, f"{name}: stated {stated}, seen {seen}")


if __name__ == "__main__":
    unittest.main()

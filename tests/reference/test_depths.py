"""Planes at several depths: a Gaussian ellipsoid of energy exp(−2(x²/a² + y²/b² + z²/l²)).

Its −6 dB surface is an ellipsoid with the full axes 1.662258 (a, b, l), 2 √(0.3 ln 10) (closed form).
"""

import math
import tempfile
import unittest
from pathlib import Path

import numpy as np

import program
import scans

A_M, B_M, L_M = 1.0e-3, 1.4e-3, 8.0e-3
Z0_M = 60e-3
F_HZ = 1.5e6
AXES = 2.0 * math.sqrt(0.3 * math.log(10.0))


class Stack(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.temporary = tempfile.TemporaryDirectory()
        folder = Path(cls.temporary.name)
        x, y = np.arange(-12, 13) * 0.25e-3, np.arange(-13, 14) * 0.3e-3
        t = 1e-6 + 2e-8 * np.arange(600)
        names = []
        for k, z in enumerate(Z0_M + np.arange(-6, 7) * 1.5e-3):
            amplitude = np.exp(-(x[None, :] ** 2 / A_M**2 + y[:, None] ** 2 / B_M**2 + (z - Z0_M) ** 2 / L_M**2))
            waves = scans.tone_burst(2e6 * amplitude, F_HZ, t, 5e-6, 6, 2.0)
            scans.write_scan(folder / f"z{k}.h5", waves, 2e-8, 1e-6, x_m=x, y_m=y, z_m=z)
            names.append((f"z{k}", "plane", f"z{k}.h5"))
        record = scans.write_record(folder, names, excitation={"frequency_hz": F_HZ})
        cls.sheet = program.report(record, folder / "sheet")

    @classmethod
    def tearDownClass(cls):
        cls.temporary.cleanup()

    def test_focus(self):
        (stack,) = self.sheet.data["depths"]
        self.assertEqual([p["scan"] for p in stack["planes"]], [f"z{k}" for k in range(13)])
        self.assertLess(abs(stack["z_peak_m"] - Z0_M), 2e-5)
        self.assertLess(abs(stack["length_6_m"] / (AXES * L_M) - 1.0), 5e-3)

    def test_volumes(self):
        """Ellipsoid within 1 %; counted within 2 % (ten planes inside, trapezoids)."""
        (stack,) = self.sheet.data["depths"]
        exact = math.pi / 6.0 * AXES**3 * A_M * B_M * L_M
        self.assertLess(abs(stack["ellipsoid_m3"] / exact - 1.0), 0.01)
        self.assertLess(abs(stack["counted_m3"] / exact - 1.0), 0.02)
        self.assertFalse(stack["open"])


if __name__ == "__main__":
    unittest.main()

"""A Gaussian beam seen through a disc: what the program gives back of it.

The plane is averaged over the disc by direct quadrature here, point by point. At the top the mean over a
disc of radius a of exp(−r²/w²) is (w²/a²)(1 − exp(−a²/w²)) (closed form).
"""

import math
import tempfile
import unittest
from pathlib import Path

import numpy as np
from scipy.integrate import quad

import program
import scans
import water

W_M = 1.2e-3
A_M = 0.4e-3
F_HZ = 1.5e6


def disc(radius_m, rings=24, spokes=48):
    """Places and weights of a quadrature over a disc."""
    nodes, weights = np.polynomial.legendre.leggauss(rings)
    s = 0.5 * (nodes + 1.0)
    r = radius_m * np.sqrt(s)
    phi = 2.0 * np.pi * np.arange(spokes) / spokes
    x = np.outer(r, np.cos(phi)).ravel()
    y = np.outer(r, np.sin(phi)).ravel()
    return x, y, np.repeat(0.5 * weights / spokes, spokes)


class GaussianThroughADisc(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.temporary = tempfile.TemporaryDirectory()
        folder = Path(cls.temporary.name)
        x = np.arange(-16, 17) * 0.2e-3
        dx, dy, weight = disc(A_M)
        gx, gy = np.meshgrid(x, x)
        r2 = (gx[..., None] + dx) ** 2 + (gy[..., None] + dy) ** 2
        seen = (np.exp(-r2 / W_M**2) * weight).sum(axis=-1)
        t = 1e-6 + 2e-8 * np.arange(900)
        waves = scans.tone_burst(1e6 * seen, F_HZ, t, 6e-6, 12)
        scans.write_scan(folder / "plane.h5", waves, 2e-8, 1e-6, x_m=x, y_m=x, z_m=0.1)
        cls.sheets = {}
        for asked in (True, False):
            sensor = {
                "response": {"kind": "flat", "v_per_pa": scans.V_PER_PA},
                "full_scale_v": 10.0,
                "effective_radius_m": A_M,
            }
            record = scans.write_record(
                folder,
                [("plane", "plane", "plane.h5")],
                sensor=sensor,
                excitation={"frequency_hz": F_HZ, "cycles": 12, "repetition_hz": 100.0},
                analysis={"corrections": {"spatial_averaging": asked}},
            )
            cls.sheets[asked] = program.report(record, folder / f"sheet-{asked}")

    @classmethod
    def tearDownClass(cls):
        cls.temporary.cleanup()

    def test_what_the_disc_takes(self):
        """Without the correction the peak is low by the closed form."""
        x = (A_M / W_M) ** 2
        ratio = -math.expm1(-x) / x
        found = self.sheets[False].value("plane", "p1") / 1e6
        self.assertLess(abs(found / ratio - 1.0), 2e-3)
        self.assertNotIn("spatial-averaging", str(self.sheets[False].quantity("plane", "p1")["corrections"]))

    def test_peaks_come_back(self):
        """pc, pr, p1 and ppsi: nine tenths of the correction or more, and within its stated uncertainty."""
        bare, corrected = self.sheets[False], self.sheets[True]
        lost = 1.0 - bare.value("plane", "p1") / 1e6
        self.assertGreater(lost, 0.04)
        for name, power in (("p1", 1), ("pc", 1), ("pr", 1), ("ppsi", 2)):
            # What the disc took of the tone it took of all of them.
            truth = bare.value("plane", name) / (1.0 - lost) ** power
            value = corrected.value("plane", name)
            whole = truth - bare.value("plane", name)
            self.assertLess(abs(value - truth), 0.12 * whole, name)
            last = corrected.quantity("plane", name)["corrections"][-1]
            self.assertEqual((last["name"], last["source"]), ("spatial-averaging", "disc-average"))
            self.assertLess(abs(value / truth - 1.0), last["u"], name)

    def test_widths_come_back(self):
        """−6 dB width of exp(−r²/w²): 1.6622581 w (2 √(0.3 ln 10))."""
        truth = 1.662258136 * W_M
        for name in ("width_x_6", "width_y_6"):
            bare, value = (self.sheets[k].value("plane", name) for k in (False, True))
            self.assertGreater(bare / truth, 1.02)
            self.assertLess(abs(value - truth), 0.25 * (bare - truth), name)

    def test_power_comes_back(self):
        """Of exp(−r²/w²) as plane waves: I₀ πw²/2 (closed form), weighted kz/k over its angular spectrum
        exp(−κ²w²/2) (quadrature). The disc shows of each component 2 J₁(κa)/(κa) alone."""
        rho_c = water.density(22.0) * water.sound_speed(22.0)
        k = 2.0 * math.pi * F_HZ / water.sound_speed(22.0)
        planar = 1e12 / 2.0 / rho_c * math.pi * W_M**2 / 2.0
        tilted, _ = quad(
            lambda q: math.exp(-((q * W_M) ** 2) / 2.0) * math.sqrt(1.0 - (q / k) ** 2) * q * W_M**2, 0.0, k
        )
        truth = planar * tilted
        bare, value = (self.sheets[asked].value("plane", "power_on_angular") for asked in (False, True))
        self.assertLess(bare / truth, 0.95)
        self.assertLess(abs(value / truth - 1.0), 2e-3)
        last = self.sheets[True].quantity("plane", "power_on_angular")["corrections"][-1]
        self.assertEqual(last["name"], "spatial-averaging")
        # The plane-wave power of a burst with ramps: the same share comes back.
        ratios = [s.value("plane", "power_on_plane_wave") for s in (self.sheets[True], self.sheets[False])]
        self.assertLess(abs(ratios[0] / ratios[1] / (truth / bare) - 1.0), 5e-3)


if __name__ == "__main__":
    unittest.main()

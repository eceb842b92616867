"""Repeats of a point: the average of their aligned waveforms against the mean of their peaks."""

import tempfile
import unittest
from pathlib import Path

import h5py
import numpy as np

import program
import scans

F_HZ = 1.0e6
T_S = 1e-8 * np.arange(3000)


def steep(start_s):
    """Five Fubini harmonics at σ = 1, 2 J_n(n)/n (D. T. Blackstock, J. Acoust. Soc. Am. 39 (1966) 1019)."""
    return harmonics(start_s, np.array([0.8801011715, 0.3528340286, 0.2060418148, 0.1405645325, 0.1044562184]) * -1j)


def leaning(start_s, side):
    """cos θ ± sin(2θ)/2: its peak is 3√3/4 at θ = ±30°, that of the mean of both is 1 (closed form)."""
    return harmonics(start_s, [1.0, -0.5j * side])


def harmonics(start_s, b):
    return sum(
        scans.tone_burst(
            1e6 * a * np.exp(-2j * np.pi * n * F_HZ * start_s),
            n * F_HZ,
            T_S,
            start_s,
            5 * n,
            2.0 * n,
        )
        for n, a in enumerate(b, 1)
    )


class RepeatsAverage(unittest.TestCase):
    def sheet(self, shapes, noise_pa=0.0):
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            rng = np.random.default_rng(4)
            jitter = rng.normal(0.0, 1e-7, len(shapes))
            waves = np.stack([shape(1e-5 + j) for j, shape in zip(jitter, shapes)])
            waves = waves + noise_pa * rng.normal(size=waves.shape)
            scans.write_scan(folder / "p.h5", waves, 1e-8, 0.0)
            with h5py.File(folder / "p.h5", "a") as f:
                f["waveforms"].attrs["axes"] = "repeat t"
            record = scans.write_record(
                folder, [("p", "point", "p.h5")], excitation={"frequency_hz": F_HZ, "cycles": 5}
            )
            return program.report(record, folder / "sheet")

    def test_jitter_alone(self):
        """A jitter of a tenth of a period would take more than a tenth of the peak: aligned, nothing."""
        for noise_pa in [0.0, 1e4]:
            sheet = self.sheet([steep] * 12, noise_pa)
            self.assertNotIn("repeats-average-differs", sheet.codes())

    def test_another_shape(self):
        """Every other repeat leans the other way."""
        sheet = self.sheet([lambda t: leaning(t, 1.0), lambda t: leaning(t, -1.0)] * 6)
        (found,) = [f for f in sheet.findings if f["code"] == "repeats-average-differs"]
        self.assertEqual(found["place"]["scan"], "p-repeat-1")
        self.assertLess(abs(found["args"]["averaged"]["value"] / 1e6 - 1.0), 0.02)
        self.assertLess(abs(found["args"]["mean"]["value"] / (0.75e6 * np.sqrt(3.0)) - 1.0), 0.02)


if __name__ == "__main__":
    unittest.main()

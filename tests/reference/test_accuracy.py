"""A simulated scan against its noiseless truth, at the conditions of the design: 60 dB at the peak, eight
points across −6 dB (simulated.py; tests/bench/accuracy.py prints the whole table)."""

import tempfile
import unittest
from pathlib import Path

import numpy as np

import simulated

SEEDS = 4


class Accuracy(unittest.TestCase):
    def test_bias_within_the_limits(self):
        """The mean error of a few noise seeds within the limits of the design."""
        expected = simulated.truth()
        held = simulated.Held(8.0)
        self.assertGreaterEqual(held.across, 8.0)
        with tempfile.TemporaryDirectory() as folder:
            rows = [
                list(simulated.errors(held.sheet(Path(folder), 60.0, [5, seed]), expected).values())
                for seed in range(SEEDS)
            ]
        errors = np.array(rows)
        self.assertFalse(np.isnan(errors).any(), "a quantity has no value")
        for name, bias, scatter in zip(expected, errors.mean(axis=0), errors.std(axis=0, ddof=1)):
            with self.subTest(name):
                print(f"{name}: bias {100 * bias:+.2f} %, scatter {100 * scatter:.2f} %")
                self.assertLess(abs(bias), simulated.LIMITS[name])

    def test_the_sensor_is_no_ideal_one(self):
        """What the check rests on: the response ripples by more than a tenth, and the disc takes from the
        peak more than the limit allows."""
        f = np.arange(1.5e6, 12.1e6, 0.1e6)
        ripple = np.abs(simulated.rippled_v_per_pa(f)) / np.abs(simulated.response_v_per_pa(f))
        self.assertGreater(np.ptp(ripple), 0.1)
        point, disc = (
            simulated.Recorder(simulated.WAVE, 1, radius_m=radius).volts(
                np.array([[simulated.SCENARIO.beam_x_m, simulated.SCENARIO.beam_y_m, 44.4e-3]]), 20e-9
            )
            for radius in (0.0, simulated.SENSOR_RADIUS_M)
        )
        self.assertGreater(1.0 - disc.max() / point.max(), simulated.LIMITS["pc"])


if __name__ == "__main__":
    unittest.main()

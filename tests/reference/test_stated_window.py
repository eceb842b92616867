"""Windows that the record states: closed forms of a burst with a known envelope."""

import tempfile
import unittest
from pathlib import Path

import numpy as np

import program
import scans
import water

F_HZ = 1.0e6
DT_S = 1e-8
P_PA = 1e6


class StatedWindow(unittest.TestCase):
    def sheet(self, cycles, window, t0_s=0.0):
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            t = t0_s + DT_S * np.arange(6000)
            # A slow tilt of the plateau, so that a window's place shows: 1 + 0.01 (t − 30 µs)/µs.
            envelope = 1.0 + 0.01 * (t - 30e-6) * 1e6
            wave = scans.tone_burst(P_PA, F_HZ, t, 10e-6, cycles, 3.0) * envelope
            scans.write_point(folder / "p.csv", t, wave)
            record = scans.write_record(
                folder,
                [("p", "point", "p.csv")],
                excitation={"frequency_hz": F_HZ, "cycles": cycles},
                analysis={"window": window, "corrections": {"noise": False}},
            )
            return program.report(record, folder / "sheet")

    def expected(self, a_us, b_us):
        """Mean of p²/(ρc): half the mean square of 1 + 0.01 (t − 30) over the window (closed form)."""
        u, v = 0.01 * (a_us - 30.0), 0.01 * (b_us - 30.0)
        mean = 1.0 + (u + v) + (u * u + u * v + v * v) / 3.0
        return 0.5 * P_PA**2 * mean / (water.sound_speed(22.0) * water.density(22.0))

    def test_steady_in_all_kinds(self):
        """20.0 to 30.7 µs at 1 MHz: ten whole cycles from 20 to 30 µs, for auto as for steady-state."""
        for kind in ["auto", "steady-state"]:
            sheet = self.sheet(40, {"kind": kind, "start_s": 20e-6, "stop_s": 30.7e-6})
            found = sheet.quantity("p", "i_on")
            self.assertLess(abs(found["window"]["start_s"] - 20e-6), 1e-9)
            self.assertLess(abs(found["window"]["stop_s"] - 30e-6), 1e-9)
            self.assertLess(abs(found["value"] / self.expected(20.0, 30.0) - 1.0), 2e-3)
            self.assertFalse([c for c in sheet.codes() if c.startswith("window-")])

    def test_one_limit(self):
        """A stated start alone: the end stays the found one, to a cycle."""
        whole = self.sheet(40, {"kind": "auto"}).quantity("p", "i_on")["window"]
        half = self.sheet(40, {"kind": "auto", "start_s": 18e-6}).quantity("p", "i_on")["window"]
        self.assertLess(abs(half["start_s"] - 18e-6), 1e-9)
        self.assertLess(abs(half["stop_s"] - whole["stop_s"]), 1.001 / F_HZ)
        self.assertLessEqual(half["stop_s"], whole["stop_s"] + 1e-9)

    def test_short_pulse(self):
        """Five cycles, auto: the interval itself; the energy of its part, P²/2 · 3 µs in the plateau."""
        sheet = self.sheet(5, {"kind": "auto", "start_s": 11.5e-6, "stop_s": 13.5e-6})
        found = sheet.quantity("p", "ppsi")
        self.assertLess(abs(found["window"]["start_s"] - 11.5e-6), DT_S)
        self.assertLess(abs(found["window"]["stop_s"] - 13.5e-6), DT_S)
        u, v = 0.01 * -18.5, 0.01 * -16.5
        mean = 1.0 + (u + v) + (u * u + u * v + v * v) / 3.0
        self.assertLess(abs(found["value"] / (0.5 * P_PA**2 * mean * 2e-6) - 1.0), 0.01)
        self.assertIn("window-cuts-pulse", sheet.codes())

    def test_beyond(self):
        sheet = self.sheet(40, {"kind": "auto", "start_s": 20e-6, "stop_s": 90e-6})
        self.assertIn("window-beyond-record", sheet.codes())
        self.assertIn("window-beyond-burst", sheet.codes())
        sheet = self.sheet(40, {"kind": "auto", "start_s": 2e-6, "stop_s": 30e-6})
        self.assertIn("window-beyond-burst", sheet.codes())
        self.assertNotIn("window-beyond-record", sheet.codes())
        sheet = self.sheet(5, {"kind": "whole-pulse", "start_s": 70e-6, "stop_s": 90e-6})
        self.assertIn("window-empty", sheet.codes())
        sheet = self.sheet(40, {"kind": "auto", "start_s": 20e-6, "stop_s": 20.5e-6})
        self.assertIn("no whole cycle", sheet.quantity("p", "i_on")["reason"])


if __name__ == "__main__":
    unittest.main()

"""Drift between revisits of one point, and rows recorded on the fly: Gaussian beams (closed forms)."""

import json
import math
import tempfile
import unittest
from pathlib import Path

import h5py
import numpy as np

import program
import scans

F_HZ = 1.5e6
W_M = 1.2e-3
# Place of the beam: its rows come early.
Y_M = -1.0e-3
P_PA = 2e6
# −6 dB width of exp(−2 r²/w²) in energy: 2 w √(0.3 ln 10) (closed form).
WIDTH_M = 2.0 * W_M * math.sqrt(0.3 * math.log(10.0))
T_S = 2e-8 * np.arange(600)


def write(folder, name, amplitude, times_s=None, **axes):
    scans.write_scan(folder / name, scans.tone_burst(amplitude, F_HZ, T_S, 5e-6, 5, 2.0), 2e-8, 0.0, **axes)
    if times_s is not None:
        with h5py.File(folder / name, "a") as f:
            f["time_s"] = times_s


def beam(x, y):
    return P_PA * np.exp(-(x**2 + y**2) / W_M**2)


class Drift(unittest.TestCase):
    """The output falls by 12 % over the scan, and rows are measured one after the other."""

    def sheet(self, corrections, times=True, dates=False):
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            x = np.arange(-14, 15) * 0.2e-3
            n = len(x) ** 2
            seconds = 2.0 * np.arange(n).reshape(len(x), len(x))
            state = lambda t: 1.06 - 0.12 * t / seconds[-1, -1]
            write(
                folder,
                "plane.h5",
                beam(x[None, :], x[:, None] - Y_M) * state(seconds),
                seconds if times else None,
                x_m=x,
                y_m=x,
                z_m=0.05,
            )
            visits = np.linspace(0.0, seconds[-1, -1], 9)
            write(folder, "visits.h5", P_PA * state(visits), visits if times else None)
            with h5py.File(folder / "visits.h5", "a") as f:
                f["waveforms"].attrs["axes"] = "repeat t"
            record = scans.write_record(
                folder,
                [("plane", "plane", "plane.h5"), ("visits", "reference", "visits.h5")],
                excitation={"frequency_hz": F_HZ, "cycles": 5},
                analysis={"corrections": corrections},
            )
            if dates:
                data = json.loads(record.read_text())
                for scan in data["scans"]:
                    scan["acquisition"] = {"started": "2026-05-04T10:00:00", "ended": "2026-05-04T10:28:00"}
                record.write_text(json.dumps(data))
            return program.report(record, folder / "sheet")

    def test_not_asked(self):
        sheet = self.sheet({})
        self.assertIn("output-drift", sheet.codes("visits"))
        self.assertEqual([c for c in sheet.quantity("plane", "ppsi")["corrections"] if c["name"] == "drift"], [])
        # The fall moves the peak toward the rows that came first: y of the peak of the product.
        self.assertLess(sheet.value("plane", "y_peak") - Y_M, -5e-6)

    def test_corrected(self):
        """The mean of the visits is the state 1: pressure, place and width are those of the beam."""
        for times, dates in [(True, False), (False, True)]:
            sheet = self.sheet({"drift": True}, times, dates)
            pc = sheet.quantity("plane", "pc")
            (told,) = [c for c in pc["corrections"] if c["name"] == "drift"]
            self.assertLess(told["u"], 1e-3)
            # Row 9 of 0 … 28: 1.06 − 0.12 · 9.5/29 = 1.0207 of the mean, half a row either way 0.002.
            self.assertLess(abs(told["factor"] * 1.0207 - 1.0), 2.5e-3)
            self.assertEqual(told["source"], "revisits")
            # pc of the five-cycle burst is its amplitude to 0.1 % (carrier and envelope).
            self.assertLess(abs(pc["value"] / P_PA - 1.0), 4e-3)
            self.assertLess(abs(sheet.value("plane", "y_peak") - Y_M), 2e-6)
            self.assertLess(abs(sheet.value("plane", "width_y_6") / WIDTH_M - 1.0), 3e-3)

    def test_no_times(self):
        sheet = self.sheet({"drift": True}, times=False)
        self.assertIn("drift-not-corrected", sheet.codes("plane"))


class RowsOnTheFly(unittest.TestCase):
    """Odd rows stand 0.16 mm further in x than even ones."""

    def sheet(self, corrections):
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            x = np.arange(-16, 17) * 0.2e-3
            half = 0.08e-3 * np.where(np.arange(len(x)) % 2 == 1, 1.0, -1.0)[:, None]
            write(folder, "plane.h5", beam(x[None, :] - half, x[:, None]), None, x_m=x, y_m=x, z_m=0.05)
            record = scans.write_record(
                folder,
                [("plane", "plane", "plane.h5")],
                excitation={"frequency_hz": F_HZ, "cycles": 5},
                analysis={"corrections": corrections},
            )
            data = json.loads(record.read_text())
            data["scans"][0]["acquisition"] = {"motion": "on-the-fly"}
            record.write_text(json.dumps(data))
            return program.report(record, folder / "sheet")

    def test_moved(self):
        asked, plain = self.sheet({"motion": True}), self.sheet({})
        for sheet in [asked, plain]:
            self.assertIn("rows-offset", sheet.codes("plane"))
        found = asked.quantity("plane", "width_x_6")
        (told,) = [c for c in found["corrections"] if c["name"] == "motion"]
        self.assertLess(abs(found["value"] / WIDTH_M - 1.0), 3e-3)
        self.assertLess(abs(found["value_uncorrected"] / plain.value("plane", "width_x_6") - 1.0), 1e-9)
        self.assertGreater(told["u"], 0.0)
        self.assertLess(abs(asked.value("plane", "x_peak")), 5e-6)
        area = math.pi / 4.0 * WIDTH_M**2
        self.assertLess(abs(asked.value("plane", "area_6") / area - 1.0), 5e-3)


if __name__ == "__main__":
    unittest.main()

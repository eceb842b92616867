"""Calibration by a check source, through the program.

The scans are simulated by numpy (demo-data/simulation/check_source.py and below): sources, sensors that
average over a disc, digitisers, noise. The truth is what went into them; the rules of combination are those
of JCGM 100:2008 (5.1.2, 4.2, 4.3.7).
"""

import json
import math
import tempfile
import unittest
from pathlib import Path

import h5py
import numpy as np

import program

RANGES = program.DEMO / "ranges"
DT_S = 1e-8
F_HZ = 2e6
REFERENCE_V_PER_PA = 5e-8


def burst(amplitude_pa, samples=1200, arrival_s=4e-6, cycles=8):
    """A tone burst with half-cosine ends of one period."""
    t = DT_S * np.arange(samples) - arrival_s
    length, ramp = cycles / F_HZ, 1.0 / F_HZ
    rise = np.clip(t / ramp, 0.0, 1.0)
    fall = np.clip((length - t) / ramp, 0.0, 1.0)
    envelope = (0.5 - 0.5 * np.cos(np.pi * rise)) * (0.5 - 0.5 * np.cos(np.pi * fall))
    return np.multiply.outer(np.asarray(amplitude_pa), envelope * np.sin(2 * np.pi * F_HZ * t))


class Transfers(unittest.TestCase):
    """Made for each test: scans of the source, and one scan at a range."""

    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.folder = Path(self.temporary.name)
        self.random = np.random.default_rng(62127)

    def tearDown(self):
        self.temporary.cleanup()

    def write(self, name, volts, noise_v=1e-5, **more):
        volts = np.asarray(volts)
        with h5py.File(self.folder / name, "w") as f:
            f["waveforms"] = (volts + noise_v * self.random.standard_normal(volts.shape)).astype("f4")
            f["dt_s"], f["t0_s"] = DT_S, 0.0
            for key, value in more.items():
                f[key] = value

    def record(self, ranges, scans, measured="a", **response):
        record = {
            "schema": "focalsheet-record/1",
            "water": {"temperature_c": 22.0},
            "excitation": {"frequency_hz": F_HZ},
            "sensor": {
                "ranges": [{"id": name, "full_scale_v": 5.0} for name in ranges],
                "response": {
                    "kind": "check-source",
                    "reference_scan": "reference",
                    "reference_response": {
                        "kind": "flat",
                        "v_per_pa": REFERENCE_V_PER_PA,
                        "uncertainty": {"value": 0.06, "kind": "expanded", "k": 2, "relative": True},
                    },
                    "device_scans": {name: f"source-{name}" for name in ranges},
                    "flatness": {"value": 0.02, "kind": "standard", "relative": True},
                    **response,
                },
            },
            "scans": [{"id": i, "role": "check-source", "file": f"{i}.h5"} for i in scans]
            + [{"id": "focus", "role": "point", "file": "focus.h5", "range": measured}],
        }
        path = self.folder / "record.json"
        path.write_text(json.dumps(record), encoding="utf-8")
        return path

    def report(self, *arguments, **response):
        return program.report(self.record(*arguments, **response), self.folder / "sheet")

    def factor(self, sheet, name="a"):
        (transfer,) = sheet.data["transfers"]
        return next(r for r in transfer["ranges"] if r["range"] == name)

    def test_one_range(self):
        """10 shots with 1 % scatter: the factor, its sources, and the pressure of a scan."""
        scatter = 1.0 + 0.01 * self.random.standard_normal(10)
        self.write("reference.h5", REFERENCE_V_PER_PA * burst(np.full(10, 2e5)))
        self.write("source-a.h5", 3e-8 * burst(2e5 * scatter))
        self.write("focus.h5", 3e-8 * burst(1e6))
        sheet = self.report(["a"], ["reference", "source-a"])
        factor = self.factor(sheet)
        # The mean of the ten scale factors is what the shots had.
        self.assertLess(abs(factor["v_per_pa"] / (3e-8 * scatter.mean()) - 1.0), 5e-4)
        u = {s["source"]: s["u_relative"] for s in factor["sources"]}
        self.assertAlmostEqual(u["reference-certificate"], 0.03, places=12)
        self.assertAlmostEqual(u["flatness"], 0.02, places=12)
        type_a = scatter.std(ddof=1) / scatter.mean() / math.sqrt(10)
        self.assertLess(abs(u["transfer-repeatability"] / type_a - 1.0), 0.05)
        together = math.sqrt(sum(v * v for v in u.values()))
        self.assertAlmostEqual(factor["u_relative"], together, places=12)
        # The automatic low-pass passes the fundamental alone, and overshoots where the burst sets in.
        pc = burst(1e6).max() * 3e-8 / factor["v_per_pa"]
        self.assertLess(abs(sheet.value("focus", "pc") / pc - 1.0), 4e-3)
        self.assertIn("transfer-no-drift", sheet.codes())
        self.assertNotIn("transfer-without-repeats", sheet.codes())

    def test_before_and_after(self):
        """The source gains 4 % between the two measurements with the calibrated sensor: their mean, and half
        the change as limits (4 %/2/√3 of the mean)."""
        self.write("reference.h5", REFERENCE_V_PER_PA * burst(np.full(6, 2.00e5)))
        self.write("after.h5", REFERENCE_V_PER_PA * burst(np.full(6, 2.08e5)))
        self.write("source-a.h5", 3e-8 * burst(np.full(6, 2.04e5)))
        self.write("focus.h5", 3e-8 * burst(1e6))
        sheet = self.report(["a"], ["reference", "after", "source-a"], reference_scan_after="after")
        (transfer,) = sheet.data["transfers"]
        self.assertLess(abs(transfer["drift"] - 0.04), 5e-4)
        factor = self.factor(sheet)
        self.assertLess(abs(factor["v_per_pa"] / 3e-8 - 1.0), 5e-4)
        u = {s["source"]: s["u_relative"] for s in factor["sources"]}
        self.assertLess(abs(u["source-drift"] / (0.02 / math.sqrt(3)) - 1.0), 0.02)
        self.assertIn("source-drifted", sheet.codes())

    def test_levels_show_compression(self):
        """Two ranges at three levels of the source; the second loses 6 % at the highest: told, and in the
        uncertainty of that range alone."""
        levels = [1.0, 2.0, 3.0]
        pressures = np.array([1e5, 2e5, 3e5])[:, None] * np.ones((1, 8))
        bent = np.array([1.0, 1.0, 0.94])[:, None]
        self.write("reference.h5", REFERENCE_V_PER_PA * burst(pressures), level=levels)
        self.write("source-a.h5", 3e-8 * burst(pressures), level=levels)
        self.write("source-b.h5", 9e-8 * burst(pressures * bent), level=levels)
        self.write("focus.h5", 3e-8 * burst(1e6))
        for name in ("reference", "source-a", "source-b"):
            with h5py.File(self.folder / f"{name}.h5", "r+") as f:
                f["waveforms"].attrs["axes"] = "level repeat t"
        sheet = self.report(["a", "b"], ["reference", "source-a", "source-b"])
        a, b = self.factor(sheet, "a"), self.factor(sheet, "b")
        self.assertLess(abs(a["v_per_pa"] / 3e-8 - 1.0), 1e-3)
        # The line through zero: Σ V P / Σ P² with the bent reading.
        expected = 9e-8 * (1 + 4 + 9 * 0.94) / 14
        self.assertLess(abs(b["v_per_pa"] / expected - 1.0), 1e-3)
        linear = {s["source"]: s["u_relative"] for s in b["sources"]}["linearity"]
        self.assertGreater(linear, 0.02)
        self.assertLess({s["source"]: s["u_relative"] for s in a["sources"]}["linearity"], 0.002)
        self.assertIn("ranges-disagree", sheet.codes())

    def test_a_bent_peak_shows_between_features(self):
        """A sensor that compresses within the cycle, y = x − 0.25 x³ of its peak: peak and fundamental give
        factors that differ (1 − 0.25 against 1 − 0.75·0.25, closed form of x³)."""
        wave = burst(np.full(8, 1.0))
        self.write("reference.h5", REFERENCE_V_PER_PA * 2e5 * wave)
        self.write("source-a.h5", 3e-8 * 2e5 * (wave - 0.25 * wave**3))
        self.write("focus.h5", 3e-8 * burst(1e6))
        sheet = self.report(["a"], ["reference", "source-a"])
        by = self.factor(sheet)["by_feature"]
        self.assertLess(abs(by["peak"] / 3e-8 - 0.75), 0.01)
        self.assertLess(abs(by["fundamental"] / 3e-8 - 0.8125), 0.015)
        self.assertIn("features-disagree", sheet.codes())

    def test_what_is_missing_is_told(self):
        self.write("reference.h5", REFERENCE_V_PER_PA * burst(np.full(4, 2e5)))
        self.write("source-a.h5", 3e-8 * burst(np.full(4, 2e5)))
        self.write("focus.h5", 3e-8 * burst(1e6))
        # The scan was made at a range that no scan of the source is named for.
        record = json.loads(self.record(["a", "b"], ["reference", "source-a"], measured="b").read_text())
        record["sensor"]["response"]["device_scans"] = {"a": "source-a"}
        (self.folder / "record.json").write_text(json.dumps(record))
        run = program.Run("report", self.folder / "record.json", "--out", self.folder / "sheet")
        self.assertNotEqual(run.status, 0)
        self.assertIn("“b”", run.complained)
        # Noise alone in place of the source.
        self.write("source-a.h5", np.zeros((4, 1200)))
        path = self.record(["a"], ["reference", "source-a"])
        run = program.Run("report", path, "--out", self.folder / "sheet")
        self.assertNotEqual(run.status, 0)
        self.assertIn("source-a", run.complained)


class Demo(unittest.TestCase):
    """The demo's ranges against what they were made from."""

    @classmethod
    def setUpClass(cls):
        cls.temporary = tempfile.TemporaryDirectory()
        cls.sheet = program.report(RANGES / "record.json", Path(cls.temporary.name) / "sheet")
        cls.truth = json.loads((RANGES / "truth.json").read_text(encoding="utf-8"))

    @classmethod
    def tearDownClass(cls):
        cls.temporary.cleanup()

    def test_factors(self):
        """Within three standard uncertainties of what scatters: shots, noise, and a fifth of a percent for
        the drift's unknown course. The certificate is right in the demo."""
        (transfer,) = self.sheet.data["transfers"]
        self.assertEqual([r["range"] for r in transfer["ranges"]], list(self.truth["factors_v_per_pa"]))
        for found in transfer["ranges"]:
            expected = self.truth["factors_v_per_pa"][found["range"]]
            random = [
                s["u_relative"]
                for s in found["sources"]
                if s["source"].endswith(("repeatability", "noise"))
            ]
            limit = 3.0 * math.sqrt(sum(u * u for u in random)) + 0.002
            self.assertLess(abs(found["v_per_pa"] / expected - 1.0), limit, found["range"])
        self.assertLess(abs(transfer["drift"] - self.truth["source_drift"]), 0.003)

    def test_noise_of_the_ranges(self):
        """White noise of σ volts over the Nyquist band B₀ is σ/M √(B/B₀) in the band B of the low-pass; with
        the digitiser's rounding, q²/12, added. Within 4 % (16 records)."""
        record = json.loads((RANGES / "record.json").read_text(encoding="utf-8"))
        full = {r["id"]: r["full_scale_v"] for r in record["sensor"]["ranges"]}
        found = {r["of"]["range"]: r for r in self.sheet.data["ranges"] if isinstance(r["of"], dict)}
        self.assertEqual(set(found), set(full))
        for name, row in found.items():
            step = 2.0 * full[name] / 2 ** record["sensor"]["bits"]
            sigma = math.hypot(self.truth["noise_v"][name], step / math.sqrt(12.0))
            share = math.sqrt(row["band_hz"] / self.truth["noise_bandwidth_hz"])
            expected = sigma / self.truth["factors_v_per_pa"][name] * share
            self.assertLess(abs(row["nep_pa"] / expected - 1.0), 0.04, name)
            self.assertEqual(row["from"], "noise-record")

    def test_pressures(self):
        """Peaks at each level within 0.6 % of the truth; every range its own factor."""
        for row in self.truth["quantities"]:
            value = self.sheet.value(row["scan"], row["quantity"])
            self.assertLess(abs(value / row["value"] - 1.0), 6e-3, row)


if __name__ == "__main__":
    unittest.main()

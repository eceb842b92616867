"""The sensor before and after the scans, through the program, against scipy on simulated shots.

What is compared is made by numpy: shots of a burst with known factors. Means and scatter are those of the
factors; Welch's test of two means is scipy.stats.ttest_ind with equal_var=False, the degrees of freedom those
of Welch and Satterthwaite (JCGM 100:2008, G.4), k that of scipy.stats.t.
"""

import json
import math
import tempfile
import unittest
from pathlib import Path

import h5py
import numpy as np
from scipy import stats

import program

F_HZ = 2e6
DT_S = 1e-8


def burst(amplitudes, samples=1500, arrival_s=5e-6, cycles=12):
    """A tone burst with half-cosine ends of one period."""
    t = DT_S * np.arange(samples) - arrival_s
    length, ramp = cycles / F_HZ, 1.0 / F_HZ
    rise = np.clip(t / ramp, 0.0, 1.0)
    fall = np.clip((length - t) / ramp, 0.0, 1.0)
    envelope = (0.5 - 0.5 * np.cos(np.pi * rise)) * (0.5 - 0.5 * np.cos(np.pi * fall))
    return np.multiply.outer(np.asarray(amplitudes), envelope * np.sin(2 * np.pi * F_HZ * t))


class SensorCheck(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.folder = Path(self.temporary.name)
        self.random = np.random.default_rng(62127)

    def tearDown(self):
        self.temporary.cleanup()

    def write(self, name, volts):
        volts = np.asarray(volts)
        with h5py.File(self.folder / name, "w") as f:
            f["waveforms"] = (volts + 1e-6 * self.random.standard_normal(volts.shape)).astype("f4")
            f["dt_s"], f["t0_s"] = DT_S, 0.0

    def factors(self, count, mean, scatter):
        return mean * (1.0 + scatter * self.random.standard_normal(count))

    def report(self, before, after, after_range="a", written=True, **checked):
        self.write("before.h5", burst(before))
        if written:
            self.write("after.h5", burst(after))
        self.write("focus.h5", burst(0.05))
        record = {
            "schema": "focalsheet-record/1",
            "water": {"temperature_c": 22.0},
            "excitation": {"frequency_hz": F_HZ},
            "sensor": {
                "ranges": [{"id": name, "full_scale_v": 5.0} for name in ("a", "b")],
                "response": {"kind": "flat", "v_per_pa": 5e-8},
                "checked": {"before": "before", "after": "after", **checked},
            },
            "scans": [
                {"id": "before", "role": "check-source", "file": "before.h5", "range": "a"},
                {"id": "focus", "role": "point", "file": "focus.h5", "range": "a"},
                {"id": "after", "role": "check-source", "file": "after.h5", "range": after_range},
            ],
        }
        path = self.folder / "record.json"
        path.write_text(json.dumps(record), encoding="utf-8")
        return program.report(path, self.folder / "sheet")

    def told(self, sheet):
        return sorted(c for c in sheet.codes() if c.startswith("sensor-"))

    def expected(self, before, after, u_placing):
        """Change, U and degrees of freedom."""
        ratio = np.mean(after) / np.mean(before)
        u = [ratio * stats.sem(x) / np.mean(x) for x in (before, after)]
        u_c = math.sqrt(sum(v * v for v in u) + (ratio * u_placing) ** 2)
        nu = u_c**4 / sum(v**4 / (len(x) - 1) for v, x in zip(u, (before, after)))
        return ratio - 1.0, stats.t.ppf(0.975, nu) * u_c, nu

    def test_against_scipy(self):
        """Rises and falls, few and many shots, all features: value, U and ν; the check source scans are not
        evaluated as fields."""
        for change, counts, scatter, feature in [
            (0.0, (10, 10), (0.004, 0.004), None),
            (-0.05, (12, 5), (0.002, 0.01), "fundamental"),
            (0.03, (4, 20), (0.01, 0.003), "rms"),
            (-0.4, (3, 3), (0.005, 0.02), "peak"),
        ]:
            with self.subTest(change=change, feature=feature):
                before = self.factors(counts[0], 0.02, scatter[0])
                after = self.factors(counts[1], 0.02 * (1 + change), scatter[1])
                more = {"feature": feature} if feature else {}
                stated = {"value": 0.003, "kind": "standard", "relative": True}
                sheet = self.report(before, after, uncertainty=stated, **more)
                value, expanded, nu = self.expected(before, after, 0.003)
                found = sheet.quantity("after", "sensitivity_change")
                self.assertLess(abs(found["value"] - value), 2e-4)
                self.assertLess(abs(found["u_expanded"] / expanded - 1.0), 0.02)
                self.assertLess(abs(found["nu_eff"] / nu - 1.0), 0.05)
                self.assertEqual(
                    self.told(sheet), ["sensor-changed" if abs(value) > expanded else "sensor-unchanged"]
                )
                self.assertEqual([s["id"] for s in sheet.data["scans"]], ["focus", "after"])
                self.assertEqual(sheet.scan("after")["role"], "check-source")
                self.assertNotIn("role-not-evaluated", sheet.codes())

    def test_welch(self):
        """With next to nothing from source and placing, the conclusion is that of Welch's test."""
        stated = {"value": 1e-9, "kind": "standard", "relative": True}
        concluded = set()
        for shift in np.linspace(-0.012, 0.012, 9):
            before, after = self.factors(8, 0.02, 0.004), self.factors(6, 0.02 * (1 + shift), 0.008)
            p = stats.ttest_ind(after, before, equal_var=False).pvalue
            if 0.04 < p < 0.06:
                continue
            told = self.told(self.report(before, after, uncertainty=stated))
            self.assertEqual(told, ["sensor-changed" if p < 0.05 else "sensor-unchanged"], f"{shift} {p}")
            concluded |= set(told)
        self.assertEqual(len(concluded), 2)

    def test_not_stated(self):
        """Limits of ± 1 %: u = 1 %/√3 of the ratio."""
        before, after = self.factors(10, 0.02, 1e-3), self.factors(10, 0.0201, 1e-3)
        sheet = self.report(before, after)
        _, expanded, _ = self.expected(before, after, 0.01 / math.sqrt(3))
        found = sheet.quantity("after", "sensitivity_change")
        self.assertLess(abs(found["u_expanded"] / expanded - 1.0), 0.01)
        self.assertEqual(self.told(sheet), ["sensor-check-assumed", "sensor-unchanged"])

    def test_what_cannot_be_compared(self):
        both = self.factors(5, 0.02, 1e-3)
        self.assertEqual(self.told(self.report(both, both, after_range="b")), ["sensor-check-ranges-differ"])
        self.assertEqual(self.told(self.report(both, 0.0 * both)), ["sensor-check-no-signal"])
        sheet = self.report(both[:1], both[:1] * 0.9)
        self.assertEqual(self.told(sheet), ["sensor-check-few-shots"])
        found = sheet.quantity("after", "sensitivity_change")
        self.assertLess(abs(found["value"] + 0.1), 1e-3)
        self.assertIsNone(found["u_expanded"])
        (self.folder / "after.h5").unlink()
        self.assertEqual(self.told(self.report(both, both, written=False)), ["sensor-check-unread"])


if __name__ == "__main__":
    unittest.main()

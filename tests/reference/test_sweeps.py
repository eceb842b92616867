"""Sweeps of the drive level from files of known pressure: lines, where they end, scaling, remarks.

Bursts cos θ + ε cos 2θ have the peaks p_c = a (1 + ε), p_r = a (1 − ε) while ε < 1/4 (closed form), so that
ε may bend both curves as wanted.
"""

import json
import json
import tempfile
import unittest
from pathlib import Path

import h5py
import numpy as np

import program
import scans
import water

F_HZ = 1.0e6
T_S = 2e-8 * np.arange(1800)
CYCLES = 20
START_S = 6e-6
NOISE_PA = 2e3


def shots(a, eps, number, rng, scatter=0.0, noise_pa=NOISE_PA):
    """Waveforms (number, nt) of amplitude `a` in Pa."""
    carrier = scans.tone_burst(np.exp(-2j * np.pi * F_HZ * START_S), F_HZ, T_S, START_S, CYCLES)
    double = scans.tone_burst(np.exp(-4j * np.pi * F_HZ * START_S), 2 * F_HZ, T_S, START_S, 2 * CYCLES, 6.0)
    size = a * (1.0 + scatter * rng.normal(size=(number, 1)))
    return size * (carrier + eps * double) + noise_pa * rng.normal(size=(number, len(T_S)))


class Sweeps(unittest.TestCase):
    def sheet(self, entries, extra=None, **record):
        """`entries`: id → (levels, waves (level, repeat, nt), more of the scan, unit of the levels)."""
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            listed = []
            for key, (levels, waves, more, unit) in entries.items():
                path = folder / f"{key}.h5"
                scans.write_scan(path, waves, T_S[1], 0.0, x_m=0.0, y_m=0.0, z_m=0.1)
                with h5py.File(path, "a") as f:
                    f["level"] = np.asarray(levels, float)
                    f["waveforms"].attrs["axes"] = "level repeat t"
                    if unit:
                        f["level"].attrs["units"] = unit
                listed.append({"id": key, "role": "sweep", "file": path.name} | more)
            stated = {
                "excitation": {
                    "frequency_hz": F_HZ,
                    "cycles": CYCLES,
                    "repetition_hz": 10.0,
                    "mode": "burst",
                    "level_unit": "V",
                    "level_kind": "amplitude",
                },
                "sensor": {
                    "response": {
                        "kind": "flat",
                        "v_per_pa": scans.V_PER_PA,
                        "uncertainty": {"value": 0.08, "kind": "expanded", "k": 2, "relative": True},
                    },
                    "full_scale_v": 10.0,
                },
            } | record
            path = scans.write_record(folder, [], **stated)
            whole = json.loads(path.read_text("utf-8")) | {"scans": listed}
            path.write_text(json.dumps(whole), "utf-8")
            if extra:
                extra(folder)
            self.path = path
            run = program.Run("report", path, "--out", folder / "sheet")
            self.said = run.complained
            if not (folder / "sheet/sheet.json").exists():
                return None
            return program.Sheet(folder / "sheet/sheet.json")

    def test_a_straight_curve(self):
        """Proportional pressures: slope 40 kPa/V, no departure, no intercept; scatter of the shots in u."""
        rng = np.random.default_rng(1)
        levels = np.arange(5.0, 55.0, 5.0)
        waves = np.stack([shots(4e4 * v, 0.0, 6, rng, 0.003, 200.0) for v in levels])
        sheet = self.sheet({"sweep": (levels, waves, {}, "V")})
        drive = sheet.data["drives"][0]
        self.assertEqual([row["level"] for row in drive["rows"]], list(levels))
        self.assertTrue(all(row["shots"] == row["used"] == 6 for row in drive["rows"]))
        for symbol in ["pc", "pr"]:
            line = drive[f"{symbol}_line"]
            self.assertLess(abs(line["slope"] - 4e4), 4.0 * line["u_slope"])
            self.assertLess(line["u_slope"], 0.005 * 4e4)
            self.assertLess(abs(line["intercept_pa"]), 4.0 * line["u_intercept_pa"])
            self.assertEqual(line["level_max"], 50.0)
            self.assertEqual(line["points"], 10)
            # The same rows by numpy, weights 1/u; uncertainties widened by the scatter about the line.
            x = np.array([row["level"] for row in drive["rows"]])
            y = np.array([row[f"{symbol}_pa"] for row in drive["rows"]])
            u = np.array([row[f"u_{symbol}_pa"] for row in drive["rows"]])
            fit, covariance = np.polyfit(x, y, 1, w=1.0 / u, cov="unscaled")
            chi = np.sqrt((((y - np.polyval(fit, x)) / u) ** 2).sum() / (len(x) - 2))
            self.assertLess(abs(line["slope"] / fit[0] - 1.0), 1e-9)
            u_slope = np.sqrt(covariance[0, 0]) * max(1.0, chi)
            self.assertLess(abs(line["u_slope"] / u_slope - 1.0), 1e-6)
            # The standard deviation of a mean of six shots that scatter by 0.3 %.
            scatter = u / y
            self.assertTrue((scatter > 0.0004).all() and (scatter < 0.01).all(), scatter)
        slope = sheet.quantity("sweep", "pc_slope")
        self.assertEqual(slope["unit"], "Pa/V")
        # The calibration's 4 % are common to all levels.
        self.assertLess(abs(slope["u_common"] / slope["value"] - 0.04), 0.01)
        self.assertIn("kPa/V", slope["text"])
        self.assertEqual(sheet.value("sweep", "level_linear_max"), 50.0)
        self.assertEqual(sheet.quantity("sweep", "level_linear_max")["text"], "50\u00a0V")
        self.assertNotIn("line-misses-zero", sheet.codes("sweep"))
        self.assertNotIn("beyond-linear-part", sheet.codes("sweep"))
        # Each level has its own quantities, and the mean of its shots.
        for number, row in enumerate(drive["rows"], 1):
            self.assertEqual(row["pc_pa"], sheet.value(f"sweep-level-{number}", "pc"))

    def test_a_bent_curve(self):
        """ε grows by 0.5 % a volt above 30 V: at 60 V p_c lies 15 % above the line, p_r 15 % below."""
        rng = np.random.default_rng(2)
        levels = np.arange(6.0, 61.0, 6.0)
        bend = np.maximum(0.0, 0.005 * (levels - 30.0))
        waves = np.stack([shots(4e4 * v, e, 5, rng, 0.001) for v, e in zip(levels, bend)])
        sheet = self.sheet({"sweep": (levels, waves, {}, "V")})
        drive = sheet.data["drives"][0]
        for symbol, sign in [("pc", 1.0), ("pr", -1.0)]:
            line = drive[f"{symbol}_line"]
            self.assertEqual(line["level_max"], 30.0)
            self.assertLess(abs(line["slope"] / 4e4 - 1.0), 0.01)
            off = abs(line["departure_top"] - sign * 0.15)
            self.assertLess(off, 0.003 + 3.0 * line["u_departure_top"])
        self.assertEqual(sheet.value("sweep", "level_linear_max"), 30.0)
        self.assertIn("beyond-linear-part", sheet.codes("sweep"))
        second = [row["harmonics"][0] for row in drive["rows"]]
        for found, expected in zip(second, bend):
            if expected > 0.02:
                self.assertLess(abs(found / expected - 1.0), 0.02)
        # A sine rises from 10 to 90 % in arcsin(0.8)/π of its period.
        self.assertLess(abs(drive["rows"][2]["front_rise_s"] * F_HZ * np.pi / np.arcsin(0.8) - 1.0), 0.02)

    def test_levels_of_power(self):
        """Pressure goes with the root of a power: 10 kPa per √W."""
        rng = np.random.default_rng(3)
        levels = np.array([4.0, 9.0, 16.0, 25.0, 36.0])
        waves = np.stack([shots(2e5 * np.sqrt(w), 0.0, 4, rng, 0.001) for w in levels])
        excitation = {"frequency_hz": F_HZ, "cycles": CYCLES, "level_unit": "W", "level_kind": "power"}
        sheet = self.sheet({"sweep": (levels, waves, {}, "W")}, excitation=excitation)
        slope = sheet.quantity("sweep", "pr_slope")
        self.assertLess(abs(slope["value"] / 2e5 - 1.0), 0.005)
        self.assertEqual(slope["unit"], "Pa/W^0.5")
        self.assertEqual(sheet.data["drives"][0]["against"], "root-of-level")

    def test_up_and_down(self):
        """Back at 10 V the pressure is 5 % lower: told; at 20 V it is the same."""
        rng = np.random.default_rng(4)
        levels = [10.0, 20.0, 30.0, 40.0, 20.0, 10.0]
        factor = [1.0, 1.0, 1.0, 1.0, 1.0, 0.95]
        waves = np.stack([shots(4e4 * v * f, 0.0, 6, rng, 0.002) for v, f in zip(levels, factor)])
        sheet = self.sheet({"sweep": (levels, waves, {}, "V")})
        self.assertEqual([row["level"] for row in sheet.data["drives"][0]["rows"]], levels)
        told = [f for f in sheet.findings if f["code"] == "level-return-differs"]
        self.assertTrue(told)
        for finding in told:
            self.assertEqual(finding["args"]["level"], "10 V")
            self.assertLess(abs(finding["args"]["change"]["value"] + 0.05), 0.005)

    def ranged(self, step):
        rng = np.random.default_rng(5)
        low, high = [5.0, 10.0, 15.0, 20.0], [20.0, 25.0, 30.0]
        waves = [np.stack([shots(4e4 * v, 0.0, 5, rng, 0.002) for v in part]) for part in (low, high)]
        response = {
            "kind": "flat",
            "v_per_pa": scans.V_PER_PA,
            "uncertainty": {"value": 0.02, "kind": "expanded", "k": 2, "relative": True},
        }
        ranges = [{"id": name, "response": response} for name in ("fine", "wide")]
        return self.sheet(
            {
                "low": (low, waves[0], {"range": "fine"}, "V"),
                "high": (high, waves[1] * (1.0 + step), {"range": "wide"}, "V"),
            },
            sensor={"ranges": ranges, "full_scale_v": 10.0},
        )

    def test_ranges_join(self):
        sheet = self.ranged(0.0)
        self.assertIn("range-join-agrees", sheet.codes("drive"))
        drive = sheet.data["drives"][0]
        self.assertEqual(drive["id"], "drive")
        self.assertEqual([row["range"] for row in drive["rows"]], ["fine"] * 4 + ["wide"] * 3)
        self.assertEqual(sheet.value("drive", "level_linear_max"), 30.0)

    def test_ranges_that_do_not_join(self):
        sheet = self.ranged(0.08)
        told = [f for f in sheet.findings if f["code"] == "range-join-differs"]
        self.assertEqual(len(told), 1)
        self.assertLess(abs(told[0]["args"]["step"]["value"] - 0.08), 0.005)

    def test_scaled_by_measured_powers(self):
        """12.5 W at 40 V, 0.5 W at 10 V: intensities times 25, pressures times 5, with the powers' errors."""
        rng = np.random.default_rng(6)
        levels = [5.0, 10.0, 15.0, 20.0, 40.0]
        bend = [0.0, 0.0, 0.0, 0.0, 0.2]
        waves = np.stack([shots(4e4 * v, e, 5, rng, 0.001) for v, e in zip(levels, bend)])
        u = {"value": 0.06, "kind": "expanded", "k": 2, "relative": True}
        readings = [
            {"quantity": "power_rfb", "value": 500.0, "unit": "mW", "level": 10.0, "uncertainty": u},
            {"quantity": "power_rfb", "value": 12.5, "unit": "W", "level": 40.0, "uncertainty": u},
        ]
        sheet = self.sheet({"sweep": (levels, waves, {}, "V")}, readings=readings)
        scaling = sheet.data["drives"][0]["scaling"]
        self.assertEqual((scaling["from"], scaling["level"], scaling["target"]), ("power-readings", 10.0, 40.0))
        self.assertLess(abs(scaling["ratio"] - 25.0), 1e-12)
        self.assertLess(abs(scaling["u_relative"] - 0.03 * np.sqrt(2.0)), 1e-12)
        low = "sweep-level-2"
        intensity = sheet.quantity("sweep", "i_on_lin")
        self.assertLess(abs(intensity["value"] / sheet.value(low, "i_on") / 25.0 - 1.0), 1e-12)
        self.assertLess(abs(sheet.value("sweep", "p1_lin") / sheet.value(low, "p1") / 5.0 - 1.0), 1e-12)
        own = sheet.quantity(low, "i_on")
        expected = np.hypot(own["u_standard"] / own["value"], scaling["u_relative"])
        self.assertLess(abs(intensity["u_standard"] / intensity["value"] / expected - 1.0), 1e-9)
        # Without readings the drive gives the ratio: 40² over 20².
        sheet = self.sheet({"sweep": (levels, waves, {}, "V")})
        scaling = sheet.data["drives"][0]["scaling"]
        self.assertEqual((scaling["from"], scaling["level"]), ("drive-amplitudes", 20.0))
        self.assertLess(abs(scaling["ratio"] - 4.0), 1e-12)

    def test_propagation_parameters(self):
        """σ_m and the shock distance by their formulas (Bacon 1984, Blackstock 1966; from memory)."""
        rng = np.random.default_rng(7)
        levels = [10.0, 20.0, 30.0, 40.0]
        waves = np.stack([shots(1e5 * v, 0.0, 4, rng, 0.001) for v in levels])
        device = {"radius_of_curvature_m": 0.1, "aperture_radius_m": 0.03}
        frame = {"z_zero": "apex"}
        sheet = self.sheet({"sweep": (levels, waves, {}, "V")}, device=device, frame=frame)
        row = sheet.data["drives"][0]["rows"][-1]
        c, rho = sheet.conditions["sound_speed_m_per_s"], sheet.conditions["density_kg_per_m3"]
        self.assertLess(abs(c - water.sound_speed(22.0)), 0.05)
        p_m = 0.5 * (row["pc_pa"] + row["pr_pa"])
        k = 2.0 * np.pi * F_HZ / c
        gain = k * (0.1 - np.sqrt(0.1**2 - 0.03**2))
        plane = 0.1 * p_m * 2.0 * np.pi * F_HZ * 3.5 / (rho * c**3)
        expected = plane * np.log(gain + np.sqrt(gain**2 - 1.0)) / np.sqrt(gain**2 - 1.0)
        self.assertLess(abs(row["sigma_m"] / expected - 1.0), 1e-9)
        self.assertEqual(sheet.value("sweep", "sigma_m"), row["sigma_m"])
        slope = sheet.data["drives"][0]["pc_line"]["slope"]
        shock = rho * c**3 / (3.5 * 2.0 * np.pi * F_HZ * slope * 40.0 / gain)
        self.assertLess(abs(row["shock_distance_m"] / shock - 1.0), 1e-9)
        self.assertIsNone(row["sigma_q"])
        reason = sheet.quantity("sweep", "sigma_q")["reason"]
        self.assertIn("area", reason)

    def test_what_is_missing_is_told(self):
        rng = np.random.default_rng(8)
        one = np.stack([shots(4e5, 0.0, 3, rng)])
        sheet = self.sheet({"sweep": ([10.0], one, {}, "V")})
        self.assertIn("sweep-one-level", sheet.codes())
        levels = [10.0, 20.0, 30.0]
        waves = np.stack([shots(4e4 * v, 0.0, 3, rng) for v in levels])
        excitation = {"frequency_hz": F_HZ, "cycles": CYCLES, "level_unit": "%", "level_kind": "unknown"}
        sheet = self.sheet({"sweep": (levels, waves, {}, None)}, excitation=excitation)
        self.assertIn("sweep-kind-unknown", sheet.codes("sweep"))
        self.assertIn("not known", sheet.quantity("sweep", "pc_slope")["reason"])
        self.assertEqual(len(sheet.data["drives"][0]["rows"]), 3)
        ranges = [{"id": "a"}, {"id": "b"}]
        response = {"kind": "flat", "v_per_pa": scans.V_PER_PA}
        sheet = self.sheet(
            {"sweep": (levels, waves, {}, "V")}, sensor={"ranges": ranges, "response": response, "full_scale_v": 10.0}
        )
        self.assertIn("sweep-range-missing", sheet.codes("sweep"))
        self.assertIsNone(self.sheet({"sweep": (levels, waves, {}, "mV")}))
        self.assertIn("mV", self.said)


if __name__ == "__main__":
    unittest.main()

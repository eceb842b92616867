"""Values by the rules for diagnostic equipment, of an axial scan and a plane with known pressures.

Along the axis the amplitude is A exp(−((z − z0)/L)²), over the plane A exp(−r²/w²). Derated by 0.3 dB cm⁻¹
MHz⁻¹ (IEC 62359, AIUM/NEMA UD 2; from memory) the energy is largest at z0 − κ L²/4 with the derating κ of the
energy in Np/m (closed form); indices are computed here from their definitions.
"""

import copy
import json
import math
import tempfile
import unittest
from pathlib import Path

import numpy as np

import program
import scans
import water

F_HZ, CYCLES, RAMP = 1.5e6, 24, 3.0
# Second harmonic re fundamental: pc = 1.2, pr = 0.8 of the amplitude (closed form up to 0.25).
SECOND = 0.2
A_PA = 2e6
NOISE_PA = 1e3
L_M, W_M = 20e-3, 1.5e-3
# The scanner's z is this much less than the distance from the head.
OFFSET_M = 5e-3
Z0_M = 50e-3
DT_S = 2e-8
T_S = 1e-6 + DT_S * np.arange(1400)
DUTY = 0.1
RHO_C = water.density(22.0) * water.sound_speed(22.0)
IDS = ["pr_derated", "isppa_derated", "ispta_derated", "mi", "tis", "tib", "tic"]
AXIS_M = np.arange(10, 91) * 1e-3  # from the head

RECORD = {
    "device": {"aperture_radius_m": 15e-3},
    "frame": {"z_zero": "face", "z_offset_m": OFFSET_M},
    "excitation": {
        "frequency_hz": F_HZ, "cycles": CYCLES, "repetition_hz": 1000.0, "level": 40.0, "level_unit": "V",
        "level_kind": "amplitude",
    },
    "exposure": {"mode": "burst", "burst_s": 0.01, "repetition_hz": 10.0, "level": 40.0},
    "sensor": {
        "response": {
            "kind": "flat", "v_per_pa": scans.V_PER_PA,
            "uncertainty": {"value": 0.12, "kind": "expanded", "k": 2, "relative": True},
        },
        "full_scale_v": 10.0,
    },
    "analysis": {"safety_values": True},
}  # fmt: skip
SCANS = [("axis", "axial", "axis.h5"), ("plane", "plane", "plane.h5")]


def burst(amplitude):
    """The amplitude times the burst: the fundamental and its second harmonic."""
    first = scans.tone_burst(amplitude, F_HZ, T_S, 5e-6, CYCLES, RAMP)
    # The same envelope: its ramps are told in cycles of each.
    second = scans.tone_burst(amplitude, 2.0 * F_HZ, T_S, 5e-6, 2 * CYCLES, 2.0 * RAMP)
    # Both carriers have their crests where F_HZ t is whole.
    return first + SECOND * second


def along(z_m):
    return np.exp(-(((z_m - Z0_M) / L_M) ** 2))


def write(folder, scale=1.0):
    random = np.random.default_rng(62359)

    def noisy(waves):
        return waves + random.normal(0.0, NOISE_PA, waves.shape)

    z, c = AXIS_M, water.sound_speed(22.0)
    waves = noisy(burst(scale * A_PA * along(z)))
    # Each record begins as much before the arrival.
    scans.write_scan(
        folder / "axis.h5", waves, DT_S, T_S[0] + z / c, x_m=0.0, y_m=0.0, z_m=z - OFFSET_M
    )
    x = np.arange(-14, 15) * 0.25e-3
    field = np.exp(-(x[None, :] ** 2 + x[:, None] ** 2) / W_M**2)
    waves = noisy(burst(scale * A_PA * field))
    scans.write_scan(
        folder / "plane.h5", waves, DT_S, T_S[0] + Z0_M / c, x_m=x, y_m=x, z_m=Z0_M - OFFSET_M
    )


def db(z_m, f_hz=F_HZ):
    return 0.3 * (f_hz / 1e6) * (z_m * 100.0)


def pulse_duration_s():
    """1.25 (t90 − t10) of the burst as written (IEC 62127-1)."""
    running = np.cumsum(burst(1.0) ** 2)
    t10, t90 = np.interp([0.1, 0.9], running / running[-1], T_S)
    return 1.25 * (t90 - t10)


class Safety(unittest.TestCase):
    def setUp(self):
        temporary = tempfile.TemporaryDirectory()
        self.addCleanup(temporary.cleanup)
        self.folder = Path(temporary.name)

    def sheet(self, change=lambda record: None, which=SCANS, scale=1.0):
        write(self.folder, scale)
        parts = copy.deepcopy(RECORD)
        change(parts)
        record = scans.write_record(self.folder, which, **parts)
        return program.report(record, self.folder / "sheet")

    def close(self, value, expected, relative):
        self.assertLess(abs(value / expected - 1.0), relative, f"{value} against {expected}")

    def missing(self, sheet, scan, ids, words):
        for name in ids:
            quantity = sheet.quantity(scan, name)
            self.assertIsNone(quantity["value"], name)
            self.assertIn(words, quantity["reason"], name)

    def test_values(self):
        sheet = self.sheet()
        (basis,) = sheet.data["safety"]
        kappa = 0.3 * F_HZ / 1e6 * 100.0 * math.log(10.0) / 10.0
        z = Z0_M - kappa * L_M**2 / 4.0
        self.assertLess(abs(basis["depth_m"] - z), 2e-5)
        self.assertLess(abs(basis["z_m"] - (z - OFFSET_M)), 2e-5)
        self.close(basis["frequency_hz"], F_HZ, 2e-3)
        self.assertEqual(basis["derating_db_per_cm_mhz"], 0.3)
        pressure, energy = 10.0 ** (-db(z) / 20.0), 10.0 ** (-db(z) / 10.0)
        amplitude = A_PA * along(z)
        pr = (1.0 - SECOND) * amplitude * pressure
        square = amplitude**2 * (1.0 + SECOND**2) / 2.0 * energy
        isppa = square * scans.burst_energy_cycles(CYCLES, RAMP) / F_HZ / pulse_duration_s() / RHO_C
        self.close(sheet.value("axis", "pr_derated"), pr, 2e-3)
        self.close(sheet.value("axis", "mi"), pr / 1e6 / math.sqrt(F_HZ / 1e6), 2e-3)
        self.close(sheet.value("axis", "isppa_derated"), isppa, 3e-3)
        self.close(sheet.value("axis", "ispta_derated"), square / RHO_C * DUTY, 3e-3)

    def test_thermal_indices(self):
        sheet = self.sheet()
        (basis,) = sheet.data["safety"]
        power_w = sheet.value("plane", "power_ta_angular", "exposure")
        self.assertEqual((basis["power_scan"], basis["power"]), ("plane", "power_ta_angular"))
        self.assertEqual(basis["power_w"], power_w)
        peak_w_m2 = A_PA**2 * (1.0 + SECOND**2) / 2.0 / RHO_C
        # As of plane waves I0 π w²/2 (closed form); obliquity takes about 1/(k w)² of it.
        self.close(power_w, peak_w_m2 * math.pi * W_M**2 / 2.0 * DUTY, 0.02)
        area_m2 = math.pi * 15e-3**2
        power_mw = power_w * 1e3 * 10.0 ** (-db(AXIS_M) / 10.0)
        intensity_mw_cm2 = peak_w_m2 * along(AXIS_M) ** 2 * DUTY * 0.1 * 10.0 ** (-db(AXIS_M) / 10.0)
        beyond = AXIS_M >= 1.5 * math.sqrt(4.0 * area_m2 / math.pi)
        tis = (np.minimum(power_mw, intensity_mw_cm2)[beyond] * F_HZ / 1e6 / 210.0).max()
        at = np.argmax(power_mw * intensity_mw_cm2)
        tib = min(math.sqrt(power_mw[at] * intensity_mw_cm2[at]) / 50.0, power_mw[at] / 4.4)
        self.close(sheet.value("axis", "tis"), tis, 3e-3)
        self.close(sheet.value("axis", "tib"), tib, 3e-3)
        self.close(sheet.value("axis", "tic"), power_w * 1e3 / 3.0 / 40.0, 1e-9)
        self.assertAlmostEqual(basis["tis_depth_m"], AXIS_M[beyond][0])
        self.assertAlmostEqual(basis["tib_depth_m"], AXIS_M[at])

    def test_intensity_decides(self):
        """Far behind the peak at 50 mm the intensity over 1 cm² is less than the power: with an aperture of 53.8 mm
        the break point lies at 80.7 mm. With one of 60 mm only the last sample lies beyond it."""
        sheet = self.sheet(lambda r: r["device"].update(aperture_radius_m=26.9e-3))
        z = AXIS_M[AXIS_M >= 80.7e-3]
        intensity = A_PA**2 * (1.0 + SECOND**2) / 2.0 / RHO_C * along(z) ** 2 * DUTY * 0.1
        power = sheet.value("plane", "power_ta_angular", "exposure") * 1e3
        self.assertLess(intensity.max(), 0.5 * power)
        least = np.minimum(power, intensity) * 10.0 ** (-db(z) / 10.0)
        self.close(sheet.value("axis", "tis"), least.max() * F_HZ / 1e6 / 210.0, 3e-3)
        sheet = self.sheet(lambda r: r["device"].update(aperture_radius_m=30e-3 - 1e-6))
        self.missing(sheet, "axis", ["tis"], "end of the scanned axis")

    def test_small_aperture(self):
        """Up to 1 cm² the soft-tissue index is that at the surface, P f/210."""
        sheet = self.sheet(lambda r: r["device"].update(aperture_radius_m=5e-3))
        power_w = sheet.value("plane", "power_ta_angular", "exposure")
        self.close(sheet.value("axis", "tis"), power_w * 1e3 * F_HZ / 1e6 / 210.0, 2e-3)
        self.assertIsNone(sheet.data["safety"][0]["tis_depth_m"])

    def test_uncertainties(self):
        """MI and derated pressure are as uncertain as the pressure, TIC as the power; the calibration's 6 %
        counts twice in each of the others, however they combine."""
        sheet = self.sheet()

        def relative(scan, name, base=None):
            quantity = sheet.quantity(scan, name, base)
            return quantity["u_standard"] / quantity["value"]

        for name in ("pr_derated", "mi"):
            self.close(relative("axis", name), relative("axis", "pr"), 0.02)
        self.close(relative("axis", "tic"), relative("plane", "power_ta_angular", "exposure"), 1e-9)
        self.close(relative("axis", "isppa_derated"), relative("axis", "isppa"), 0.02)
        tib = sheet.quantity("axis", "tib")
        self.close(abs(tib["sensitivities"]["calibration"]) / tib["value"], 2.0, 1e-3)
        self.assertGreater(tib["u_common"] / tib["value"], 0.12)
        self.assertLess(relative("axis", "tib"), relative("plane", "power_ta_angular", "exposure") * 1.1)

    def test_off_by_default(self):
        for part in ({}, {"safety_values": False}):
            sheet = self.sheet(lambda r, part=part: r.update(analysis=part))
            self.assertEqual({q["id"] for q in sheet.data["quantities"]} & set(IDS), set())
            self.assertNotIn("safety", sheet.data)
            page = (self.folder / "sheet" / "sheet.html").read_text("utf-8")
            self.assertNotIn("section-safety", page)
            self.assertNotIn("mechanical index", page)
            self.assertFalse([code for code in sheet.codes() if code.startswith("derating")])

    def test_place_on_the_sheet(self):
        """A part of its own near the end; nothing on the first page, nor among the axial scan's rows."""
        self.sheet()
        page = (self.folder / "sheet" / "sheet.html").read_text("utf-8")
        own = page.index('id="section-safety"')
        self.assertGreater(own, page.index('id="section-budgets"'))
        self.assertLess(own, page.index('id="section-method"'))
        self.assertNotIn("mechanical index", page[page.index("<body") : own])
        self.assertIn("They do not say that", page[own:])
        self.assertIn("1.50\u00a0MHz", page[own:])

    def test_conditions_that_do_not_hold(self):
        averages, thermal = ["ispta_derated"], ["tis", "tib", "tic"]
        sheet = self.sheet(lambda r: r.update(exposure=None))
        self.missing(sheet, "axis", averages + thermal, "exposure")
        for name in ("pr_derated", "isppa_derated", "mi"):
            sheet.value("axis", name)
        sheet = self.sheet(lambda r: r["exposure"].update(level=20.0))
        self.missing(sheet, "axis", averages + thermal, "another drive level")
        sheet = self.sheet(lambda r: r["frame"].update(z_zero="unknown"))
        self.missing(sheet, "axis", IDS[:6], "unknown point")
        sheet.value("axis", "tic")
        sheet = self.sheet(lambda r: r.update(frame=None))
        self.missing(sheet, "axis", IDS[:6], "the record does not state it")
        sheet = self.sheet(which=SCANS[1:])
        self.missing(sheet, "plane", IDS[:6], "no axial scan")
        sheet.value("plane", "tic")
        sheet = self.sheet(which=SCANS[:1])
        self.missing(sheet, "axis", thermal, "no plane")
        self.assertIn("derating-distortion-unknown", sheet.codes())
        sheet = self.sheet(lambda r: r.update(device=None))
        self.missing(sheet, "axis", thermal, "area")
        sheet = self.sheet(lambda r: r["sensor"].pop("response"))
        self.missing(sheet, "axis", IDS, "does not state it")
        sheet = self.sheet(lambda r: r["frame"].update(z_offset_m=-20e-3))
        self.missing(sheet, "axis", IDS[:6], "behind the head")

    def test_distortion(self):
        """σ_q = z p_m ω β/(ρ c³ √F_a), F_a = √(0.69 A_s/A_b,6) (IEC TS 61949, from memory); over 0.5 a note,
        over 1.5 a caution, which neither stands on the first page nor lowers the scan's fitness."""
        rho, c = water.density(22.0), water.sound_speed(22.0)
        beam_m2 = math.pi * W_M**2 * 0.3 * math.log(10.0)
        factor = math.sqrt(0.69 * math.pi * 15e-3**2 / beam_m2)
        for scale, code in ((1.0, None), (3.0, "derating-distortion"), (6.0, "derating-strong-distortion")):
            sheet = self.sheet(scale=scale)
            expected = Z0_M * scale * A_PA * 2.0 * math.pi * F_HZ * 3.5 / (rho * c**3) / math.sqrt(factor)
            self.close(sheet.data["safety"][0]["sigma_q"], expected, 0.01)
            self.assertEqual([k for k in sheet.codes() if k.startswith("derating")], [code] if code else [])
        self.assertNotEqual(sheet.scan("axis")["fitness"], "unfit")
        page = (self.folder / "sheet" / "sheet.html").read_text("utf-8")
        self.assertNotIn("linear rule", page[: page.index('id="section-conditions"')])

    def test_nothing_is_judged_by_them(self):
        write(self.folder)
        parts = dict(RECORD, stated=[{"quantity": "mi", "value": 1.9}])
        record = scans.write_record(self.folder, SCANS, **parts)
        run = program.Run("report", record, "--out", self.folder / "sheet")
        self.assertEqual(run.status, 2)
        self.assertIn("not judged", run.complained)
        self.assertIn("stated[0].quantity", run.complained)
        self.assertEqual(json.loads(record.read_text("utf-8"))["stated"][0]["quantity"], "mi")


if __name__ == "__main__":
    unittest.main()

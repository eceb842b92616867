"""Sensitivities are derivatives: the program is run again with one input changed by a small known amount.

Outside source: the definition of a sensitivity coefficient, ∂f/∂xᵢ as the change of the result for a change
of one input, JCGM 100:2008, 5.1.3 and 5.1.4. No quantity's formula is used here.
"""

import tempfile
import unittest
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import budget_scans
import program

# Source, change of it, and what of the input brings the change about. A gain that is larger than stated by ε
# shows as volts that are too large by ε; here they become smaller, as after a division by 1 + ε.
CASES = {
    "calibration": (2e-3, {"magnitude": 2e-3}),
    "calibration-phase": (1e-2, {"phase": 1e-2}),
    "gain": (2e-3, {"volts": 1.0 / 1.002}),
    "axes-scale": (2e-3, {"axes": 1.002}),
    "water-temperature": (0.2, {"temperature_c": budget_scans.TEMPERATURE_C + 0.2}),
    "repetition-rate": (2e-3, {"rate": 1.002}),
}
# Unit of the source over that of a relative change: for water, the relative change of c and ρ by one kelvin.
SIZE = {"water-temperature": 2e-3}
# Departures allowed: of the change itself (it is not infinitesimal), and in relative change of the value by
# relative change of the source. Quantities without that sensitivity change by less than the latter.
NEAR, LEAST = 0.03, 0.002
# What budgets leave out, known and small: largest relative change of the value by one unit of the source.
# Widths and areas from p_c and p_r move with the harmonics' content over the field; a noise in a broad band is
# told as of the drive frequency.
LOOSE = {
    "calibration": {
        "nep": 0.08, "width_": 0.01, "length_": 0.01, "area_": 0.02, "snr_db": 0.01, "dynamic_range_db": 0.01,
    },
    "calibration-phase": {
        "nep": 0.1, "width_": 0.2, "length_": 0.2, "area_": 0.3, "x_peak": 0.02, "y_peak": 0.02, "z_peak": 0.01,
        "arrival": 0.01, "td": 0.03, "isppa": 0.03, "snr_db": 0.02, "dynamic_range_db": 0.01, "h": 0.01, "thd": 0.01,
    },
    # Over a limit in volts, which does not change with them: 20/ln 10 dB by one (of 110 dB).
    "gain": {"dynamic_range_db": 0.09},
}
# An angle that is zero but for noise.
NOISE_ALONE = ("axis_angle",)
# Sensitivities that this measurement has; for those that are left out above, none.
CARRIED = {
    "calibration": ("pc", "pr", "ppsi", "ispta", "p1", "h2", "thd", "power_on_angular", "isata", "nep"),
    "calibration-phase": ("pc", "pr", "pc_ss", "pr_ss"),
    "gain": ("pc", "pr", "ppsi", "isppa", "ispta", "p1", "nep", "power_on_plane_wave", "power_on_angular"),
    "axes-scale": (
        "width_x_6", "area_6", "x_peak", "power_on_angular", "power_on_plane_wave", "tilt_x", "axis_offset_y",
    ),
    "water-temperature": ("pii", "i_on", "isppa", "ispta", "isata", "power_on_angular", "tilt_y", "axis_offset_x"),
    "repetition-rate": ("ispta", "isata", "power_ta_plane_wave", "power_ta_angular"),
}


def run(change):
    with tempfile.TemporaryDirectory() as name:
        return program.report(budget_scans.write(Path(name), **change), Path(name) / "sheet")


class Derivatives(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        with ThreadPoolExecutor(2) as pool:
            base = pool.submit(run, {})
            changed = {source: pool.submit(run, change) for source, (_, change) in CASES.items()}
            cls.base = base.result()
            cls.changed = {source: sheet.result() for source, sheet in changed.items()}

    def compare(self, source):
        step = CASES[source][0]
        size = SIZE.get(source, 1.0)
        seen, compared = set(), 0
        for before, after in zip(self.base.data["quantities"], self.changed[source].data["quantities"], strict=True):
            name = f"{before['scan']} {before['id']} {before['time_base']}"
            self.assertEqual((before["id"], before["scan"]), (after["id"], after["scan"]))
            self.assertEqual(before["value"] is None, after["value"] is None, name)
            if before["value"] is None or before["id"] in NOISE_ALONE:
                continue
            stated = before["sensitivities"].get(source, 0.0) * step
            change = after["value"] - before["value"]
            loose = LOOSE.get(source, {}).items()
            least = max([LEAST * size, *(bound for start, bound in loose if before["id"].startswith(start))])
            allowed = NEAR * abs(stated) + least * step * abs(before["value"])
            self.assertLessEqual(abs(change - stated), allowed, f"{name}: {change}, stated {stated}")
            compared += 1
            if abs(stated) > 10.0 * LEAST * size * step * abs(before["value"]):
                seen.add(before["id"])
        self.assertGreater(compared, 90)
        self.assertEqual(set(CARRIED[source]) - seen, set(), "without a sensitivity")

    def test_calibration(self):
        """All rows of the table at once, in proportion to their uncertainties."""
        self.compare("calibration")

    def test_calibration_phase(self):
        self.compare("calibration-phase")

    def test_gain(self):
        self.compare("gain")
        for quantity in self.base.data["quantities"]:
            # What makes the drive larger makes the volts larger, but not the noise.
            of = quantity["sensitivities"]
            if "drive" in of:
                self.assertAlmostEqual(of["drive"], -of["gain"], delta=1e-9 * abs(of["gain"]))
            else:
                self.assertTrue("gain" not in of or quantity["id"].startswith("nep"), quantity["id"])

    def test_axes(self):
        self.compare("axes-scale")

    def test_temperature(self):
        self.compare("water-temperature")

    def test_repetition_rate(self):
        """Averages over the tank's time go with it; those under the stated exposure do not."""
        self.compare("repetition-rate")
        for scan in ("plane", "axis", "point"):
            exposure = self.base.quantity(scan, "ispta", "exposure")
            self.assertNotIn("repetition-rate", exposure["sensitivities"])


if __name__ == "__main__":
    unittest.main()

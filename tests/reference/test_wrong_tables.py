"""Sensitivity tables that are wrong: what, in which file, at which place, and what to do.

What a table must be is in docs/formats.md; the codes are in docs/findings.md.
"""

import tempfile
import unittest
from pathlib import Path

import numpy as np

import program
import scans


class WrongTables(unittest.TestCase):
    HEAD = "frequency_hz,sensitivity_v_per_pa,phase_rad\n"

    def setUp(self):
        temporary = tempfile.TemporaryDirectory()
        self.addCleanup(temporary.cleanup)
        self.folder = Path(temporary.name)

    def run_with(self, text, **response):
        (self.folder / "table.csv").write_text(text, encoding="utf-8")
        t = np.arange(3000) * 5e-9
        volts = scans.tone_burst(0.05, 1.5e6, t, 4e-6, 10.0)
        scans.write_columns(self.folder / "wave.csv", t_s=t, waveforms=volts)
        record = scans.write_record(
            self.folder,
            [("wave", "point", "wave.csv")],
            sensor={"response": {"kind": "table", "file": "table.csv", **response}, "full_scale_v": 1.0},
            excitation={"frequency_hz": 1.5e6, "cycles": 10},
        )
        return program.Run("report", record, "--out", self.folder / "sheet")

    def refused(self, text, *words, **response):
        """Status 2, no sheet, and all the words: the file, the place in it, what is wrong, what to do."""
        run = self.run_with(text, **response)
        self.assertEqual(run.status, 2, run.complained)
        self.assertFalse((self.folder / "sheet").exists())
        self.assertNotIn("panicked", run.complained)
        for word in words:
            self.assertIn(word, run.complained)

    def test_a_sound_table_is_taken(self):
        run = self.run_with(self.HEAD + "1e5,5e-8,0\n1e6,5e-8,0\n5e7,5e-8,0\n")
        self.assertEqual(run.status, 0, run.complained)

    def test_unit_missing(self):
        """All columns at once, each with the units that it may have."""
        self.refused(
            "frequency,sensitivity,phase\n1e5,5e-8,0\n2e7,5e-8,0\n",
            *("table.csv", "/frequency", "/sensitivity", "/phase"),
            *("Hz, kHz, MHz, GHz", "V/Pa, mV/MPa", "rad, deg", "in brackets behind the heading"),
        )

    def test_unit_wrong(self):
        """Capital letters count, and a level without its reference says nothing."""
        for heading, unit in [
            ("Frequency (MHz),Sensitivity (MV/mPa)", "MV/mPa"),
            ("Frequency (mHz),Sensitivity (mV/MPa)", "mHz"),
            ("Frequency (MHz),Sensitivity (dB)", "dB"),
        ]:
            with self.subTest(heading=heading):
                self.refused(f"{heading}\n1,50\n2,50\n", "table.csv", f"“{unit}”", "Convert the values")

    def test_frequency_falling_or_doubled(self):
        for rows in ("2e7,5e-8,0\n1e6,5e-8,0\n1e5,5e-8,0\n", "1e5,5e-8,0\n1e5,5e-8,0\n2e7,5e-8,0\n"):
            with self.subTest(rows=rows):
                self.refused(self.HEAD + rows, "table.csv", "row 2", "does not rise", "Sort the table")

    def test_no_number(self):
        for row, quantity, advice in [
            ("1e6,NaN,0", "sensitivity", "above zero"),
            ("1e6,,0", "sensitivity", "above zero"),
            ("1e6,inf,0", "sensitivity", "above zero"),
            ("1e6,0,0", "sensitivity", "above zero"),
            ("1e6,-5e-8,0", "sensitivity", "above zero"),
            ("nan,5e-8,0", "frequency", "zero or above"),
            ("1e6,5e-8,nan", "phase", "the whole column must go"),
        ]:
            with self.subTest(row=row):
                self.refused(
                    f"{self.HEAD}1e5,5e-8,0\n{row}\n2e7,5e-8,0\n", "table.csv", "row 2", f"The {quantity}", advice
                )

    def test_one_row(self):
        self.refused(self.HEAD + "1e6,5e-8,0\n", "table.csv", "table: 1", "at least two")

    def test_given_twice(self):
        self.refused(
            "frequency_hz,sensitivity_v_per_pa,magnitude_nv_per_pa\n1e5,5e-8,50\n2e7,5e-8,50\n",
            *("table.csv", "sensitivity_v_per_pa", "magnitude_nv_per_pa", "Keep one"),
        )

    def test_expanded_uncertainty_without_its_factor(self):
        self.refused(
            "frequency_hz,sensitivity_v_per_pa,U_sensitivity_percent\n1e5,5e-8,6\n2e7,5e-8,6\n",
            *("table.csv", "U_sensitivity_percent", "_k2"),
        )

    def test_load_left_blank(self):
        self.refused(
            self.HEAD + "1e5,5e-8,0\n2e7,5e-8,0\n",
            *("sensor.response.load.sensor_capacitance_f", "sensor.response.load.used_capacitance_f"),
            "State the capacitance",
            refers_to="open-circuit",
        )

    def test_band_too_short(self):
        """The signal, 1.5 MHz, outside the table makes the scan unfit; a table that ends where there is
        still signal is a caution. The finding tells the scan, both bands, and what to do."""
        for rows, severity, ends in [
            ("1e5,5e-8,0\n1e6,5e-8,0\n", "unfit", (1e5, 1e6)),
            ("2e6,5e-8,0\n3e7,5e-8,0\n", "unfit", (2e6, 3e7)),
            ("1e5,5e-8,0\n2e6,5e-8,0\n", "caution", (1e5, 2e6)),
        ]:
            with self.subTest(rows=rows):
                run = self.run_with(self.HEAD + rows)
                self.assertEqual(run.status, 1 if severity == "unfit" else 0, run.complained)
                findings = program.Sheet(self.folder / "sheet/sheet.json").findings
                (found,) = [f for f in findings if f["code"] == "table-not-covering"]
                self.assertEqual((found["severity"], found["place"]["scan"]), (severity, "wave"))
                self.assertEqual((found["args"]["low"]["value"], found["args"]["high"]["value"]), ends)
                self.assertIn("Use a table that covers the band", found["hint"])


if __name__ == "__main__":
    unittest.main()

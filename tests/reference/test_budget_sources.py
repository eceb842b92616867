"""Where the lines of a budget come from: a check source, what the record states of uncertainties, or does not.

Root sums of squares by hand: JCGM 100:2008, 5.1.2; half-widths over √3: 4.3.7.
"""

import json
import math
import tempfile
import unittest
from pathlib import Path

import budget_scans
import program
import scans

RANGES = program.DEMO / "ranges" / "record.json"


class CheckSource(unittest.TestCase):
    def test_parts_of_the_transfer(self):
        """Each source of the range's factor is a line, with its kind and degrees of freedom; their sum of
        squares is the factor's (docs/check-source.md)."""
        with tempfile.TemporaryDirectory() as name:
            sheet = program.report(RANGES, Path(name) / "sheet")
        (transfer,) = sheet.data["transfers"]
        factors = {factor["range"]: factor for factor in transfer["ranges"]}
        checked = set()
        for quantity in budget_scans.with_budget(sheet):
            if quantity["unit"] not in ("Pa", "W/m2"):
                continue
            factor, power = factors[quantity["range"]], 1 if quantity["unit"] == "Pa" else 2
            lines = {line["source"]: line for line in quantity["budget"]["lines"] if line["from"] == "check-source"}
            parts = {part["source"]: part for part in factor["sources"] if part["u_relative"] > 0.0}
            self.assertEqual(lines.keys(), parts.keys())
            for source, part in parts.items():
                line = lines[source]
                self.assertEqual(line["u"], part["u_relative"])
                self.assertEqual((line["nu"], line["common"]), (part["nu"], part["common"]))
            relative = math.hypot(*(line["contribution"] for line in lines.values())) / quantity["value"]
            self.assertLess(abs(relative / power / factor["u_relative"] - 1.0), 2e-3, quantity["id"])
            self.assertNotIn("calibration", [line["source"] for line in quantity["budget"]["lines"]])
            checked.add(quantity["range"])
        self.assertEqual(checked, set(factors))


class Stated(unittest.TestCase):
    """What the record says of uncertainties, or does not."""

    def test_without_the_calibration(self):
        response = {"kind": "flat", "v_per_pa": scans.V_PER_PA}
        sheet = budget_scans.sheet_of(["point"], response=response)
        for name in ("pc", "pr", "p1", "ppsi"):
            quantity = sheet.quantity("point", name)
            self.assertIsNotNone(quantity["value"])
            for key in ("u_standard", "u_expanded", "k", "u_common", "u_repeatability"):
                self.assertIsNone(quantity[key], key)
            self.assertIn("calibration", quantity["u_reason"])
            self.assertNotIn("±", quantity["text"])
        (finding,) = [f for f in sheet.findings if f["code"] == "calibration-uncertainty-missing"]
        self.assertEqual(finding["place"]["path"], "sensor.response.uncertainty")
        # Nor has a ratio of two frequencies one: nothing is known of the response at either.
        self.assertIsNone(sheet.quantity("point", "h2")["u_standard"])

    def refused(self, change, *words):
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            path = budget_scans.write(folder, ["point"])
            record = json.loads(path.read_text())
            change(record)
            path.write_text(json.dumps(record))
            run = program.Run("report", path, "--out", folder / "sheet")
        self.assertEqual(run.status, 2, run.said + run.complained)
        for word in words:
            self.assertIn(word, run.complained)

    def test_neither_standard_nor_expanded(self):
        bare = {"value": 0.03, "relative": True}
        self.refused(lambda r: r.update(uncertainties=[{"source": "a", "uncertainty": bare}]), "kind")
        self.refused(lambda r: r["sensor"].update(u_gain=bare), "kind")
        minus = {"value": -0.03, "kind": "standard", "relative": True}
        self.refused(lambda r: r.update(uncertainties=[{"source": "a", "uncertainty": minus}]), "value")

    def test_typed_sources_join(self):
        """A half-width over √3, a standard one in pascals, one for another quantity: sums of squares by hand."""
        relative = lambda value, kind: {"value": value, "kind": kind, "relative": True}
        in_pascals = {"value": 4e4, "kind": "standard"}
        typed = [
            {"source": "alignment", "uncertainty": relative(0.09, "half-width")},
            {"source": "cable", "uncertainty": in_pascals, "applies_to": ["pc"], "common": False},
            {"source": "other", "uncertainty": relative(0.5, "standard"), "applies_to": "h2"},
        ]
        bare, joined = (
            budget_scans.sheet_of(["point"], **parts).quantity("point", "pc")
            for parts in ({}, {"uncertainties": typed})
        )
        expected = math.hypot(bare["u_standard"], 0.09 / math.sqrt(3) * bare["value"], 4e4)
        self.assertLess(abs(joined["u_standard"] / expected - 1.0), 1e-9)
        self.assertLess(abs(joined["u_repeatability"] / math.hypot(bare["u_repeatability"], 4e4) - 1.0), 1e-9)
        line = budget_scans.line_of(joined, "alignment")
        self.assertEqual((line["distribution"], line["common"]), ("rectangular", True))
        self.assertEqual(line["from"], "uncertainties[0]")
        self.assertNotIn("other", [line["source"] for line in joined["budget"]["lines"]])


if __name__ == "__main__":
    unittest.main()

"""Verdicts on stated values: probabilities by scipy.stats, ratios and settling values by hand formulas.

A point waveform of known peak pressure is measured once; what is stated of it is varied.

References: JCGM 106:2012, clause 7 (p_c = F((T_U - y)/u) - F((T_L - y)/u)); E_n as in ISO 13528 (from
memory); one-sided tolerance factors from the noncentral t distribution (ISO 16269-6).
"""

import json
import math
import tempfile
import unittest
from pathlib import Path

import numpy as np
from scipy import stats

import program
import scans

F_HZ = 1.0e6
PC_PA = 2.0e6
T_S = 2e-8 * np.arange(3000)
TOLERANCE = {"lower": -0.15, "upper": 0.15, "relative": True}


def probability(entry):
    """Conformance probability from the entry's own y, u, degrees of freedom and limits."""
    y, u, nu = entry["measured"], entry["u_standard"], entry["nu_eff"]
    f = stats.norm.cdf if nu is None else lambda x: stats.t.cdf(x, nu)
    upper = 1.0 if entry["high"] is None else f((entry["high"] - y) / u)
    lower = 0.0 if entry["low"] is None else f((entry["low"] - y) / u)
    return upper - lower


class Verdicts(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.temporary = tempfile.TemporaryDirectory()
        cls.folder = Path(cls.temporary.name)
        noise = np.random.default_rng(11)
        for k in range(3):
            wave = PC_PA * (1.0 + 0.01 * (k - 1)) * scans.tone_burst(1.0, F_HZ, T_S, 1e-5, 20)
            scans.write_point(cls.folder / f"p{k}.csv", T_S, wave + noise.normal(0.0, 2e3, T_S.size))

    @classmethod
    def tearDownClass(cls):
        cls.temporary.cleanup()

    def sheet(self, stated, points=1, u=0.11, **parts):
        """The sheet of the given stated values; `u` is the calibration's, k = 2."""
        response = {
            "kind": "flat",
            "v_per_pa": scans.V_PER_PA,
            "uncertainty": {"value": u, "kind": "expanded", "k": 2, "relative": True},
        }
        record = scans.write_record(
            self.folder,
            [(f"p{k}", "point", f"p{k}.csv") for k in range(points)],
            sensor={"response": response, "full_scale_v": 10.0},
            excitation={"frequency_hz": F_HZ, "cycles": 20, "repetition_hz": 100.0},
            stated=stated,
            **parts,
        )
        return program.report(record, self.folder / "sheet").data

    def verdicts(self, stated, **parts):
        return self.sheet(stated, **parts)["verdicts"]

    def pc(self, factor, **more):
        return {"quantity": "pc", "value": factor * PC_PA / 1e6, "unit": "MPa", "tolerance": TOLERANCE, **more}

    def test_three_heads(self):
        """40 % too high does not conform, honest conforms, 20 % too high is undecided (u of 5.5 %)."""
        found = self.verdicts([self.pc(1.4), self.pc(1.0), self.pc(1.2)])
        self.assertEqual([v["outcome"] for v in found], ["does-not-conform", "conforms", "undecided"])
        for entry, factor in zip(found, (1.4, 1.0, 1.2)):
            self.assertTrue(0.05 < entry["u_standard"] / entry["measured"] < 0.06)
            self.assertAlmostEqual(entry["low"], 0.85 * factor * PC_PA, delta=1e-3)
            self.assertAlmostEqual(entry["probability"], probability(entry), delta=1e-9)
        self.assertTrue(found[0]["probability"] < 0.05 < found[2]["probability"] < 0.95 < found[1]["probability"])

    def test_what_would_settle_it(self):
        """With the uncertainty that the sheet asks for, the same value stands on the limit of the rule."""
        (entry,) = self.verdicts([self.pc(1.1)], u=0.16)
        self.assertEqual(entry["outcome"], "undecided")
        settle = entry["settle"]
        self.assertEqual(settle["code"], "settle-calibration")
        y, u = entry["measured"], entry["u_standard"]
        self.assertAlmostEqual(settle["calibration_now"], 0.16, delta=1e-6)
        new = math.sqrt(u**2 - (y * 0.08) ** 2 + (y * settle["calibration"] / 2) ** 2)
        self.assertAlmostEqual(probability({**entry, "u_standard": new, "nu_eff": None}), 0.95, delta=2e-4)

    def test_rules(self):
        """The guard band of U, and none, at one value: y + U beyond the upper limit."""
        stated = [self.pc(0.93)]
        rules = {}
        for rule in ("simple", "guard-expanded"):
            (rules[rule],) = self.verdicts(stated, decision={"rule": rule})
        entry = rules["guard-expanded"]
        self.assertTrue(entry["measured"] < entry["high"] < entry["measured"] + entry["u_expanded"])
        self.assertEqual(rules["simple"]["outcome"], "conforms")
        self.assertEqual(entry["outcome"], "undecided")

    def test_normalised_difference(self):
        uncertain = {"value": 0.08, "kind": "expanded", "k": 2, "relative": True}
        (entry,) = self.verdicts([self.pc(1.1, uncertainty=uncertain)])
        both = math.hypot(entry["u_expanded"], 0.08 * 1.1 * PC_PA)
        self.assertAlmostEqual(entry["e_n"], (entry["measured"] - 1.1 * PC_PA) / both, delta=1e-9)

    def test_conditions_that_differ(self):
        found = self.verdicts([
            self.pc(1.0, medium="derated"),
            self.pc(1.0, level=40.0),
            {"quantity": "width_x_6", "value": 1.0, "unit": "mm", "tolerance": TOLERANCE},
            {"quantity": "pc", "value": 2.0, "unit": "MPa"},
        ])
        codes = [[reason["code"] for reason in entry["reasons"]] for entry in found]
        self.assertEqual(
            codes,
            [["verdict-medium-differs"], ["verdict-level-unknown"], ["verdict-not-measured"], ["verdict-no-tolerance"]],
        )
        self.assertEqual({v["outcome"] for v in found}, {"undecided"})
        self.assertEqual({v["probability"] for v in found}, {None})

    def test_table_of_stated_values(self):
        (self.folder / "stated.csv").write_text(
            "quantity;value;unit;tolerance\npeak compressional pressure;2,0;MPa;±15 %\np_r;2100;kPa;max\n",
            encoding="utf-8",
        )
        one, two = self.verdicts(None, stated_file="stated.csv")
        self.assertEqual((one["quantity"], two["quantity"]), ("pc", "pr"))
        self.assertEqual((two["low"], two["high"]), (None, 2.1e6))
        for entry in (one, two):
            self.assertAlmostEqual(entry["probability"], probability(entry), delta=1e-9)

    def test_repeats(self):
        (group,) = self.sheet(None, points=3)["repeats"]
        pc = next(q for q in group["quantities"] if q["quantity"] == "pc")
        values = np.array(pc["values"])
        k = stats.nct.ppf(0.95, 2, stats.norm.ppf(0.95) * math.sqrt(3)) / math.sqrt(3)
        self.assertAlmostEqual(pc["mean"], values.mean(), delta=1e-6)
        self.assertAlmostEqual(pc["s"] / values.std(ddof=1), 1.0, delta=1e-9)
        self.assertAlmostEqual(pc["factor"] / k, 1.0, delta=1e-6)
        self.assertAlmostEqual(pc["high"], values.mean() + k * values.std(ddof=1), delta=1.0)
        (alone,) = self.sheet(None, points=1)["repeats"]
        self.assertEqual((alone["reason"], alone["quantities"]), ("one-repeat", []))


class Refused(unittest.TestCase):
    """Stated values that cannot be meant so, each told with its place and what would do."""

    def refused(self, stated, *words, table=None):
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            scans.write_point(folder / "p.csv", T_S, PC_PA * scans.tone_burst(1.0, F_HZ, T_S, 1e-5, 20))
            parts = {"stated": stated}
            if table is not None:
                parts = {"stated_file": "stated.csv"}
                if table:
                    (folder / "stated.csv").write_text(table, encoding="utf-8")
            record = scans.write_record(folder, [("p", "point", "p.csv")], **parts)
            run = program.Run("report", record, "--out", folder / "sheet")
            self.assertNotEqual(run.status, 0)
            for word in words:
                self.assertIn(word, run.complained)

    def test_tolerance_of_the_wrong_sign(self):
        wrong = {"lower": 0.15, "upper": 0.3, "relative": True}
        self.refused([{"quantity": "pc", "value": 2e6, "tolerance": wrong}], "tolerance.lower", "negative")

    def test_unit_that_does_not_fit(self):
        self.refused([{"quantity": "pc", "value": 2.0, "unit": "mm"}], "stated[0].unit", "MPa", "kPa")

    def test_unknown_quantity(self):
        self.refused([{"quantity": "ispa", "value": 2.0}], "ispa", "isppa")

    def test_negative_pressure(self):
        self.refused([{"quantity": "pr", "value": -2e6}], "negative")

    def test_ambiguous_number_in_a_table(self):
        self.refused(None, "line 2", "1,500", table="quantity;value;unit\npc;1,500;MPa\n")

    def test_missing_table(self):
        self.refused(None, "stated.csv", table="")


if __name__ == "__main__":
    unittest.main()

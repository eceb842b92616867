"""Uncertainty budgets in `sheet.json`: propagation by the package `uncertainties` through the formulas of the
measurement, Student's distribution by scipy, distributions by a Monte Carlo run in numpy.

Law of propagation, effective degrees of freedom, coverage factor: JCGM 100:2008, 5.1.2, G.4.1, G.3.2. The
propagation of distributions: JCGM 101:2008.
"""

import json
import math
import tempfile
import unittest
from pathlib import Path

import h5py
import numpy as np
from scipy import stats
from uncertainties import ufloat

import budget_scans
import program
import scans
import water

RANGES = program.DEMO / "ranges" / "record.json"
# u of the tests' own record, relative or in kelvin, as standard uncertainties.
CALIBRATION, GAIN, DRIVE, RATE, SCALE, KELVIN = 0.06, 0.03 / math.sqrt(3), 0.015, 0.02, 0.004, 0.8
STATED = {
    "response": {
        "kind": "flat",
        "v_per_pa": scans.V_PER_PA,
        "uncertainty": {"value": 2 * CALIBRATION, "kind": "expanded", "k": 2, "relative": True},
    },
    "frame": {"u_scale": {"value": SCALE, "kind": "standard", "relative": True}},
    "water": {"temperature_c": budget_scans.TEMPERATURE_C, "u_temperature_c": KELVIN},
    "excitation": budget_scans.EXCITATION
    | {
        "u_drive": {"value": DRIVE, "kind": "standard", "relative": True},
        "u_repetition": {"value": 2 * RATE, "kind": "expanded", "relative": True},
    },
}


def stated(**parts):
    ours = dict(STATED)
    ours["sensor"] = {
        "response": ours.pop("response"),
        "full_scale_v": 10.0,
        "u_gain": {"value": GAIN * math.sqrt(3), "kind": "half-width", "relative": True},
    }
    return ours | parts


def sheet_of(*arguments, **parts):
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        return program.report(budget_scans.write(folder, *arguments, **parts), folder / "sheet")


def line_of(quantity, source):
    """The one line of a budget."""
    (line,) = [line for line in quantity["budget"]["lines"] if line["source"] == source]
    return line


def with_budget(sheet):
    return [q for q in sheet.data["quantities"] if q.get("budget")]


class Correlated(unittest.TestCase):
    """Quantities that share sources."""

    @classmethod
    def setUpClass(cls):
        cls.sheet = sheet_of(["plane"], **stated())
        cls.pc, cls.ispta, cls.power = (
            cls.sheet.quantity("plane", *name)
            for name in (("pc",), ("ispta", "tank"), ("power_on_angular", "on"))
        )
        # The measurement's own formulas; the package differentiates them and keeps who shares what.
        cls.shared = {
            name: ufloat(0.0, u, name)
            for name, u in (
                ("calibration", CALIBRATION), ("gain", GAIN), ("drive", DRIVE),
                ("repetition-rate", RATE), ("axes-scale", SCALE),
            )
        } | {"water-temperature": ufloat(budget_scans.TEMPERATURE_C, KELVIN)}
        at = cls.shared
        amplitude = (1 + at["drive"]) / ((1 + at["calibration"]) * (1 + at["gain"]))
        impedance = lambda t: water.density(t) * water.sound_speed(t)
        wet = impedance(budget_scans.TEMPERATURE_C) / impedance(at["water-temperature"])
        cls.model_pc = cls.pc["value"] * amplitude
        cls.model_ispta = cls.ispta["value"] * amplitude**2 * wet * (1 + at["repetition-rate"])
        cls.model_power = cls.power["value"] * amplitude**2 * wet * (1 + at["axes-scale"]) ** 2

    def own(self, quantity):
        """The data's own sources, which no formula of the test knows: each by itself."""
        lines = [line for line in quantity["budget"]["lines"] if line["source"] not in self.shared]
        self.assertTrue(all(line["origin"] != "record" for line in lines), lines)
        return sum(ufloat(0.0, abs(line["contribution"])) for line in lines)

    def test_combined(self):
        """Within 0.2 %; power within 0.3 %: the package's model has no oblique waves."""
        for quantity, model, near in (
            (self.pc, self.model_pc, 2e-3), (self.ispta, self.model_ispta, 2e-3), (self.power, self.model_power, 3e-3),
        ):
            expected = (model + self.own(quantity)).std_dev
            self.assertLess(abs(quantity["u_standard"] / expected - 1.0), near, quantity["id"])

    def test_ratio(self):
        """ispta/pc²: response, gain and drive cancel; water and rate stay. Sources of one name are the same
        one in both budgets, signs included; whoever forgot that would find five times as much."""
        expected = (self.model_ispta / self.model_pc**2).std_dev / (self.ispta["value"] / self.pc["value"] ** 2)
        relative = {
            source: self.part(self.ispta, source) - 2.0 * self.part(self.pc, source) for source in self.shared
        }
        found = math.sqrt(sum(r * r for r in relative.values()))
        self.assertLess(abs(found / expected - 1.0), 5e-3, relative)
        self.assertLess(expected, 0.025)
        for source in ("calibration", "gain", "drive"):
            self.assertLess(abs(relative[source]), 1e-3, source)

    def part(self, quantity, source):
        """Relative contribution with its sign, 0 without the line."""
        lines = [line for line in quantity["budget"]["lines"] if line["source"] == source]
        return sum(line["contribution"] for line in lines) / quantity["value"]

    def test_common_and_repeatability(self):
        """What differs from one measurement to the next is apart: the drive is, with noise, positions and
        fit."""
        for quantity in with_budget(self.sheet):
            budget = quantity["budget"]
            for common, name in ((True, "u_common"), (False, "u_repeatability")):
                lines = [line["contribution"] for line in budget["lines"] if line["common"] is common]
                self.assertLess(abs(math.hypot(*lines) / quantity[name] - 1.0), 1e-9, quantity["id"])
        kinds = {line["source"]: line["common"] for line in self.power["budget"]["lines"]}
        for source, common in (("calibration", True), ("gain", True), ("axes-scale", True), ("drive", False), ("noise", False)):
            self.assertIs(kinds[source], common, source)

    def test_harmonics(self):
        """Rows that err each by themselves: h2 is (V2/M2)/(V1/M1), each M the mean of the two rows beside
        it; where all err together and alike, h2 has no part of it."""
        for correlation in ("independent", "common"):
            response = budget_scans.RESPONSE | {"frequency_correlation": correlation}
            sheet = sheet_of(["point"], response=response)
            f, u = budget_scans.ROWS_HZ, budget_scans.U_MAGNITUDE
            all_rows = ufloat(0.0, 1.0)
            each = [ufloat(0.0, 1.0) if correlation == "independent" else all_rows for _ in f]
            rows = [(1.0 + 0.02 * f_hz / 1e6) * (1.0 + u_row * e) for f_hz, u_row, e in zip(f, u, each)]
            at = lambda hz: np.mean([rows[i] for i in np.argsort(np.abs(f - hz))[:2]])
            reference = line_of(sheet.quantity("point", "pc"), "calibration")["u"]
            for name, model in (
                ("p1", 1.0 / at(1e6)), ("h2", at(1e6) / at(2e6)), ("h3", at(1e6) / at(3e6)),
            ):
                quantity = sheet.quantity("point", name)
                part = abs(quantity["sensitivities"]["calibration"]) * reference
                expected = model.std_dev / model.nominal_value * quantity["value"]
                self.assertLess(abs(part / expected - 1.0), 5e-3, f"{correlation} {name}")
                self.assertGreater(quantity["u_standard"], part)
                # What the rows do not share, and noise: the rest is small.
                rest = quantity["sensitivities"].get("noise", 0.0) + quantity["sensitivities"].get("low-pass", 0.0)
                own = math.hypot(part, rest, 0.0)
                if name != "p1":
                    self.assertLess(quantity["u_standard"], own * 1.0001, name)


class Arithmetic(unittest.TestCase):
    """Every budget of three sheets: of a table, of few revisits, of a check source."""

    @classmethod
    def setUpClass(cls):
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            # Six revisits that scatter by some percent: few degrees of freedom, and a large part of u.
            p, _ = budget_scans.point(budget_scans.T0_S + np.arange(budget_scans.SAMPLES) * budget_scans.DT_S)
            cls.visits = np.array([1.0, 1.11, 0.93, 1.02, 0.9, 1.06])
            scans.write_scan(folder / "visits.h5", cls.visits[:, None] * p, budget_scans.DT_S, budget_scans.T0_S)
            with h5py.File(folder / "visits.h5", "a") as f:
                f["waveforms"].attrs["axes"] = "repeat t"
            cls.few = program.report(
                budget_scans.write(
                    folder, ["plane"], scans_besides=[("visits", "reference", "visits.h5")],
                    decision={"coverage": 0.9},
                ),
                folder / "few",
            )
            cls.ranges = program.report(RANGES, folder / "ranges")
        cls.sheets = (sheet_of(["plane"], **stated()), cls.few, cls.ranges)

    def test_against_scipy(self):
        """u_c, ν_eff by Welch and Satterthwaite, k, U; within 1e-6 (k of 0.90 and 0.95)."""
        count, small = 0, 0
        for sheet in self.sheets:
            for quantity in with_budget(sheet):
                budget, count = quantity["budget"], count + 1
                parts = [(line["contribution"], line["nu"]) for line in budget["lines"]]
                u = math.sqrt(sum(c * c for c, _ in parts))
                finite = sum(c**4 / nu for c, nu in parts if nu is not None)
                nu = u**4 / finite if finite else math.inf
                tail = 0.5 + 0.5 * budget["coverage"]
                k = stats.t.ppf(tail, nu) if math.isfinite(nu) else stats.norm.ppf(tail)
                small += nu < 100
                for name, expected in (("u_standard", u), ("k", k), ("u_expanded", k * u)):
                    self.assertLess(abs(quantity[name] / expected - 1.0), 1e-6, f"{quantity['id']} {name}")
                    self.assertEqual(quantity[name], budget[name])
                if finite:
                    self.assertLess(abs(quantity["nu_eff"] / nu - 1.0), 1e-9)
                else:
                    self.assertIsNone(quantity["nu_eff"])
                for line in budget["lines"]:
                    self.assertLess(abs(line["sensitivity"] * line["u"] / line["contribution"] - 1.0), 1e-9)
                    self.assertLess(abs(line["share"] - (line["contribution"] / u) ** 2), 1e-9)
        self.assertGreater(count, 20)
        self.assertGreater(small, 3)

    def test_few_revisits(self):
        """The drive's u is the relative standard deviation of the revisits, with one degree of freedom less."""
        line = line_of(self.few.quantity("plane", "pc"), "drive")
        expected = self.visits.std(ddof=1) / self.visits.mean()
        self.assertLess(abs(line["u"] / expected - 1.0), 2e-3)
        self.assertEqual((line["nu"], line["distribution"], line["origin"]), (5.0, "t", "data"))

    def test_distributions(self):
        """The same lines drawn by numpy, two million values: mean, standard deviation, and both ends and the
        length of the shortest interval, within what fifty thousand draws of a heavy tail leave open."""
        rng = np.random.default_rng(8)
        found = 0
        for sheet in self.sheets:
            for quantity in with_budget(sheet):
                if quantity["id"] not in ("pc", "ispta", "power_on_angular") or quantity["scan"] == "focus-60":
                    continue
                drawn, found = quantity["budget"]["monte_carlo"], found + 1
                y = np.sort(sample(rng, quantity, 400_000))
                u = y.std()
                # Standard error of a standard deviation: √((κ − 1)/4n), κ the kurtosis.
                kurtosis = stats.kurtosis(y, fisher=False)
                self.assertLess(abs(drawn["mean"] - y.mean()), 5 * u / math.sqrt(drawn["draws"]))
                self.assertLess(
                    abs(drawn["standard_deviation"] / u - 1.0), 5 * math.sqrt((kurtosis - 1) / 4 / drawn["draws"])
                )
                inside = np.searchsorted(y, drawn["high"]) - np.searchsorted(y, drawn["low"])
                coverage = quantity["budget"]["coverage"]
                self.assertLess(abs(inside / len(y) - coverage), 5 * math.sqrt(coverage * (1 - coverage) / drawn["draws"]))
                low, high = shortest(y, coverage)
                self.assertLess(abs((drawn["high"] - drawn["low"]) / (high - low) - 1.0), 0.025)
                self.assertLess(abs(drawn["high"] - high), 0.15 * u, quantity["id"])
                self.assertLess(abs(drawn["low"] - low), 0.15 * u, quantity["id"])
                # The rule of the comparison: JCGM 101:2008, 7.9.2 and 8.1, one significant digit.
                power = math.floor(math.log10(float(f"{quantity['u_standard']:.0e}")))
                self.assertAlmostEqual(drawn["tolerance"], 0.5 * 10.0**power, delta=1e-9 * 10.0**power)
                y0, expanded = quantity["value"], quantity["u_expanded"]
                off = max(abs(y0 - expanded - drawn["low"]), abs(y0 + expanded - drawn["high"]))
                self.assertIs(drawn["agrees"], off <= drawn["tolerance"])
        self.assertGreater(found, 7)


def sample(rng, quantity, n):
    """Values of a quantity: relative sources as factors (1 + ε)^m, others added."""
    y, added = np.full(n, quantity["value"]), np.zeros(n)
    for line in quantity["budget"]["lines"]:
        shape = {
            "normal": lambda: rng.standard_normal(n),
            "t": lambda: rng.standard_t(line["nu"], n),
            "rectangular": lambda: rng.uniform(-math.sqrt(3), math.sqrt(3), n),
        }[line["distribution"]]()
        if line["unit"] == "1":
            y *= np.maximum(1.0 + line["u"] * shape, 0.05) ** (line["sensitivity"] / quantity["value"])
        else:
            added += line["contribution"] * shape
    return y + added


def shortest(y, coverage):
    """Of sorted values."""
    held = round(coverage * len(y))
    at = np.argmin(y[held:] - y[:-held])
    return y[at], y[at + held]


class CheckSource(unittest.TestCase):
    def test_parts_of_the_transfer(self):
        """Each source of the range's factor is a line, with its kind and degrees of freedom; their sum of
        squares is the factor's (docs/check-source.md)."""
        with tempfile.TemporaryDirectory() as name:
            sheet = program.report(RANGES, Path(name) / "sheet")
        (transfer,) = sheet.data["transfers"]
        factors = {factor["range"]: factor for factor in transfer["ranges"]}
        checked = set()
        for quantity in with_budget(sheet):
            if quantity["unit"] not in ("Pa", "W/m2"):
                continue
            factor, power = factors[quantity["range"]], 1 if quantity["unit"] == "Pa" else 2
            lines = {line["source"]: line for line in quantity["budget"]["lines"] if line["from"] == "check-source"}
            parts = {part["source"]: part for part in factor["sources"] if part["u_relative"] > 0.0}
            self.assertEqual(lines.keys(), parts.keys())
            for source, part in parts.items():
                line = lines[source]
                self.assertEqual((line["u"], line["nu"], line["common"]), (part["u_relative"], part["nu"], part["common"]))
            relative = math.hypot(*(line["contribution"] for line in lines.values())) / quantity["value"]
            self.assertLess(abs(relative / power / factor["u_relative"] - 1.0), 2e-3, quantity["id"])
            self.assertNotIn("calibration", [line["source"] for line in quantity["budget"]["lines"]])
            checked.add(quantity["range"])
        self.assertEqual(checked, set(factors))


class Stated(unittest.TestCase):
    """What the record says of uncertainties, or does not."""

    def test_without_the_calibration(self):
        response = {"kind": "flat", "v_per_pa": scans.V_PER_PA}
        sheet = sheet_of(["point"], response=response)
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
        typed = [
            {"source": "alignment", "uncertainty": {"value": 0.09, "kind": "half-width", "relative": True}},
            {"source": "cable", "uncertainty": {"value": 4e4, "kind": "standard"}, "applies_to": ["pc"], "common": False},
            {"source": "other", "uncertainty": {"value": 0.5, "kind": "standard", "relative": True}, "applies_to": "h2"},
        ]
        bare, joined = (sheet_of(["point"], **parts).quantity("point", "pc") for parts in ({}, {"uncertainties": typed}))
        expected = math.hypot(bare["u_standard"], 0.09 / math.sqrt(3) * bare["value"], 4e4)
        self.assertLess(abs(joined["u_standard"] / expected - 1.0), 1e-9)
        self.assertLess(abs(joined["u_repeatability"] / math.hypot(bare["u_repeatability"], 4e4) - 1.0), 1e-9)
        line = line_of(joined, "alignment")
        self.assertEqual((line["distribution"], line["common"], line["from"]), ("rectangular", True, "uncertainties[0]"))
        self.assertNotIn("other", [line["source"] for line in joined["budget"]["lines"]])


if __name__ == "__main__":
    unittest.main()

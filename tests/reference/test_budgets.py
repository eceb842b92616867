"""Uncertainty budgets in `sheet.json`: propagation by the package `uncertainties` through the formulas of the
measurement, Student's distribution by scipy, distributions by a Monte Carlo run in numpy.

Law of propagation, effective degrees of freedom, coverage factor: JCGM 100:2008, 5.1.2, G.4.1, G.3.2. The
propagation of distributions: JCGM 101:2008.
"""

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


class Correlated(unittest.TestCase):
    """Quantities that share sources."""

    @classmethod
    def setUpClass(cls):
        cls.sheet = budget_scans.sheet_of(["plane"], **stated())
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
        for quantity in budget_scans.with_budget(self.sheet):
            budget = quantity["budget"]
            for common, name in ((True, "u_common"), (False, "u_repeatability")):
                lines = [line["contribution"] for line in budget["lines"] if line["common"] is common]
                self.assertLess(abs(math.hypot(*lines) / quantity[name] - 1.0), 1e-9, quantity["id"])
        kinds = {line["source"]: line["common"] for line in self.power["budget"]["lines"]}
        for source in ("calibration", "gain", "axes-scale", "water-temperature"):
            self.assertIs(kinds[source], True, source)
        for source in ("drive", "noise"):
            self.assertIs(kinds[source], False, source)

    def test_harmonics(self):
        """Rows that err each by themselves: h2 is (V2/M2)/(V1/M1), each M the mean of the two rows beside
        it; where all err together and alike, h2 has no part of it."""
        for correlation in ("independent", "common"):
            response = budget_scans.RESPONSE | {"frequency_correlation": correlation}
            sheet = budget_scans.sheet_of(["point"], response=response)
            f, u = budget_scans.ROWS_HZ, budget_scans.U_MAGNITUDE
            all_rows = ufloat(0.0, 1.0)
            each = [ufloat(0.0, 1.0) if correlation == "independent" else all_rows for _ in f]
            rows = [(1.0 + 0.02 * f_hz / 1e6) * (1.0 + u_row * e) for f_hz, u_row, e in zip(f, u, each)]
            at = lambda hz: np.mean([rows[i] for i in np.argsort(np.abs(f - hz))[:2]])
            reference = budget_scans.line_of(sheet.quantity("point", "pc"), "calibration")["u"]
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
        cls.sheets = (budget_scans.sheet_of(["plane"], **stated()), cls.few, cls.ranges)

    def test_against_scipy(self):
        """u_c, ν_eff by Welch and Satterthwaite, k, U; within 1e-6 (k of 0.90 and 0.95)."""
        count, small = 0, 0
        for sheet in self.sheets:
            for quantity in budget_scans.with_budget(sheet):
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
        line = budget_scans.line_of(self.few.quantity("plane", "pc"), "drive")
        expected = self.visits.std(ddof=1) / self.visits.mean()
        self.assertLess(abs(line["u"] / expected - 1.0), 2e-3)
        self.assertEqual((line["nu"], line["distribution"], line["origin"]), (5.0, "t", "data"))

    def test_distributions(self):
        """The same lines drawn by numpy, eight times as often: mean, standard deviation, coverage and length of
        the shortest interval, and its ends within what they scatter over the eight."""
        rng = np.random.default_rng(8)
        compared = 0
        for sheet in self.sheets:
            for quantity in budget_scans.with_budget(sheet):
                if quantity["id"] not in ("pc", "ispta", "power_on_angular") or quantity["scan"] == "focus-60":
                    continue
                drawn, compared = quantity["budget"]["monte_carlo"], compared + 1
                y = sample(rng, quantity, 8 * drawn["draws"])
                coverage = quantity["budget"]["coverage"]
                ends = [shortest(np.sort(block), coverage) for block in np.split(y, 8)]
                y.sort()
                u = y.std()
                # Standard error of a standard deviation: √((κ − 1)/4n), κ the kurtosis.
                kurtosis = stats.kurtosis(y, fisher=False)
                self.assertLess(abs(drawn["mean"] - y.mean()), 5 * u / math.sqrt(drawn["draws"]))
                self.assertLess(
                    abs(drawn["standard_deviation"] / u - 1.0), 5 * math.sqrt((kurtosis - 1) / 4 / drawn["draws"])
                )
                inside = np.searchsorted(y, drawn["high"]) - np.searchsorted(y, drawn["low"])
                deviation = math.sqrt(coverage * (1 - coverage) / drawn["draws"])
                self.assertLess(abs(inside / len(y) - coverage), 5 * deviation)
                low, high = np.transpose(ends)
                length = drawn["high"] - drawn["low"]
                for found, ours in ((drawn["low"], low), (drawn["high"], high), (length, high - low)):
                    self.assertLess(abs(found - ours.mean()), 6.0 * ours.std(ddof=1), quantity["id"])
                # The rule of the comparison: JCGM 101:2008, 7.9.2 and 8.1, one significant digit.
                power = math.floor(math.log10(float(f"{quantity['u_standard']:.0e}")))
                self.assertAlmostEqual(drawn["tolerance"], 0.5 * 10.0**power, delta=1e-9 * 10.0**power)
                y0, expanded = quantity["value"], quantity["u_expanded"]
                off = max(abs(y0 - expanded - drawn["low"]), abs(y0 + expanded - drawn["high"]))
                self.assertIs(drawn["agrees"], off <= drawn["tolerance"])
        self.assertGreater(compared, 7)


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


if __name__ == "__main__":
    unittest.main()

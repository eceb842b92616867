"""Distributions, moments, lines and intervals (src/statistics/) against scipy, numpy and exact fractions.

The cases are calls with their results, written by tests/statistics_cases.rs. Distributions are compared over
grids of their arguments with scipy.stats and scipy.special.
"""

import math
import unittest
from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction

import numpy as np
from scipy import optimize, special, stats

import routine_cases


class Cases(routine_cases.Cases):
    folder = "statistics"

    def relative(self, found, expected, tolerance):
        """Every element within `tolerance` of the expected one, relative; equal where that is zero."""
        found, expected = np.asarray(found, dtype=float), np.asarray(expected, dtype=float)
        self.assertEqual(found.shape, expected.shape)
        self.assertTrue(np.isfinite(expected).all(), expected)
        off = np.abs(found - expected) - tolerance * np.abs(expected)
        worst = np.argmax(off) if off.size else 0
        self.assertTrue((off <= 0).all(), f"{np.ravel(found)[worst:][:1]}, expected {np.ravel(expected)[worst:][:1]}")


class Coverage(unittest.TestCase):
    def test_every_public_routine_has_cases(self):
        self.assertGreater(len(routine_cases.public_modules("statistics")), 8)
        self.assertEqual(routine_cases.routines_without_a_case("statistics"), set())


class Normal(Cases):
    """Tails included, to the smallest numbers."""

    def test_cdf(self):
        self.each("normal", "cdf", lambda case, out: self.relative(out, stats.norm.cdf(case.x), 1e-12))

    def test_sf(self):
        self.each("normal", "sf", lambda case, out: self.relative(out, stats.norm.sf(case.x), 1e-12))

    def test_quantile(self):
        self.each("normal", "quantile", lambda case, out: self.relative(out, special.ndtri(case.p), 1e-14))


def t_tail(t, nu):
    """Probability of Student's t above t > 0: incomplete beta function, or, where its argument falls below the
    smallest number, the power of t that it tends to (closed form)."""
    square = (t / math.sqrt(nu)) ** 2 if t < 1e100 else math.inf
    if square < 1:
        return 0.5 * special.betaincc(0.5, nu / 2, square / (1 + square))
    if t < 1e100:
        return 0.5 * special.betainc(nu / 2, 0.5, 1 / (1 + square))
    return math.exp((nu / 2 - 1) * math.log(nu) - nu * math.log(t) - special.betaln(nu / 2, 0.5))


def t_middle(t, nu):
    """Probability of Student's t between 0 and t: the same from the other end."""
    square = (t / math.sqrt(nu)) ** 2
    if square < 1:
        return 0.5 * special.betainc(0.5, nu / 2, square / (1 + square))
    return 0.5 * special.betaincc(nu / 2, 0.5, 1 / (1 + square))


class StudentT(Cases):
    def test_cdf(self):
        """The incomplete beta function, to 1e-12 of the tail; scipy's own distribution, which has fewer digits
        near the middle, to 1e-10."""

        def check(case, out):
            for t, found in zip(case.t, out):
                tail = t_tail(abs(t), case.nu)
                if tail > 1e-290:
                    self.relative(found, 1 - tail if t > 0 else tail, 1e-12)
                self.near(found, stats.t.cdf(t, case.nu), 1e-10)

        self.each("student_t", "cdf", check)

    def test_quantile(self):
        """The probability of the value by the incomplete beta function is the one asked for, also counted from
        the middle."""

        def check(case, out):
            for p, found in zip(case.p, out):
                if p == 0.5:
                    self.assertEqual(found, 0.0)
                    continue
                share = min(p, 1 - p)
                if found is None:
                    self.assertGreater(t_tail(1e300, case.nu), share)
                    continue
                self.assertEqual(found > 0, p > 0.5)
                # Far out an exponent is rounded, here and there.
                tolerance = 1e-12 - 3e-15 * math.log(share)
                self.relative(t_tail(abs(found), case.nu), share, tolerance)
                if share > 0.2:
                    self.relative(t_middle(abs(found), case.nu), abs(p - 0.5), 1e-12)

        self.each("student_t", "quantile", check)

    def test_coverage_factor(self):
        """The two-sided interval of scipy."""

        def check(case, out):
            about = stats.norm if case.nu is None else stats.t(case.nu)
            self.relative(out, about.isf(0.5 * (1 - case.probability)), 1e-11)

        self.each("student_t", "coverage_factor", check)


class NoncentralT(Cases):
    def test_cdf(self):
        def check(case, out):
            self.near(out, stats.nct.cdf(case.t, case.nu, case.delta), 1e-12)

        self.each("noncentral_t", "cdf", check)

    def test_quantile(self):
        """The probability of the value is the one asked for; scipy's own quantile has fewer digits."""

        def check(case, out):
            self.near(stats.nct.cdf(out, case.nu, case.delta), case.p, 1e-12)

        self.each("noncentral_t", "quantile", check)

    def test_tolerance_factor(self):
        """ISO 16269-6 through scipy's noncentral t."""

        def check(case, out):
            root = np.sqrt(case.n)
            delta = root * stats.norm.ppf(case.proportion)
            self.relative(out, stats.nct.ppf(case.confidence, case.n - 1, delta) / root, 1e-9)

        self.each("tolerance_factor", "tolerance_factor", check)


class IntervalProbability(Cases):
    def test_interval_probability(self):
        """F(high) − F(low) of scipy, by the tails on the side where they are small (JCGM 106:2012, 7)."""

        def check(case, out):
            low = -math.inf if case.low is None else case.low
            high = math.inf if case.high is None else case.high
            if low > high:
                self.assertIsNone(out)
                return
            about = stats.norm(case.y, case.u) if case.nu is None else stats.t(case.nu, case.y, case.u)
            upper = low > case.y
            expected = about.sf(low) - about.sf(high) if upper else about.cdf(high) - about.cdf(low)
            self.near(out, expected, 1e-12 * max(about.sf(low), about.cdf(high)) if upper else 1e-15)

        self.each("interval_probability", "interval_probability", check)


def exact(values):
    """Fractions of the numbers as stored, and their mean."""
    values = [Fraction(v) for v in values]
    return values, sum(values) / len(values)


def exact_root(fraction):
    """Square root of a fraction, correctly to some 40 digits."""
    return float(Fraction(math.isqrt(fraction.numerator * fraction.denominator * 10**80), fraction.denominator * 10**40))


class Moments(Cases):
    """Sums in fractions: exact for the numbers as stored."""

    def test_mean(self):
        def check(case, out):
            if len(case.values) == 0:
                self.assertIsNone(out)
                return
            self.relative(out, float(exact(case.values)[1]), 3e-16)

        self.each("moments", "mean", check)

    def deviations(self, file, routine, divisor):
        def check(case, out):
            n = len(case.values)
            if n < 2:
                self.assertIsNone(out)
                return
            values, mean = exact(case.values)
            square = sum((v - mean) ** 2 for v in values) / (n - 1) / divisor(n)
            # The mean itself is rounded: half a unit of its last place.
            rounding = 1e-16 * abs(float(mean)) if float(square) == 0 else 0.0
            self.near(out, exact_root(square), 2e-15 * exact_root(square) + rounding)

        self.each(file, routine, check)

    def test_standard_deviation(self):
        self.deviations("moments", "standard_deviation", lambda n: 1)

    def test_standard_deviation_of_mean(self):
        """JCGM 100:2008, 4.2.3."""
        self.deviations("moments", "standard_deviation_of_mean", lambda n: n)

    def test_lag_1_autocorrelation(self):
        def check(case, out):
            values, mean = exact(case.values) if len(case.values) > 1 else ([], 0)
            squares = sum((v - mean) ** 2 for v in values)
            if squares == 0:
                self.assertIsNone(out)
                return
            products = sum((a - mean) * (b - mean) for a, b in zip(values, values[1:]))
            # Relative to the rounding of the mean, where that is large beside the spread.
            spread = exact_root(squares / len(values))
            self.near(out, float(products / squares), 1e-14 + 2e-16 * abs(float(mean)) / spread)

        self.each("moments", "lag_1_autocorrelation", check)


class StraightLine(Cases):
    def test_straight_line(self):
        """scipy.stats.linregress, and numpy's polynomial fit for the residuals."""

        def check(case, out):
            if len(case.x) < 3 or np.ptp(case.x) == 0:
                self.assertIsNone(out)
                return
            if np.ptp(case.y) == 0:
                self.assertEqual(out, [0.0, case.y[0], 0.0, 0.0, 0.0])
                return
            fit = stats.linregress(case.x, case.y)
            residuals = case.y - case.y.mean() - fit.slope * (case.x - case.x.mean())
            s = math.sqrt((residuals**2).sum() / (len(case.x) - 2))
            expected = [fit.slope, fit.intercept, fit.stderr, fit.intercept_stderr, s]
            scale = np.abs(case.y).max() + np.abs(fit.slope * case.x).max()
            self.near(out, expected, 1e-12 * scale)
            coefficients, covariance = np.polyfit(case.x - case.x.mean(), case.y, 1, cov="unscaled")
            self.near(out[0], coefficients[0], 1e-12 * scale)
            self.near(out[2], s * math.sqrt(covariance[0, 0]), 1e-12 * scale)

        self.each("straight_line", "straight_line", check)


class WeightedLine(Cases):
    def test_weighted_line(self):
        """scipy.optimize.curve_fit with absolute_sigma, and numpy's weighted polynomial fit."""

        def check(case, out):
            if len(case.x) < 2 or np.ptp(case.x) == 0 or (case.u <= 0).any():
                self.assertIsNone(out)
                return
            middle = np.average(case.x, weights=case.u**-2.0)
            fit, covariance = np.polyfit(case.x - middle, case.y, 1, w=1.0 / case.u, cov="unscaled") if len(
                case.x
            ) > 2 else (np.polyfit(case.x - middle, case.y, 1, w=1.0 / case.u), None)
            scale = np.abs(case.y).max() + np.abs(fit[0] * case.x).max()
            self.near(out[0], fit[0], 1e-10 * scale)
            self.near(out[1], fit[1] - fit[0] * middle, 1e-9 * scale)
            rest = ((case.y - fit[1] - fit[0] * (case.x - middle)) / case.u) ** 2
            self.near(out[5], rest.sum(), 1e-6 * max(1.0, rest.sum()))
            if covariance is not None:
                turn = np.array([[1.0, 0.0], [-middle, 1.0]])
                covariance = turn @ covariance @ turn.T
                self.relative(out[2], math.sqrt(covariance[0, 0]), 1e-9)
                self.relative(out[3], math.sqrt(covariance[1, 1]), 1e-9)
                self.relative(out[4], covariance[0, 1], 1e-9)
                _, other = optimize.curve_fit(
                    lambda x, a, b: a + b * x, case.x - middle, case.y, sigma=case.u, absolute_sigma=True
                )
                self.relative(out[2], math.sqrt(other[1, 1]), 1e-4)

        self.each("weighted_line", "weighted_line", check)

    def test_what_the_line_says(self):
        """The values, uncertainties and scatter of numpy's weighted fit, its covariance by the normal equations."""

        def fit(case):
            design = np.stack([case.x, np.ones_like(case.x)], axis=1) / case.u[:, None]
            covariance = np.linalg.inv(design.T @ design)
            return covariance @ design.T @ (case.y / case.u), covariance

        def ends(case):
            return np.array([case.x[0], case.x[-1], -3.0])

        def values(case, out):
            line, _ = fit(case)
            expected = np.polyval(line, ends(case))
            self.near(out, expected, 1e-6 * np.abs(expected).max())

        def uncertainties(case, out):
            _, covariance = fit(case)
            rows = np.stack([ends(case), np.ones(3)], axis=1)
            self.relative(out, np.sqrt(np.einsum("ij,jk,ik->i", rows, covariance, rows)), 1e-4)

        def scatter(case, out):
            if len(case.x) == 2:
                self.assertIsNone(out)
                return
            line, _ = fit(case)
            rest = ((case.y - np.polyval(line, case.x)) / case.u) ** 2
            self.relative(out, math.sqrt(rest.sum() / (len(case.x) - 2)), 1e-5)

        def widened(case, out):
            _, covariance = fit(case)
            expected = [3.0 * math.sqrt(covariance[0, 0]), 3.0 * math.sqrt(covariance[1, 1]), 9.0 * covariance[0, 1]]
            self.relative(out, expected, 1e-4)

        self.each("weighted_line", "at", values)
        self.each("weighted_line", "u_at", uncertainties)
        self.each("weighted_line", "scatter_ratio", scatter)
        self.each("weighted_line", "widened", widened)


class EffectiveFreedom(Cases):
    def test_effective_freedom(self):
        """JCGM 100:2008, formula G.2b, in fractions."""

        def check(case, out):
            u = [Fraction(v) for v in case.u]
            whole = sum(v**2 for v in u) ** 2
            parts = sum(v**4 / Fraction(nu) for v, nu in zip(u, case.freedoms) if nu is not None)
            if parts == 0:
                self.assertIsNone(out)
            else:
                self.relative(out, float(whole / parts), 1e-14)

        self.each("effective_freedom", "effective_freedom", check)


def steps(case):
    """q of JCGM 101:2008, 7.7.2; none where the values or the share allow no interval."""
    m = len(case.values)
    share = case.probability * m
    q = int(share) if share == int(share) else int(share + 0.5)
    ordered = bool((np.diff(case.values) >= 0).all())
    return q if ordered and 0 < case.probability < 1 and 1 <= q < m else None


class CoverageInterval(Cases):
    def test_shortest_interval(self):
        """All intervals of q steps, and the first of the shortest."""

        def check(case, out):
            q = steps(case)
            if q is None:
                self.assertIsNone(out)
                return
            widths = case.values[q:] - case.values[:-q]
            first = int(np.argmin(widths))
            self.near(out, [case.values[first], case.values[first + q]], 0)

        self.each("coverage_interval", "shortest_interval", check)

    def test_shortest_of_a_small_sample(self):
        """Every pair of values, and of those that hold enough the narrowest."""
        case, out = self.one("coverage_interval", "shortest_interval", "two peaks, 0.6827")
        q = steps(case)
        width = min(b - a for i, a in enumerate(case.values) for b in case.values[i + q :])
        self.near(out[1] - out[0], width, 0)

    def test_symmetric_interval(self):
        """JCGM 101:2008, 7.7.2: r = (M − q)/2, or the integer part of (M − q + 1)/2."""

        def check(case, out):
            q = steps(case)
            if q is None:
                self.assertIsNone(out)
                return
            rest = len(case.values) - q
            r = rest // 2 if rest % 2 == 0 else (rest + 1) // 2
            self.near(out, [case.values[r - 1], case.values[r + q - 1]], 0)

        self.each("coverage_interval", "symmetric_interval", check)

    def test_exponential(self):
        """Closed form: the shortest interval of a falling density begins at its start."""
        for p in (0.5, 0.6827, 0.95):
            with self.subTest(p=p):
                case, out = self.one("coverage_interval", "shortest_interval", f"exponential, {p}")
                # A quantile is off by the distance of two values: the step of the share over the density.
                step = 1 / len(case.values)
                self.near(out, [0.0, -math.log1p(-p)], step / (1 - p - step))
                _, out = self.one("coverage_interval", "symmetric_interval", f"exponential, {p}")
                tail = (1 - p) / 2
                self.near(out, [-math.log1p(-tail), -math.log(tail)], step / (tail - step))


class NumericalTolerance(Cases):
    def test_numerical_tolerance(self):
        """JCGM 101:2008, 7.9.2, in decimals."""

        def check(case, out):
            for u, found in zip(case.u, out):
                u = Decimal(repr(float(u)))
                lead = u.adjusted()
                rounded = u.quantize(Decimal(1).scaleb(lead - case.digits + 1), ROUND_HALF_EVEN)
                # Ties go another way for numbers that are no decimals; none is among the cases.
                last = rounded.adjusted() - case.digits + 1
                self.relative(found, float(Decimal("0.5").scaleb(last)), 1e-14)

        self.each("numerical_tolerance", "numerical_tolerance", check)


if __name__ == "__main__":
    unittest.main()

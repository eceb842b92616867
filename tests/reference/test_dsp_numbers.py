"""Means, spreads and noise (src/dsp/) against Python's own statistics and scipy; see test_dsp.py."""

import statistics
import unittest

import numpy as np
from scipy import stats

from dsp_cases import Cases


class Statistics(Cases):
    """Python's own module computes in fractions: exact."""

    def test_mean(self):
        def check(case, out):
            expected = statistics.mean(case.values.tolist()) if len(case.values) else None
            self.same(out, expected, 1e-15)

        self.each("statistics", "mean", check)

    def test_standard_deviation(self):
        def check(case, out):
            expected = statistics.stdev(case.values.tolist()) if len(case.values) > 1 else None
            self.same(out, expected, 1e-13)
            if expected is not None:
                self.near(out, np.std(case.values - case.values[0], ddof=1), 1e-10 * expected)

        self.each("statistics", "standard_deviation", check)

    def test_median(self):
        def check(case, out):
            self.same(out, statistics.median(case.values.tolist()) if len(case.values) else None, 0)

        self.each("statistics", "median", check)

    def same(self, found, expected, tolerance):
        if expected is None:
            self.assertIsNone(found)
        else:
            self.near(found, expected, tolerance * max(1.0, abs(expected)))


class Noise(Cases):
    """Numbers of fixed seeds: that a test passes once is that it always does. Limits are those that true
    normal noise exceeds with a probability of a thousandth or less."""

    @staticmethod
    def split_mix(seed, count):
        """SplitMix64 (G. L. Steele, D. Lea, C. H. Flood, OOPSLA 2014) in plain Python."""
        mask, out = 2**64 - 1, []
        for _ in range(count):
            seed = (seed + 0x9E3779B97F4A7C15) & mask
            z = ((seed ^ (seed >> 30)) * 0xBF58476D1CE4E5B9) & mask
            z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & mask
            out.append(z ^ (z >> 31))
        return out

    def test_the_generator_is_the_published_one(self):
        """First numbers of seed 1234567 as the reference program in C prints them (value from memory);
        and the routine's numbers are Box and Muller's of that generator (Ann. Math. Stat. 29 (1958) 610)."""
        self.assertEqual(
            self.split_mix(1234567, 3), [6457827717110365317, 3203168211198807973, 9817491932198370423]
        )

        def check(case, out):
            u = (np.array([b >> 11 for b in self.split_mix(case.seed, 1000)]) + 1.0) * 2.0**-53
            radius, angle = np.sqrt(-2 * np.log(u[0::2])), 2 * np.pi * u[1::2]
            expected = np.column_stack([radius * np.cos(angle), radius * np.sin(angle)]).ravel()
            self.near(out[:1000], expected, 1e-13)

        self.each("noise", "next", check)

    def test_uniform(self):
        """The generator's upper 53 bits, and a uniform distribution by Kolmogorov and Smirnov."""

        def check(case, out):
            bits = np.array([b >> 11 for b in self.split_mix(case.seed, len(out))])
            self.near(out, (bits + 1.0) * 2.0**-53, 1e-16)
            self.assertGreater(stats.kstest(out, "uniform").pvalue, 1e-3)

        self.each("noise", "uniform", check)

    def test_normal(self):
        def check(_case, out):
            self.assertGreater(stats.kstest(out, "norm").pvalue, 1e-3)
            self.assertGreater(stats.normaltest(out).pvalue, 1e-3)

        self.each("noise", "next", check)

    def test_independent(self):
        """No correlation with any of the next fifty numbers (sum of squares against χ²), nor of the
        squares, nor between seeds."""
        kept = [np.asarray(self.one("noise", "next", name)[1]) for name in ("many", "next seed")]
        for numbers in kept:
            for series in (numbers, numbers**2):
                series = (series - series.mean()) / series.std()
                n = len(series)
                r = np.array([(series[:-k] * series[k:]).sum() / n for k in range(1, 51)])
                self.assertLess((r**2).sum() * n, stats.chi2.isf(1e-3, 50))
        self.assertGreater(stats.pearsonr(*kept).pvalue, 1e-3)
        self.assertGreater(stats.pearsonr(kept[0] ** 2, kept[1] ** 2).pvalue, 1e-3)


if __name__ == "__main__":
    unittest.main()

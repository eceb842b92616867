"""Correlated errors along an axis (src/dsp/correlation.rs) against whole covariance matrices by numpy."""

import unittest

import numpy as np
from scipy import stats

from dsp_cases import Cases


def matrix(case):
    """ρ between all places: 1, or 1 on the diagonal alone, or exp(−|Δx|/length)."""
    if case.kind == "common":
        return np.ones((len(case.x), len(case.x)))
    if case.kind == "independent":
        return np.eye(len(case.x))
    return np.exp(-np.abs(np.subtract.outer(case.x, case.x)) / case.length)


class Correlation(Cases):
    def test_bilinear(self):
        """aᵀ R b. Sums in another order: 1e-13 of the sum of the magnitudes |a|ᵀ R |b|."""

        def check(case, out):
            rho = matrix(case)
            self.near(out, case.a @ rho @ case.b, 1e-13 * (np.abs(case.a) @ rho @ np.abs(case.b)))

        self.each("correlation", "bilinear", check)

    def test_draws_are_the_cholesky_factor(self):
        """A process that goes along the axis makes each value of the numbers up to its own: a lower
        triangular factor of R with a positive diagonal, of which there is only one (numpy.linalg.cholesky).
        Common errors, whose R has none, take one number a draw.

        At a length of 1e4, 1 − ρ is 5e-5 or less; its square root, 7e-3, is the factor's: the rounding of ρ by
        1e-16 becomes 1e-14, several times over in numpy's elimination."""

        def check(case, out):
            places = len(case.x)
            if case.kind == "common":
                expected = np.repeat(case.numbers[: len(out), None], places, axis=1)
            else:
                expected = case.numbers.reshape(-1, places) @ np.linalg.cholesky(matrix(case)).T
            self.near(out, expected, 1e-12)

        self.each("correlation", "draw", check)

    def test_draws_are_correlated_as_stated(self):
        """Sample covariances of 1500 draws against R, each within four of its standard deviations,
        √((1 + ρ²)/1500) (Wishart), about known means of zero; and each place is normal. The seed is
        fixed; limits that true draws exceed with a probability of a thousandth."""

        def check(case, out):
            if not case.name.startswith("many"):
                return
            draws, rho = np.array(out), matrix(case)
            off = draws.T @ draws / len(draws) - rho
            self.near(off / np.sqrt((1 + rho**2) / len(draws)), np.zeros_like(off), 4.0)
            for place in draws.T:
                self.assertGreater(stats.kstest(place, "norm").pvalue, 1e-3)

        self.each("correlation", "draw", check)


if __name__ == "__main__":
    unittest.main()

"""Whether the stated 95 % intervals hold the truth of repeated measurements (repeats.py). Two hundred repeats
tell a broken budget; tests/bench/coverage.py --long, 2,000 of them, tells 93 to 97 %.
"""

import unittest

import numpy as np

import repeats

SEED, COUNT = 20260514, 200


class Coverage(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        print(f"seed {SEED}")
        cls.found = repeats.run(SEED, COUNT)
        cls.coverages = repeats.coverages(cls.found, repeats.truth())

    def test_all_have_intervals(self):
        self.assertFalse(np.isnan(self.found).any(), "a value or its expanded uncertainty is missing")
        self.assertTrue((self.found[..., 1] > 0.0).all())

    def test_intervals_hold_the_truth(self):
        """Of intervals that hold with probability 0.95, 200 show a share within these limits 999 times in a
        thousand (binomial)."""
        low, high = repeats.chance(COUNT)
        self.assertAlmostEqual(low, 0.895)
        self.assertAlmostEqual(high, 0.99)
        for c in self.coverages:
            with self.subTest(c.name):
                print(f"{c.name}: {100 * c.share:.1f} %")
                self.assertTrue(low <= c.share <= high, f"{c.name}: {c.held} of {c.count}")

    def test_intervals_are_no_wider_than_the_scatter(self):
        """Half-widths within a fifth of 1.96 standard deviations of the values: the scatter of 200 is itself
        known to 5 %, k may be up to 2.1 for the degrees of freedom in use."""
        for c in self.coverages:
            with self.subTest(c.name):
                ratio = c.half_width / (1.96 * c.scatter)
                print(f"{c.name}: half-width {100 * c.half_width:.2f} %, 1.96 scatter {196 * c.scatter:.2f} %")
                self.assertTrue(0.8 < ratio < 1.2, f"{c.name}: {ratio:.3f}")

    def test_the_errors_are_drawn(self):
        """The scatter is that of errors far above the noise alone, and the mean is near the truth."""
        for c in self.coverages:
            with self.subTest(c.name):
                self.assertGreater(c.scatter, 0.003)
                self.assertLess(abs(c.bias), 4.0 * c.scatter / np.sqrt(COUNT) + 0.003)


if __name__ == "__main__":
    unittest.main()

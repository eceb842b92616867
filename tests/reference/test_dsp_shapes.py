"""Numerics on curves and surfaces (src/dsp/) against numpy and scipy, case by case; see test_dsp.py."""

import unittest

import numpy as np
from scipy import interpolate, ndimage, optimize, signal, special

from dsp_cases import Cases

EPS = 1e-12


def around(x, at, count):
    """The points that a Lagrange interpolation over `count` points takes: as many on either side of the
    interval that holds `at`, moved inwards at the ends."""
    i = np.clip(np.searchsorted(x, at, side="right") - 1, 0, len(x) - 2)
    first = np.clip(i + 1 - count // 2, 0, max(len(x) - count, 0))
    return slice(first, first + min(count, len(x)))


def through(x, y, at, count):
    """Value at `at` of the polynomial through the `count` points about it."""
    part = around(x, at, count)
    return float(interpolate.BarycentricInterpolator(x[part], y[part])(at))


class Interpolation(Cases):
    def test_interval(self):
        """numpy.searchsorted, held within the first and the last interval."""

        def check(case, out):
            if len(case.x) < 2:
                self.assertEqual(set(out), {None})
                return
            self.near(out, np.clip(np.searchsorted(case.x, case.at, side="right") - 1, 0, len(case.x) - 2), 0)

        self.each("interpolate", "interval", check)

    def test_linear(self):
        def check(case, out):
            self.near(out, np.interp(case.at, case.x, case.y), EPS * 10)

        self.each("interpolate", "linear", check)

    def test_cubic(self):
        """scipy's barycentric polynomial through the same four points (fewer where there are fewer)."""

        def check(case, out):
            if len(case.x) < 2:
                self.assertEqual(set(out), {None})
                return
            expected = np.array([through(case.x, case.y, at, 4) for at in case.at])
            # Outside, the polynomial grows; so does what rounding does to it.
            size = np.maximum(np.abs(expected), 1.0)
            self.near(np.array(out) / size, expected / size, 1e-10)

        self.each("interpolate", "cubic", check)

    def test_lagrange_weights(self):
        """Each weight is the polynomial through 1 at its point and 0 at the others."""

        def check(case, out):
            if len(case.x) < 2:
                self.assertEqual(set(map(str, out)), {"None"})
                return
            for at, (first, weights) in zip(case.at, out):
                part = around(case.x, at, 4)
                self.assertEqual((first, len(weights)), (part.start, part.stop - part.start))
                unit = np.eye(len(weights))
                expected = interpolate.BarycentricInterpolator(case.x[part], unit)(at)
                self.near(weights, expected, 1e-10 * max(1.0, np.abs(expected).max()))

        self.each("interpolate", "lagrange_weights", check)

    def test_crossing_by_its_own_rule(self):
        """The rule as documented (cubic in the logarithm within a factor of ten, else six points of the
        values), its root by scipy.optimize.brentq."""

        def check(case, out):
            if case.beam == "none":
                self.assertIsNone(out)
                return

            def value(at):
                near = case.y[around(case.x, at, 4)]
                if near.min() > 0.1 * near.max():
                    return np.exp(through(case.x, np.log(case.y), at, 4))
                return through(case.x, case.y, at, 6)

            sign = 1.0 if case.forward else -1.0
            beyond = sorted(sign * case.x[sign * case.x > sign * getattr(case, "from")])
            before = sign * getattr(case, "from")
            for at in beyond:
                if value(sign * at) < case.level:
                    break
                before = at
            root = optimize.brentq(lambda u: value(sign * u) - case.level, before, at, xtol=1e-14)
            # Where the rule changes from one interpolation to the other, the two ends of the jump differ.
            self.near(out, sign * root, 1e-9)

        self.each("interpolate", "crossing", check)

    def test_crossing_of_beams(self):
        """Closed forms: exp(−2x²) falls to −L dB at sqrt(0.1 L ln10 / 2), exactly, since its logarithm is a
        parabola; (2J1(4x)/(4x))² by scipy.special, where half a width is four to nine steps (two and a half
        of the longest) and the rest of a cubic is below 2e-3 of it. Noise of 0.5 % of the peak moves a
        crossing by noise over slope, here by at most 0.02 (three deviations)."""

        def check(case, out):
            if case.beam == "none":
                return
            if case.beam == "Gaussian":
                exact = np.sqrt(-np.log(case.level) / 2)
            else:
                exact = optimize.brentq(lambda x: (2 * special.j1(4 * x) / (4 * x)) ** 2 - case.level, 1e-3, 0.9)
            tolerance = 1e-9 if case.beam == "Gaussian" else 2e-3 * exact
            self.near(abs(out), exact, 0.02 if case.rough else tolerance)

        self.each("interpolate", "crossing", check)


class Quadratic(Cases):
    def test_top_along_a_line(self):
        """numpy.polyfit, the top by the roots of the derivative. The routine finds it on a raster of
        1/400 of half the range and a parabola: place 1e-5 of half the range, value 1e-8."""

        def check(case, out):
            points = np.array(case.points)
            degree = 4 if len(points) >= 7 else 2
            if len(points) < 4:
                self.assertIsNone(out)
                return
            centre, half = (points[:, 0].max() + points[:, 0].min()) / 2, np.ptp(points[:, 0]) / 2
            u = (points[:, 0] - centre) / half
            fit = np.polyfit(u, points[:, 1], degree)
            roots = np.roots(np.polyder(fit))
            roots = roots[np.isreal(roots)].real
            ends = np.array([-1.0, 1.0])
            tops = np.concatenate([roots[np.abs(roots) < 1], ends])
            best = tops[np.polyval(fit, tops).argmax()]
            if best in ends:
                self.assertIsNone(out)
                return
            self.near(out["x"], centre + half * best, 1e-5 * half)
            self.near(out["value"], np.polyval(fit, best), 1e-8)
            squares = ((np.polyval(fit, u) - points[:, 1]) ** 2).sum()
            self.near(out["residual"], np.sqrt(squares / (len(u) - degree - 1)), 1e-9)

        self.each("quadratic", "top_1d", check)

    def test_top_over_a_plane(self):
        """numpy.linalg.lstsq in plain coordinates about the mean, the top by numpy.linalg.solve."""

        def check(case, out):
            x, y, v = np.array(case.points).T
            if len(v) < 9:
                self.assertIsNone(out)
                return
            u, w = x - x.mean(), y - y.mean()
            columns = np.column_stack([np.ones_like(u), u, w, u * u, u * w, w * w])
            c = np.linalg.lstsq(columns, v, rcond=None)[0]
            bend = np.array([[2 * c[3], c[4]], [c[4], 2 * c[5]]])
            if np.linalg.eigvalsh(bend).max() >= 0:
                self.assertIsNone(out)
                return
            top = np.linalg.solve(bend, -c[1:3])
            self.near([out["x"], out["y"]], top + [x.mean(), y.mean()], 1e-8)
            self.near(out["value"], c[0] + top @ c[1:3] / 2, 1e-9)
            squares = ((columns @ c - v) ** 2).sum()
            self.near(out["residual"], np.sqrt(squares / (len(v) - 6)), 1e-9)

        self.each("quadratic", "top_2d", check)


class MinimumPhase(Cases):
    def test_phase(self):
        """Analytic filters by scipy.signal.freqs, and a filter of taps by scipy.signal.minimum_phase, taken
        to the frequencies by ω = 2 atan(f/c). Within 1e-3 rad: near a resonance the phase is no straight line
        between two points of the grid."""

        def check(case, out):
            if case.name == "taps":
                # Padded with zeros so that the logarithm's own transform does not wrap around.
                taps = signal.minimum_phase(case.taps, method="homomorphic", n_fft=1 << 18, half=False)
                w = 2 * np.arctan(case.at / case.centre_hz)
                expected = signal.freqz(taps, worN=w)[1]
                self.near(np.abs(expected) / np.abs(signal.freqz(case.taps, worN=w)[1]), np.ones(len(w)), 1e-6)
            elif case.filter == "resonance":
                w0 = 2 * np.pi * case.f0_hz
                expected = signal.freqs([w0**2], [1, w0 / case.q, w0**2], 2 * np.pi * case.at)[1]
            else:
                low_pass = signal.butter(case.order, 2 * np.pi * case.cutoff_hz, analog=True)
                expected = signal.freqs(*low_pass, 2 * np.pi * case.at)[1]
            off = np.angle(np.exp(1j * np.array(out)) / (expected / np.abs(expected)))
            self.near(off, np.zeros(len(off)), 1e-3)

        self.each("minimum_phase", "at", check)

    def test_points(self):
        def check(case, out):
            self.assertEqual(out, case.n // 2 + 1)

        self.each("minimum_phase", "points", check)

    def test_grid(self):
        """The rule as documented."""

        def check(case, out):
            f = case.frequency_hz
            centre = max(np.sqrt(f[f > 0][0] * f[-1]), 0.01 * f[-1])
            n = 1 << 15
            while n < 1 << 17 and not np.all(4 * np.pi * centre * (1 + (f[1:] / centre) ** 2) / n <= np.diff(f)):
                n *= 2
            self.near(out["centre_hz"], centre, 1e-12 * centre)
            self.assertEqual(out["n"], n)

        self.each("minimum_phase", "grid_for", check)

    def test_of_table(self):
        """scipy.signal.hilbert of the logarithm, of the table linear between its rows and constant beyond,
        on an even grid to a hundred times the highest frequency, whose own error there is the part beyond
        the grid (1e-4)."""

        def check(case, out):
            f, m = case.frequency_hz, case.magnitude
            if m.min() <= 0:
                self.assertIsNone(out)
                return
            n = 1 << 22
            step = 200.0 * f[-1] / n
            grid = np.fft.fftfreq(n, 1.0 / (n * step))
            phase = -np.imag(signal.hilbert(np.log(np.interp(np.abs(grid), f, m))))
            expected = np.interp(case.at, grid[: n // 2], phase[: n // 2])
            self.near(out, expected, 5e-4)

        self.each("minimum_phase", "of_table", check)


class Contour(Cases):
    def test_area(self):
        """A bicubic spline (scipy.interpolate.RectBivariateSpline) on a raster forty times as fine, its
        connected cells by scipy.ndimage.label. Splines and four-point polynomials differ by 0.1 % of the
        area where the contour spans eight steps, 0.2 % where it spans six and a half (a rest of fourth
        order); noise of 1 % does not part them further."""
        finer = 40

        def check(case, out):
            if case.name == "below the level":
                self.assertIsNone(out)
                return
            row, column = (int(i) for i in case.seed)
            values = case.values.reshape(len(case.y), len(case.x))

            def refined(x):
                return np.interp(np.arange((len(x) - 1) * finer + 1) / finer, np.arange(len(x)), x)

            x, y = refined(case.x), refined(case.y)
            fine = interpolate.RectBivariateSpline(case.y, case.x, values)(y, x)
            labels = ndimage.label(fine >= case.level)[0]
            inside = labels == labels[row * finer, column * finer]
            cells = np.multiply.outer(np.gradient(y), np.gradient(x))
            cells[[0, -1]] /= 2
            cells[:, [0, -1]] /= 2
            area = cells[inside].sum()
            self.near(out["area"] / area, 1.0, 3e-3)
            edge = inside[[0, -1]].any() or inside[:, [0, -1]].any()
            self.assertEqual(out["at_edge"], bool(edge))
            on_grid = inside[::finer, ::finer]
            np.testing.assert_array_equal(np.reshape(out["inside"], on_grid.shape), on_grid)
            self.assertEqual(out["islands"], int(((values >= case.level) & ~on_grid).sum()))

        self.each("contour", "region", check)

    def test_closed_forms(self):
        """exp(−2 (u²/a² + v²/b²)) above −6 dB: an ellipse of 0.690775528 π a b; to 0.2 %, and to 0.3 % where
        it spans six and a half steps."""
        for name, product, tolerance in [
            ("circle, odd", 1.0, 2e-3),
            ("circle, even", 1.0, 3e-3),
            ("ellipse", 1.6, 2e-3),
            ("ellipse, uneven steps", 1.6, 2e-3),
        ]:
            _, out = self.one("contour", "region", name)
            self.near(out["area"] / (0.3 * np.log(10) * np.pi * product), 1.0, tolerance, name)


if __name__ == "__main__":
    unittest.main()

"""Maps between their points, over regions and smoothed (src/dsp/) against numpy and scipy; see test_dsp.py."""

import unittest

import numpy as np
from scipy import integrate, interpolate, ndimage, optimize

from dsp_cases import Cases


def gauss(x, y):
    """exp(−2 (u²/1.5² + v²)), u and v turned by 0.5 rad."""
    s, c = np.sin(0.5), np.cos(0.5)
    return np.exp(-2 * (((c * x + s * y) / 1.5) ** 2 + (c * y - s * x) ** 2))


def polynomial(x, y):
    return x**4 - 2 * x * x * y + 0.5 * y**3 - 300.0 + x


def lobes(x, y):
    r2 = x * x + y * y
    return (1 - 0.5 * r2) ** 2 * np.exp(-0.5 * r2)


FORMS = {"gauss": gauss, "polynomial": polynomial, "lobes": lobes}


def about(x, at, count):
    """The points of an interpolation over `count` points: as many on either side of the interval that holds
    `at`, moved inwards at the ends."""
    i = np.clip(np.searchsorted(x, at, side="right") - 1, 0, len(x) - 2)
    first = np.clip(i + 1 - count // 2, 0, max(len(x) - count, 0))
    return slice(first, first + count)


def between(case, x, y):
    """The rule as documented, by scipy's barycentric polynomials along both axes; None off the grid."""
    if not (case.x[0] <= x <= case.x[-1] and case.y[0] <= y <= case.y[-1]) or len(case.y) < 2:
        return None
    values = case.values.reshape(len(case.y), len(case.x))

    def through(values, count):
        rows, columns = about(case.y, y, count), about(case.x, x, count)
        across = interpolate.BarycentricInterpolator(case.x[columns], values[rows, columns].T)(x)
        return float(interpolate.BarycentricInterpolator(case.y[rows], across)(y))

    near = values[about(case.y, y, 4), about(case.x, x, 4)]
    if near.min() > 0.1 * max(near.max(), 0.0):
        return np.exp(through(np.log(np.maximum(values, 1e-300)), 4))
    return through(values, 6)


class Surface(Cases):
    def test_holds(self):
        def check(case, out):
            x, y = np.array(case.at).T
            expected = (case.x[0] <= x) & (x <= case.x[-1]) & (case.y[0] <= y) & (y <= case.y[-1])
            np.testing.assert_array_equal(out, expected)

        self.each("surface", "holds", check)

    def test_at(self):
        """The documented rule; 1e-12 of the largest, as polynomials over uneven points amplify rounding."""

        def check(case, out):
            for at, found in zip(case.at, out):
                expected = between(case, *at)
                if expected is None:
                    self.assertIsNone(found)
                else:
                    self.near(found, expected, 1e-12 * np.abs(case.values).max(), str(at))

        self.each("surface", "at", check)

    def test_closed_forms(self):
        """What the map was made of. A Gaussian's logarithm is a quadratic and a polynomial of fourth degree
        passes through six points: exact, the Gaussian but where it falls by ten within four points. There,
        and on the lobes, what is left of a polynomial: below 1e-3 of the largest."""

        def check(case, out):
            if case.form not in FORMS:
                return
            x, y = np.array([at for at, v in zip(case.at, out) if v is not None]).T
            found = np.array([v for v in out if v is not None])
            off = np.abs(found - FORMS[case.form](x, y))
            self.assertLessEqual(off.max(), (1e-9 if case.form == "polynomial" else 1e-3) * np.abs(case.values).max())
            if case.form == "gauss":
                self.assertLessEqual(np.median(off / FORMS["gauss"](x, y)), 1e-3)
                high = FORMS["gauss"](x, y) > 0.6
                self.assertLessEqual((off / FORMS["gauss"](x, y))[high].max(), 1e-9)

        self.each("surface", "at", check)

    def test_fall(self):
        """The first of quarter steps at which the documented rule lies below the level, and from the one before
        the root by scipy.optimize.brentq; none when the grid ends first. At −3 dB the
        Gaussian is interpolated exactly: the closed form too."""

        def check(case, out):
            start, direction = np.array(getattr(case, "from")), np.array(case.direction)
            step = min(np.diff(case.x).min(), np.diff(case.y).min()) / 4

            def over(d):
                value = between(case, *(start + d * direction))
                return None if value is None else value - case.level

            d = step
            while (height := over(d)) is not None and height >= 0:
                d += step
            if height is None:
                self.assertIsNone(out)
                return
            self.near(out, optimize.brentq(over, d - step, d, xtol=1e-13) if over(d - step) > 0 else d - step, 1e-11)
            if case.form == "gauss" and case.level > 0.4:
                exact = optimize.brentq(lambda d: gauss(*(start + d * direction)) - case.level, 0.0, 3.0)
                self.near(out / exact, 1.0, 1e-9)

        self.each("surface", "fall", check)


class RegionMoments(Cases):
    def test_against_a_spline(self):
        """Sums over a bicubic spline (scipy.interpolate.RectBivariateSpline) on a raster forty times as fine,
        its connected cells by scipy.ndimage.label. The contours of splines and of four-point polynomials
        differ by a rest of the fourth order, 0.1 % of the area where they span eleven steps or more;
        twice that in moments of second degree; centres by a thousandth of the region's radius."""
        finer = 40

        def check(case, out):
            row, column = (int(i) for i in case.seed)
            values = case.values.reshape(len(case.y), len(case.x))
            if values[row, column] < case.level:
                self.assertIsNone(out)
                return

            def refined(x):
                return np.interp(np.arange((len(x) - 1) * finer + 1) / finer, np.arange(len(x)), x)

            x, y = refined(case.x), refined(case.y)

            def fine(values):
                return interpolate.RectBivariateSpline(case.y, case.x, values)(y, x)

            labels = ndimage.label(fine(values) >= case.level)[0]
            inside = labels == labels[row * finer, column * finer]
            cells = np.multiply.outer(np.gradient(y), np.gradient(x))
            cells[[0, -1]] /= 2
            cells[:, [0, -1]] /= 2
            w = (cells * fine(case.weights.reshape(values.shape)))[inside]
            gx, gy = (v[inside] for v in np.meshgrid(x, y))
            area, total = cells[inside].sum(), w.sum()
            centre = np.array([w @ gx, w @ gy]) / total
            u, v = gx - centre[0], gy - centre[1]
            radius = np.sqrt(area / np.pi)
            self.near(out["area"] / area, 1.0, 1e-3)
            self.near(out["integral"] / total, 1.0, 1e-3)
            self.near(np.array([out["x"], out["y"]]) / radius, centre / radius, 1e-3)
            squares = np.array([w @ (u * u), w @ (u * v), w @ (v * v)]) / total
            size = np.sqrt(squares[0] * squares[2])
            self.near(np.array([out["xx"], out["xy"], out["yy"]]) / size, squares / size, 2e-3)
            edge = inside[[0, -1]].any() or inside[:, [0, -1]].any()
            self.assertEqual(out["at_edge"], bool(edge))

        self.each("region_moments", "region_moments", check)

    def test_closed_forms(self):
        """exp(−2q) above the level e^(−2Q), q = u²/a² + v²/b²: area πabQ; of unit weights mean squares a²Q/4
        and b²Q/4 along u and v; weighted with itself the integral πab (1 − e^(−2Q))/2. On the uneven grid
        and the even one the contour spans eleven steps or more: 1e-3."""
        for name in ("Gaussian", "Gaussian, uneven steps"):
            for db in (6, 12):
                q = 0.1 * db * np.log(10) / 2
                _, out = self.one("region_moments", "region_moments", f"{name}, −{db} dB, ones")
                self.near(out["area"] / (np.pi * 1.5 * q), 1.0, 1e-3)
                s, c = np.sin(0.5), np.cos(0.5)
                turn = np.array([[c, s], [-s, c]])
                squares = turn.T @ np.diag([1.5**2, 1.0]) @ turn * q / 4
                found = np.array([[out["xx"], out["xy"]], [out["xy"], out["yy"]]])
                self.near(found / np.trace(squares), squares / np.trace(squares), 1e-3)
                self.near([out["x"], out["y"]], np.zeros(2), 1e-3)
                _, out = self.one("region_moments", "region_moments", f"{name}, −{db} dB, itself")
                self.near(out["integral"] / (np.pi * 1.5 * (1 - np.exp(-2 * q)) / 2), 1.0, 1e-3)


class SmoothSurface(Cases):
    def test_smoothed(self):
        """At each point the quadratic through the points within the radius by numpy.linalg.lstsq, its value
        there: over places in mean steps, and true places near the edges, as documented; the value as it is
        where the points do not fix one."""

        def check(case, out):
            x, y, radius = case.x, case.y, case.radius
            values = case.values.reshape(len(y), len(x))
            if min(len(x), len(y)) < 2:
                np.testing.assert_array_equal(out, case.values)
                return
            dx, dy = np.ptp(x) / (len(x) - 1), np.ptp(y) / (len(y) - 1)
            if radius < 1.5 * min(dx, dy):
                np.testing.assert_array_equal(out, case.values)
                return
            radius = min(radius, 8 * max(dx, dy)) * (1 + 1e-9)
            wide, high = int(radius / dx), int(radius / dy)
            expected = np.empty_like(values)
            for r, c in np.ndindex(values.shape):
                inside = high <= r < len(y) - high and wide <= c < len(x) - wide
                rows, columns = np.mgrid[max(r - high, 0) : min(r + high + 1, len(y)),
                                         max(c - wide, 0) : min(c + wide + 1, len(x))]
                u, v = (columns - c) * dx, (rows - r) * dy
                near = u * u + v * v <= radius * radius
                if not inside:
                    u, v = x[columns] - x[c], y[rows] - y[r]
                u, v = u[near] / radius, v[near] / radius
                terms = np.column_stack([np.ones_like(u), u, v, u * u, u * v, v * v])
                if len(u) <= 6 or np.linalg.matrix_rank(terms) < 6:
                    expected[r, c] = values[r, c]
                else:
                    near_values = values[rows, columns][near]
                    expected[r, c] = np.linalg.lstsq(terms, near_values, rcond=None)[0][0]
            self.near(np.reshape(out, values.shape), expected, 1e-11 * np.abs(values).max())

        self.each("smooth_surface", "smoothed", check)


class DiscMean(Cases):
    def test_against_quadrature(self):
        """scipy.integrate.dblquad of the closed form over the disc. The routine's rule is of the seventh
        degree: over a radius of 0.3 a Gaussian of 1/e² radius 1 leaves (2·0.09)⁴/4!, 4e-5; of the
        lobes, with a quadratic before it, up to five times that. A polynomial is exact. Where there is no closed form,
        a raster over the disc of what the surface's own rule makes of the map stands for it, to 1e-4."""

        def check(case, out):
            x, y = case.at
            fits = (
                case.x[0] <= x - case.radius
                and x + case.radius <= case.x[-1]
                and case.y[0] <= y - case.radius
                and y + case.radius <= case.y[-1]
                and len(case.y) > 1
            )
            if not fits:
                self.assertIsNone(out)
                return
            if case.radius == 0:
                self.near(out, between(case, x, y), 1e-10 * np.abs(case.values).max())
                return
            value = FORMS.get(case.form)
            if value is None:
                # Of a map without a closed form, of what the surface's rule makes of it.
                def value(x, y):
                    return between(case, x, y)

                r = case.radius * np.sqrt((np.arange(30) + 0.5) / 30)
                turns = 2 * np.pi * (np.arange(60) + 0.5) / 60
                places = [(x + a * np.cos(t), y + a * np.sin(t)) for a in r for t in turns]
                expected = np.mean([value(*p) for p in places])
                self.near(out, expected, 1e-4 * np.abs(case.values).max())
                return
            total, _ = integrate.dblquad(
                lambda t, r: r * value(x + r * np.cos(t), y + r * np.sin(t)),
                0,
                case.radius,
                0,
                2 * np.pi,
                epsabs=1e-11,
            )
            expected = total / (np.pi * case.radius**2)
            tolerance = {"polynomial": 1e-11, "gauss": 4e-5, "lobes": 2e-4}[case.form]
            self.near(out, expected, tolerance * np.abs(case.values).max())

        self.each("disc_mean", "disc_mean", check)


if __name__ == "__main__":
    unittest.main()

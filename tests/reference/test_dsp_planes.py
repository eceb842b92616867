"""Spectra, weighted fits and phases over a plane (src/dsp/) against numpy and scipy; see test_dsp.py."""

import unittest

import numpy as np
from numpy.polynomial import polynomial
from scipy import fft, interpolate, ndimage, optimize

from dsp_cases import Cases, as_complex

EPS = 1e-13
LENGTHS = np.array(sorted(2**a * 3**b for a in range(1, 16) for b in range(10)))


def equal_steps(x):
    """The equal steps that the routine makes, as its source states: as they are, when no place is off by a
    thousandth of a step; as many over the same stretch, when all are within a ratio of 1.25 of the mean;
    else of the smallest step, four times as many at most. And whether they differ from `x`."""
    mean = (x[-1] - x[0]) / (len(x) - 1)
    steps = np.diff(x)
    alike = np.linspace(x[0], x[-1], len(x))
    if np.abs(x - alike).max() <= 1e-3 * mean:
        return alike, False
    if steps.max() <= 1.25 * mean and 1.25 * steps.min() >= mean:
        return alike, True
    intervals = min(int(np.ceil((x[-1] - x[0]) / steps.min())), 4 * len(x))
    return np.linspace(x[0], x[-1], intervals + 1), True


def along(x, values, at):
    """Along the first axis: the polynomial through the eight points about each place (scipy's barycentric)."""
    out = []
    for place in at:
        i = np.clip(np.searchsorted(x, place, side="right") - 1, 0, len(x) - 2)
        # What equal steps make of a given place may fall on either side of it: there all polynomials agree.
        first = np.clip(i - 3, 0, max(len(x) - 8, 0))
        part = slice(first, first + 8)
        out.append(interpolate.BarycentricInterpolator(x[part], values[part])(place))
    return np.array(out)


class PlaneSpectrum(Cases):
    def refused(self, case, out):
        wrong = (
            min(len(case.x), len(case.y)) < 2
            or len(case.map["re"]) != len(case.x) * len(case.y)
            or min(np.diff(case.x).min(), np.diff(case.y).min()) <= 0
        )
        if wrong:
            self.assertIsNone(out)
        return wrong

    def test_transform(self):
        """scipy.fft.fft2 of the map on equal steps, padded to the next 2^a 3^b from twice its size on; wave
        numbers by fftfreq, its bin n/2 positive. 1e-13 of the largest; where values are interpolated 1e-12,
        since polynomials over uneven places amplify rounding."""

        def check(case, out):
            if self.refused(case, out):
                return
            (x, off_x), (y, off_y) = equal_steps(case.x), equal_steps(case.y)
            self.assertEqual(out["resampled"], off_x or off_y)
            self.assertEqual(out["points"], len(x) * len(y))
            step = np.array([x[1] - x[0], y[1] - y[0]])
            self.near(np.array(out["step"]) / step, np.ones(2), 1e-9)
            values = as_complex(case.map).reshape(len(case.y), len(case.x))
            if off_x or off_y:
                values = along(case.y, along(case.x, values.T, x).T, y)
            shape = [int(LENGTHS[np.searchsorted(LENGTHS, 2 * len(axis))]) for axis in (y, x)]
            # The mean step, free of the rounding of places far from zero.
            for n, d, found in [(shape[1], step[0], out["kx"]), (shape[0], step[1], out["ky"])]:
                expected = 2 * np.pi * np.fft.fftfreq(n, d)
                expected[n // 2] *= -1
                self.near(np.array(found) * d, expected * d, 1e-9)
            expected = fft.fft2(values, shape) * np.sqrt(step.prod() / np.prod(shape))
            tolerance = (1e-12 if out["resampled"] else EPS) * np.abs(expected).max()
            self.near(np.reshape(as_complex(out["values"]), shape), expected, tolerance)

        self.each("plane_spectrum", "plane_spectrum", check)

    def test_packets(self):
        """Fourier's integral of exp(−r²/2w²) exp(j k0·r) is 2πw² exp(−w²|k − k0|²/2): the sum over the map
        is that but for what lies beyond the map and beyond the sampling: below 1e-10 of the top at w = 1.3
        in ±12 at steps of 0.4 or 0.5. Places taken as equal are off by up to 4e-4 of a step, the phases
        by 2e-4; eight-point polynomials over steps of 0.5 are good to the same."""

        def check(case, out):
            if case.packet is None or self.refused(case, out):
                return
            kx0, ky0, w = case.packet
            kx, ky = np.meshgrid(out["kx"], out["ky"])
            # Phases are relative to the first point; the packet's to its middle.
            half = np.array([np.ptp(case.x), np.ptp(case.y)]) / 2
            transform = 2 * np.pi * w**2 * np.exp(-(w**2) * ((kx - kx0) ** 2 + (ky - ky0) ** 2) / 2)
            transform = transform * np.exp(-1j * (kx * half[0] + ky * half[1]))
            scale = 1 / np.sqrt(np.prod(out["step"]) * kx.size)
            expected = transform * scale
            tolerance = 2e-4 if out["resampled"] or "equal but" in case.name else 1e-10
            found = np.reshape(as_complex(out["values"]), kx.shape)
            self.near(found, expected, tolerance * np.abs(expected).max())
            energy = (np.abs(found) ** 2).sum() / (np.pi * w**2)
            self.near(energy, 1.0, tolerance)

        self.each("plane_spectrum", "plane_spectrum", check)


def design(x, y):
    return np.column_stack([np.ones_like(x), x, y, x * x, x * y, y * y])


class WeightedSurface(Cases):
    def test_fit(self):
        """numpy.linalg.lstsq of the rows times √weight; uncertainties by scipy.optimize.curve_fit with
        deviations 1/√weight, known but for one factor. Both in units of the farthest point along each axis;
        the routine's normal equations square the condition of the rows (below 100 here): 1e-11."""

        def check(case, out):
            x, y, value, weight = np.array(case.points).T
            reach = np.abs(x).max(), np.abs(y).max()
            x, y = x / reach[0], y / reach[1]
            rows = design(x, y)
            root = np.sqrt(weight)
            if len(x) <= 6 or np.linalg.matrix_rank(rows * root[:, None]) < 6:
                self.assertIsNone(out)
                return
            units = design(*np.array([[1 / reach[0]], [1 / reach[1]]]))[0]
            c = np.linalg.lstsq(rows * root[:, None], value * root, rcond=None)[0]
            size = np.abs(value).max()
            self.near(np.array(out["c"]) / units, c, 1e-11 * size)
            left = weight / weight.mean() * (value - rows @ c) ** 2
            residual = np.sqrt(left.sum() / (len(x) - 6))
            self.near(out["residual"], residual, 1e-11 * size)
            kept = weight > 0
            covariance = optimize.curve_fit(
                lambda at, *c: design(*at) @ np.array(c),
                np.array([x, y])[:, kept],
                value[kept],
                p0=c,
                sigma=1 / root[kept],
                absolute_sigma=False,
                jac=lambda at, *c: design(*at),
            )[1]
            u = np.sqrt(np.diag(covariance))
            self.assertTrue(np.isfinite(u).all())
            # curve_fit counts the points with a weight, the routine all of them.
            u = u * np.sqrt((kept.sum() - 6) / (len(x) - 6))
            # An exact fit has rounding alone for a scatter.
            self.near(np.array(out["u"]) / units, u, 1e-11 * (size if residual < 1e-9 * size else u.max()))

        self.each("weighted_surface", "fit", check)

    def test_at(self):
        """numpy.polynomial.polynomial.polyval2d."""

        def check(case, out):
            c = case.c
            x, y = np.array(case.at).T
            grid = np.array([[c[0], c[2], c[5]], [c[1], c[4], 0.0], [c[3], 0.0, 0.0]])
            size = np.abs(design(x, y)) @ np.abs(c)
            self.near(out / size, polynomial.polyval2d(x, y, grid) / size, EPS)

        self.each("weighted_surface", "at", check)

    def test_level_at(self):
        """numpy.linalg.solve of the gradient; none unless both curvatures exceed three times their
        uncertainties."""

        def check(case, out):
            c, u = case.c, case.u
            if not (abs(c[3]) > 3 * u[3] and abs(c[5]) > 3 * u[5]):
                self.assertIsNone(out)
                return
            bend = np.array([[2 * c[3], c[4]], [c[4], 2 * c[5]]])
            if case.name == "a trough of no bottom":
                # Along its bottom it is level everywhere: where it lies is a matter of rounding, but not the gradient.
                if out is not None:
                    self.near(bend @ np.array(out) + c[1:3], np.zeros(2), 1e-9)
                return
            place = np.linalg.solve(bend, -c[1:3])
            self.near(np.array(out) / np.abs(place), np.sign(place), 1e-11)

        self.each("weighted_surface", "level_at", check)


class Unwrapped(Cases):
    def test_points(self):
        """Those that scipy.ndimage.label joins with the strongest point above the level, each once."""

        def check(case, out):
            phasors = as_complex(case.phasors)
            size = np.abs(phasors)
            if not size.any():
                self.assertIsNone(out)
                return
            strong = size >= case.floor * size.max()
            # A level of zero is refused.
            if case.floor * size.max() <= 0:
                self.assertIsNone(out)
                return
            labels = ndimage.label(strong.reshape(-1, case.columns))[0].ravel()
            expected = np.flatnonzero(labels == labels[size.argmax()])
            np.testing.assert_array_equal(sorted(i for i, _ in out), expected)

        self.each("unwrapped", "unwrapped", check)

    def test_phases(self):
        """Each phase is the phasor's own but for whole turns, the first point's exactly; and each is within
        half a turn of one found before it at its side."""

        def check(case, out):
            if out is None:
                return
            phasors = as_complex(case.phasors)
            places, phases = np.array([i for i, _ in out]), np.array([p for _, p in out])
            self.assertEqual(places[0], np.abs(phasors).argmax())
            self.near(phases[0], np.angle(phasors[places[0]]), EPS)
            self.near(np.exp(1j * phases), phasors[places] / np.abs(phasors[places]), 1e-12)
            known = {}
            for i, phase in out:
                beside = [i - case.columns, i + case.columns]
                beside += [i - 1] if i % case.columns else []
                beside += [i + 1] if (i + 1) % case.columns else []
                steps = [abs(phase - known[j]) for j in beside if j in known]
                if known:
                    self.assertLessEqual(min(steps), np.pi + 1e-9)
                known[i] = phase

        self.each("unwrapped", "unwrapped", check)

    def test_smooth_phases(self):
        """The phases that the phasors were made of, but for one number of turns; where the part is the
        whole map, also numpy.unwrap along rows and then columns."""

        def check(case, out):
            if case.known is None or out is None:
                return
            places, phases = np.array([i for i, _ in out]), np.array([p for _, p in out])
            off = phases - case.known[places]
            self.near(off, np.full(len(off), off[0]), 1e-11)
            self.near(np.exp(1j * off[0]), 1.0, 1e-11)
            if len(out) == len(case.known):
                angles = np.angle(as_complex(case.phasors)).reshape(-1, case.columns)
                plain = np.unwrap(np.unwrap(angles, axis=1), axis=0).ravel()[places]
                off = phases - plain
                self.near(off, np.full(len(off), off[0]), 1e-11)

        self.each("unwrapped", "unwrapped", check)


if __name__ == "__main__":
    unittest.main()

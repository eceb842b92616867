"""The noiseless truth: quantities of the pressure in water, before the sensor.

Peaks are sought on a grid of 0.05 mm about the focus and between its points with quintic
splines; widths on lines of 0.02 mm; time at 2.5 ns with a parabola through the extreme.
"""

import numpy as np
from scipy.interpolate import InterpolatedUnivariateSpline, RectBivariateSpline
from scipy.optimize import brentq, minimize

from .wave import HARMONICS, PERIOD_S

FINE = 16000
DT_S = PERIOD_S / FINE
LEVEL_6 = {"ppsi": 10**-0.6, "pc": 10**-0.3, "pr": 10**-0.3}


def _extreme(p):
    """Maximum of each row, by the parabola through the three samples about it."""
    i = np.argmax(p, axis=1)
    row = np.arange(len(p))
    a, b, c = p[row, i - 1], p[row, i], p[row, (i + 1) % p.shape[1]]
    return b + 0.125 * (a - c) ** 2 / (2.0 * b - a - c)


def peaks(wave, points_m):
    """ppsi, pc and pr of points (n, 3)."""
    result = {name: np.empty(len(points_m)) for name in LEVEL_6}
    for start in range(0, len(points_m), 64):
        block = slice(start, start + 64)
        p = wave.pressure(wave.envelopes(points_m[block]), FINE)
        result["ppsi"][block] = np.sum(p * p, axis=1) * DT_S
        result["pc"][block] = _extreme(p)
        result["pr"][block] = _extreme(-p)
    return result


def _crossings(position, values, level):
    """The two positions about the maximum where the curve falls through the level."""
    spline = InterpolatedUnivariateSpline(position, values - level, k=5)
    roots = []
    for step in (-1, 1):
        i = int(np.argmax(values))
        while values[i] > level:
            i += step
        roots.append(brentq(spline, *sorted((position[i - step], position[i])), xtol=1e-12))
    return roots


def _width(position, values, peak, level):
    low, high = _crossings(position, values, level * peak)
    return high - low


def _maximum(position, values):
    """Position and value of the maximum of a finely sampled curve."""
    spline = InterpolatedUnivariateSpline(position, np.log(values), k=5)
    i = int(np.argmax(values))
    found = brentq(spline.derivative(), position[i - 1], position[i + 1], xtol=1e-12)
    return found, float(np.exp(spline(found)))


def _grid(x_m, y_m, z_m):
    """Points (ny * nx, 3) of a plane, x fastest."""
    y, x = np.meshgrid(y_m, x_m, indexing="ij")
    return np.column_stack([x.ravel(), y.ravel(), np.full(x.size, z_m)])


def _line(centre, axis, offsets):
    points = np.tile(np.asarray(centre, float), (len(offsets), 1))
    points[:, axis] += offsets
    return points


class Truth:
    """Collects rows {scan, quantity, value, unit, conditions}."""

    def __init__(self, wave):
        self.wave = wave
        self.scenario = wave.scenario
        self.rows = []

    def add(self, scan, quantity, value, unit, conditions):
        value = float(f"{value:.9e}")
        self.rows.append(
            {
                "scan": scan,
                "quantity": quantity,
                "value": value,
                "unit": unit,
                "conditions": conditions,
            }
        )

    def waveform(self, scan, point_m, where):
        """Quantities of one waveform that need no peak search."""
        s = self.scenario
        b = self.wave.envelopes(np.array([point_m]))
        p = self.wave.pressure(b, FINE)[0]
        running = np.cumsum(p * p) * DT_S
        ppsi = running[-1]
        t10, t90 = np.interp([0.1 * ppsi, 0.9 * ppsi], running, np.arange(FINE) * DT_S)
        td = 1.25 * (t90 - t10)
        pii = ppsi / s.rho_c
        steady = self.wave.steady(b)
        count = self.wave.harmonics
        shown = min(count, 10)
        amplitude = [abs(self.wave.harmonic(n, steady)[0]) for n in range(1, count + 1)]
        i_on = sum(a * a for a in amplitude) / (2.0 * s.rho_c)
        self.add(scan, "ppsi", ppsi, "Pa2 s", f"whole pulse, {where}")
        self.add(scan, "pii", pii, "J/m2", f"ppsi/(rho c), {where}")
        self.add(scan, "td", td, "s", f"1.25 (t90 - t10) of the running integral of p^2, {where}")
        self.add(scan, "isppa", pii / td, "W/m2", f"pii/td, {where}")
        self.add(scan, "i_on", i_on, "W/m2", f"mean of p^2/(rho c) in the steady part, {where}")
        self.add(
            scan,
            "ispta",
            i_on * s.burst_s * s.repetition_hz,
            "W/m2",
            f"tank excitation: i_on x cycles/f x repetition, {where}; "
            f"pii x repetition would be {pii * s.repetition_hz:.9e} W/m2",
        )
        self.add(scan, "p1", amplitude[0], "Pa", f"steady part, {where}")
        for n in range(2, shown + 1):
            self.add(
                scan, f"h{n}", amplitude[n - 1] / amplitude[0], "1", f"re p1, steady part, {where}"
            )
        thd = np.sqrt(sum(a * a for a in amplitude[1:shown])) / amplitude[0]
        self.add(scan, "thd", thd, "1", f"harmonics 2 to {shown}, steady part, {where}")

    def point(self, scan, point_m):
        where = "at the position of the record"
        found = peaks(self.wave, np.array([point_m]))
        for name in ("pc", "pr"):
            self.add(scan, name, found[name][0], "Pa", f"whole record, {where}")
        self.waveform(scan, point_m, where)

    def plane(self, scan):
        s = self.scenario
        z = s.plane_z_m
        offsets = np.arange(-26, 27) * 0.05e-3
        x, y = s.beam_x_m + offsets, s.beam_y_m + offsets
        maps = {k: v.reshape(len(y), len(x)) for k, v in peaks(self.wave, _grid(x, y, z)).items()}
        centre, areas = {}, {}
        for name, values in maps.items():
            spline = RectBivariateSpline(y, x, values / values.max(), kx=5, ky=5)
            start = np.unravel_index(np.argmax(values), values.shape)
            best = minimize(
                lambda q: -spline(q[0] * 1e-3, q[1] * 1e-3)[0, 0],
                [y[start[0]] * 1e3, x[start[1]] * 1e3],
                method="Nelder-Mead",
                options={"xatol": 1e-7, "fatol": 1e-13},
            )
            py, px = best.x * 1e-3
            centre[name] = np.array([px, py, z])
            areas[name] = _contour_area(spline, px, py, -best.fun * LEVEL_6[name])
        for name in ("pc", "pr"):
            value = peaks(self.wave, centre[name][None, :])[name][0]
            self.add(
                scan, name, value, "Pa", "whole pulse, maximum of its own map between the points"
            )
        for name, suffix in (("ppsi", ""), ("pc", "_pc"), ("pr", "_pr")):
            note = f"of {name} in the plane"
            self.add(scan, f"x_peak{suffix}", centre[name][0], "m", note)
            self.add(scan, f"y_peak{suffix}", centre[name][1], "m", note)
        self.waveform(scan, centre["ppsi"], "at the maximum of ppsi between the points")

        line = np.arange(-65, 66) * 0.02e-3
        for name, suffix in (("ppsi", ""), ("pc", "_pc"), ("pr", "_pr")):
            at_peak = peaks(self.wave, centre[name][None, :])[name][0]
            for axis, letter in ((0, "x"), (1, "y")):
                values = peaks(self.wave, _line(centre[name], axis, line))[name]
                levels = (3, 6, 12) if name == "ppsi" else (6,)
                for x_db in levels:
                    ratio = 10 ** (-x_db / (10 if name == "ppsi" else 20))
                    self.add(
                        scan,
                        f"width_{letter}_{x_db}{suffix}",
                        _width(line, values, at_peak, ratio),
                        "m",
                        f"-{x_db} dB of {name} along {letter} through its maximum in the plane",
                    )
            self.add(
                scan,
                f"area_6{suffix}",
                areas[name],
                "m2",
                f"inside the -6 dB contour of {name} in the plane",
            )
        self.power(scan)
        for letter, value in (("x", s.tilt_x_rad), ("y", s.tilt_y_rad)):
            self.add(scan, f"tilt_{letter}", value, "rad", f"beam axis in the {letter}z plane")

    def power(self, scan, parts=2, shift_m=(0.0, 0.0)):
        """Power through the scanned window, itself moved by a shift in x and y."""
        s = self.scenario
        step = s.plane_step_m / parts
        n = s.plane_points * parts
        axis = s.plane_axis_m()[0] - 0.5 * s.plane_step_m + step * (np.arange(n) + 0.5)
        points = _grid(axis + shift_m[0], axis + shift_m[1], s.plane_z_m)
        ppsi = np.empty(len(points))
        steady = np.empty(len(points), complex)
        for start in range(0, len(points), 256):
            block = slice(start, start + 256)
            b = self.wave.envelopes(points[block])
            p = self.wave.pressure(b, 2000)
            ppsi[block] = np.sum(p * p, axis=1) * (PERIOD_S / 2000)
            steady[block] = self.wave.steady(b)
        energy = ppsi.sum() * step**2 / s.rho_c
        window = f"over the scanned window of {s.plane_points * s.plane_step_m * 1e3:g} mm squared"
        on = f"t_on = cycles/f = {s.burst_s:.6e} s"
        self.add(
            scan,
            "power_on_plane_wave",
            energy / s.burst_s,
            "W",
            f"sum ppsi/(rho c) dA/t_on, {window}, {on}",
        )
        self.add(
            scan,
            "power_ta_plane_wave",
            energy * s.repetition_hz,
            "W",
            f"tank excitation at {s.repetition_hz:g} Hz, {window}",
        )
        size = 1024
        k_line = 2.0 * np.pi * np.fft.fftfreq(size, step)
        square = k_line[:, None] ** 2 + k_line[None, :] ** 2
        total = 0.0
        for order in range(1, HARMONICS + 1):
            k = 2.0 * np.pi * order * s.frequency_hz / s.sound_speed_m_per_s
            amplitude = self.wave.harmonic(order, steady).reshape(n, n)
            spectrum = np.abs(np.fft.fft2(amplitude, (size, size))) ** 2
            obliquity = np.sqrt(np.maximum(0.0, 1.0 - square / k**2))
            total += np.sum(spectrum * obliquity) * step**2 / size**2 / (2.0 * s.rho_c)
        self.add(
            scan,
            "power_on_angular",
            total,
            "W",
            f"steady part, weights kz/k, harmonics 1 to {HARMONICS}, {window}, zero outside it",
        )

    def axial(self, scan, x_m, y_m, z=33.0e-3 + 0.1e-3 * np.arange(241)):
        found = peaks(self.wave, _line((x_m, y_m, 0.0), 2, z))
        where = "along the scanned line, parallel to z"
        for name, suffix in (("ppsi", ""), ("pc", "_pc"), ("pr", "_pr")):
            position, value = _maximum(z, found[name])
            self.add(scan, f"z_peak{suffix}", position, "m", f"of {name} {where}")
            for x_db in (3, 6) if name == "ppsi" else (6,):
                ratio = 10 ** (-x_db / (10 if name == "ppsi" else 20))
                self.add(
                    scan,
                    f"length_{x_db}{suffix}",
                    _width(z, found[name], value, ratio),
                    "m",
                    f"-{x_db} dB of {name} {where}",
                )
            unit = "Pa2 s" if name == "ppsi" else "Pa"
            self.add(scan, name, value, unit, f"maximum of {name} {where}, between the points")


def _contour_area(spline, px, py, level, rays=720):
    """Area inside a contour that is star-shaped about (px, py), by its radius on rays."""
    angles = 2.0 * np.pi * np.arange(rays) / rays
    radii = np.empty(rays)
    for i, angle in enumerate(angles):
        sin, cos = np.sin(angle), np.cos(angle)

        def above(radius):
            return spline(py + radius * sin, px + radius * cos)[0, 0] - level

        radii[i] = brentq(above, 0.0, 1.15e-3, xtol=1e-12)
    return 0.5 * np.sum(radii**2) * 2.0 * np.pi / rays

"""The demo evaluated a second time, by numpy and scipy, from the same files.

Nothing of the program is used but what its sheet states about the computation: the low-pass's cut-off
and the windows, which are choices and no results. The low-pass's shape is that of docs/: one up to the
cut-off, then half a cosine down to zero at 1.25 times it.
"""

import tempfile
import unittest
from pathlib import Path

import h5py
import numpy as np
from scipy.interpolate import CubicSpline, RectBivariateSpline
from scipy.ndimage import label
from scipy.optimize import brentq, minimize, minimize_scalar
from scipy.signal import resample

import program
import water

SHEET = None


def setUpModule():
    global SHEET
    with tempfile.TemporaryDirectory() as folder:
        SHEET = program.report(program.DEMO / "record.json", Path(folder) / "sheet")


def columns(path):
    """Columns of a CSV by name; `#` lines before the header are notes."""
    with open(path, encoding="utf-8") as f:
        lines = [line for line in f if not line.startswith("#")]
    names = lines[0].strip().split(",")
    return names, np.array([[float(v) for v in line.split(",")] for line in lines[1:]])


def to_pascals(volts, dt_s, cutoff_hz):
    """Last axis is time, baseline removed: over the table's response, low-passed, padded fourfold."""
    names, table = columns(program.DEMO / "sensitivity.csv")
    column = dict(zip(names, table.T))
    n = 4 * volts.shape[-1]
    f = np.fft.rfftfreq(n, dt_s)
    magnitude = np.interp(f, column["frequency_hz"], column["sensitivity_nv_per_pa"] * 1e-9)
    phase = np.interp(f, column["frequency_hz"], np.unwrap(np.radians(column["phase_deg"])))
    falling = np.clip((f / cutoff_hz - 1.0) / 0.25, 0.0, 1.0)
    lowpass = 0.5 * (1.0 + np.cos(np.pi * falling))
    spectrum = np.fft.rfft(volts, n, axis=-1) * (lowpass * np.exp(-1j * phase) / magnitude)
    return np.fft.irfft(spectrum, n, axis=-1)[..., : volts.shape[-1]]


def peaks(p, finer=16):
    """Largest and smallest values between the samples, by an oversampled Fourier series."""
    fine = resample(p, finer * p.shape[-1], axis=-1)
    return fine.max(axis=-1), -fine.min(axis=-1)


def amplitudes(p, t_s, f_hz, window, harmonics=10):
    """Amplitudes of the harmonics in a window, by least squares on sines, cosines and a constant."""
    inside = (t_s >= window["start_s"]) & (t_s <= window["stop_s"])
    t = t_s[inside]
    basis = [np.ones_like(t)]
    for n in range(1, harmonics + 1):
        basis += [np.cos(2 * np.pi * n * f_hz * t), np.sin(2 * np.pi * n * f_hz * t)]
    found = np.linalg.lstsq(np.array(basis).T, p[inside], rcond=None)[0]
    return np.hypot(found[1::2], found[2::2])


def mean_square(p, t_s, window):
    """Mean of p² over the window with its fractional ends, by a spline through the samples."""
    spline = CubicSpline(t_s, p**2)
    return spline.integrate(window["start_s"], window["stop_s"]) / (window["stop_s"] - window["start_s"])


def inside(t_s, window):
    return (t_s >= window["start_s"] - 1e-12) & (t_s < window["stop_s"] - 1e-12)


class Base(unittest.TestCase):
    scan = ""

    @classmethod
    def cutoff(cls):
        return float(SHEET.scan(cls.scan)["calibration"]["lowpass_cutoff_hz"])

    def near(self, name, expected, tolerance, time_base=None):
        got = SHEET.measured(self.scan, name, time_base)
        off = got / expected - 1.0
        print(f"{self.scan} {name}: {got:.8g}, numpy {expected:.8g} ({off:+.1e})")
        self.assertLess(abs(off), tolerance, f"{self.scan} {name}")


class FocusPoint(Base):
    """One waveform: the same computation by other code, so nearly the same numbers. What differs: our
    tapers, the padding, and how peaks between samples and windows with fractional ends are reached."""

    scan = "focus-point"

    @classmethod
    def setUpClass(cls):
        _, table = columns(program.DEMO / "focus-point.csv")
        cls.t, volts = table.T
        cls.dt = (cls.t[-1] - cls.t[0]) / (len(cls.t) - 1)
        pulse = SHEET.quantity(cls.scan, "ppsi")["window"]
        # Between the feed-through, which ends before 2 µs, and the arrival.
        quiet = (cls.t > 4e-6) & (cls.t < pulse["start_s"] - 1e-6)
        cls.p = to_pascals(volts - volts[quiet].mean(), cls.dt, cls.cutoff())
        cls.noise = (cls.p[quiet] ** 2).mean()
        cls.pulse = inside(cls.t, pulse)
        cls.rho_c = water.density(21.4) * water.sound_speed(21.4)

    def test_peaks(self):
        pc, pr = peaks(self.p)
        self.near("pc", pc, 1e-4)
        self.near("pr", pr, 1e-4)

    def test_energy(self):
        energy = ((self.p[self.pulse] ** 2).sum() - self.noise * self.pulse.sum()) * self.dt
        self.near("ppsi", energy, 1e-5)
        self.near("pii", energy / self.rho_c, 1e-5)
        running = np.cumsum(self.p[self.pulse] ** 2 - self.noise)
        at = np.interp([0.1, 0.9], running / running[-1], self.t[self.pulse])
        # Each instant to a sample.
        self.near("td", 1.25 * (at[1] - at[0]), 2.5 * self.dt / 12.9e-6)

    def test_steady_state(self):
        window = SHEET.quantity(self.scan, "i_on")["window"]
        harmonics = amplitudes(self.p, self.t, 1.5e6, window)
        self.near("p1", harmonics[0], 5e-5)
        self.near("h2", harmonics[1] / harmonics[0], 2e-4)
        self.near("h3", harmonics[2] / harmonics[0], 2e-4)
        steady = mean_square(self.p, self.t, window) - self.noise
        self.near("i_on", steady / self.rho_c, 1e-5)
        self.near("ispta", steady / self.rho_c * 20 / 1.5e6 * 100.0, 1e-5, "tank")


class FocalPlane(Base):
    """A plane. The spatial peak is a free choice of method: here the top of a bicubic spline, in the
    program a quadratic in the logarithm; with 7.7 points across −6 dB they differ by up to 0.16 %."""

    scan = "focal-plane"

    @classmethod
    def setUpClass(cls):
        with h5py.File(program.DEMO / "focal-plane.h5") as f:
            counts = f["waveforms"][:].astype(float)
            cls.x, cls.y = f["x_m"][:], f["y_m"][:]
            dt, t0 = f["dt_s"][()], f["t0_s"][()]
            scale = f["waveforms"].attrs["volts_per_count"]
        t = t0 + dt * np.arange(counts.shape[-1])
        pulse = SHEET.quantity(cls.scan, "ppsi")["window"]
        quiet = t < pulse["start_s"]
        volts = (counts - counts[..., quiet].mean(axis=-1, keepdims=True)) * scale
        p = to_pascals(volts, dt, cls.cutoff())
        within = inside(t, pulse)
        noise = np.median((p[..., quiet] ** 2).mean(axis=-1))
        cls.pc, cls.pr = (cls.repaired(m) for m in peaks(p))
        cls.ppsi = cls.repaired(((p[..., within] ** 2).sum(axis=-1) - noise * within.sum()) * dt)
        cls.dead = int((cls.mask).sum())
        cls.rho_c = water.density(21.4) * water.sound_speed(21.4)

    @classmethod
    def repaired(cls, values):
        """Dead points (less than a tenth of the median around, where that stands out) replaced by the
        mean around. The first map decides."""
        around = np.stack(
            [
                np.roll(np.roll(np.pad(values, 1, mode="reflect"), a, 0), b, 1)[1:-1, 1:-1]
                for a in (-1, 0, 1)
                for b in (-1, 0, 1)
                if (a, b) != (0, 0)
            ]
        )
        if not hasattr(cls, "mask"):
            typical = np.median(around, axis=0)
            cls.mask = (values < 0.3 * typical) & (typical > 0.005 * values.max())
        return np.where(cls.mask, around.mean(axis=0), values)

    def top(self, values):
        spline = RectBivariateSpline(self.y, self.x, values)
        row, column = np.unravel_index(values.argmax(), values.shape)
        y, x = self.y[row] * 1e3, self.x[column] * 1e3
        found = minimize(
            lambda at: -spline(at[0] * 1e-3, at[1] * 1e-3)[0, 0] / values.max(),
            (y, x),
            method="Nelder-Mead",
            options={"initial_simplex": [(y, x), (y + 0.1, x), (y, x + 0.1)], "xatol": 1e-6, "fatol": 1e-12},
        )
        return spline, found.x[1] * 1e-3, found.x[0] * 1e-3, -found.fun * values.max()

    def test_dead_points(self):
        self.assertEqual(self.dead, 3)
        self.assertEqual(
            SHEET.scan(self.scan)["excluded_points"], [int(i) for i in np.flatnonzero(self.mask.ravel())]
        )

    def test_peaks(self):
        self.near("pc", self.top(self.pc)[3], 3e-3)
        self.near("pr", self.top(self.pr)[3], 3e-3)
        self.near("ppsi", self.top(self.ppsi)[3], 3e-3)

    def test_place_of_the_peak(self):
        _, x, y, _ = self.top(self.ppsi)
        # A twentieth of a step.
        self.assertAlmostEqual(SHEET.value(self.scan, "x_peak"), x, delta=1e-5)
        self.assertAlmostEqual(SHEET.value(self.scan, "y_peak"), y, delta=1e-5)

    def test_widths(self):
        spline, x, y, top = self.top(self.ppsi)
        for db in (3, 6, 12):
            level = top * 10.0 ** (-db / 10.0)
            for axis, centre, along in [
                ("x", x, lambda v: spline(y, v)[0, 0] - level),
                ("y", y, lambda v: spline(v, x)[0, 0] - level),
            ]:
                width = brentq(along, centre, centre + 1.5e-3) - brentq(along, centre - 1.5e-3, centre)
                self.near(f"width_{axis}_{db}", width, 1e-3)

    def test_area(self):
        """Cells of a raster 20 times finer above the level, in one piece with the peak."""
        spline, x, y, top = self.top(self.ppsi)
        fx, fy = (np.linspace(v[0], v[-1], 20 * (len(v) - 1) + 1) for v in (self.x, self.y))
        pieces, _ = label(spline(fy, fx) >= top * 10.0**-0.6)
        piece = pieces[np.abs(fy - y).argmin(), np.abs(fx - x).argmin()]
        area = (pieces == piece).sum() * (fx[1] - fx[0]) * (fy[1] - fy[0])
        self.near("area_6", area, 2e-3)

    def test_power(self):
        cell = (self.x[1] - self.x[0]) * (self.y[1] - self.y[0])
        on = self.ppsi.sum() * cell / self.rho_c / (20 / 1.5e6)
        self.near("power_on_plane_wave", on, 1e-5)
        self.near("power_ta_plane_wave", on * 20 / 1.5e6 * 100.0, 1e-5, "tank")


class AxialLine(Base):
    """Every row of the file has its own start; the windows move with the arrival."""

    scan = "axial"

    @classmethod
    def setUpClass(cls):
        names, table = columns(program.DEMO / "axial-line.csv")
        cls.z = table[:, names.index("z_m")]
        start = table[:, names.index("t0_s")]
        counts = table[:, names.index("waveforms[0]") :]
        dt, scale = 2e-8, 0.000244140625
        pulse = SHEET.quantity(cls.scan, "ppsi")["window"]
        t = start[:, None] + dt * np.arange(counts.shape[1])
        # The window of the sheet is that of the row nearest to the peak.
        nearest = np.abs(cls.z - SHEET.value(cls.scan, "z_peak")).argmin()
        moved = (cls.z - cls.z[nearest]) / water.sound_speed(21.4)
        t -= moved[:, None]
        quiet = t < pulse["start_s"] - 1e-7
        volts = np.array([(row - row[q].mean()) * scale for row, q in zip(counts, quiet)])
        p = to_pascals(volts, dt, cls.cutoff())
        within = inside(t, {k: v + (0.0 if k == "kind" else 1e-9) for k, v in pulse.items() if k != "kind"})
        noise = np.median([(row[q] ** 2).mean() for row, q in zip(p, quiet)])
        cls.pc, cls.pr = peaks(p)
        cls.ppsi = np.array([((row[w] ** 2).sum() - noise * w.sum()) * dt for row, w in zip(p, within)])

    def top(self, values):
        spline = CubicSpline(self.z, values)
        middle = self.z[values.argmax()]
        found = minimize_scalar(
            lambda z: -spline(z), bounds=(middle - 1e-3, middle + 1e-3), method="bounded", options={"xatol": 1e-9}
        )
        return spline, found.x, -found.fun

    def test_peaks(self):
        """Along the axis the top is flat and the noise, not the method, decides between neighbours."""
        self.near("pc", self.top(self.pc)[2], 2e-3)
        self.near("pr", self.top(self.pr)[2], 2e-3)
        self.near("ppsi", self.top(self.ppsi)[2], 2e-3)

    def test_length(self):
        spline, z, top = self.top(self.ppsi)
        self.assertAlmostEqual(SHEET.value(self.scan, "z_peak"), z, delta=2e-4)
        for db in (3, 6):
            level = top * 10.0 ** (-db / 10.0)
            ends = [brentq(lambda v: spline(v) - level, z, end) for end in (self.z[0], self.z[-1])]
            self.near(f"length_{db}", ends[1] - ends[0], 1e-3)


if __name__ == "__main__":
    unittest.main()

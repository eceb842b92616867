"""Waveforms whose quantities are known in closed form, as point scans through the program."""

import tempfile
import unittest
from pathlib import Path

import numpy as np

import program
import scans
import water

MPA = 1e6


class Waveforms(unittest.TestCase):
    """Noise-free, so that only the computation shows; all tolerances are relative."""

    def sheet(self, t_s, pressure_pa, **parts):
        with tempfile.TemporaryDirectory() as folder:
            folder = Path(folder)
            scans.write_point(folder / "wave.csv", t_s, pressure_pa)
            record = scans.write_record(folder, [("wave", "point", "wave.csv")], **parts)
            return program.report(record, folder / "sheet")

    def near(self, sheet, name, expected, tolerance, time_base=None):
        got = sheet.value("wave", name, time_base)
        self.assertLess(abs(got / expected - 1.0), tolerance, f"{name}: {got!r}, expected {expected!r}")

    def test_sine_bursts(self):
        """A sin(2πft) over N cycles, A = 1 MPa, f = 1 MHz (closed forms from the definitions of
        IEC 62127-1): ppsi = A²N/(2f); td 3.06197554748, 5 and 10 µs.

        The burst begins and ends in a kink, and the low-pass at 0.72 of Nyquist (72 MHz) takes about
        1e-4 of its energy; td is found to a sample (5 ns) at each end.
        """
        f, dt = 1e6, 5e-9
        t = np.arange(6000) * dt
        for cycles, td in [(3, 3.06197554748275e-6), (5, 5e-6), (10, 10e-6)]:
            with self.subTest(cycles=cycles):
                start = 8e-6
                inside = (t >= start) & (t <= start + cycles / f)
                p = MPA * np.where(inside, np.sin(2 * np.pi * f * (t - start)), 0.0)
                sheet = self.sheet(
                    t,
                    p,
                    excitation={"frequency_hz": f, "cycles": cycles, "repetition_hz": 1e3, "mode": "burst"},
                )
                ppsi = MPA**2 * cycles / (2 * f)
                rho_c = water.density(22.0) * water.sound_speed(22.0)
                self.near(sheet, "pc", MPA, 1e-3)
                self.near(sheet, "pr", MPA, 1e-3)
                self.near(sheet, "ppsi", ppsi, 5e-4)
                self.near(sheet, "td", td, 2.5 * dt / td)
                self.near(sheet, "pii", ppsi / rho_c, 5e-4)
                self.near(sheet, "isppa", ppsi / rho_c / td, 3e-3)
                self.near(sheet, "f_awf_zero", f, 2e-3)
                if cycles < 8:
                    # A short pulse: 2/td ∫ p exp(−jωt) dt = A N/(f td); energy times repetition rate.
                    self.near(sheet, "p1", MPA * cycles / f / td, 2e-3)
                    self.near(sheet, "ispta", ppsi / rho_c * 1e3, 5e-4, "tank")
                else:
                    self.near(sheet, "p1", MPA, 1e-3)
                    self.near(sheet, "i_on", MPA**2 / 2 / rho_c, 2e-3)
                    self.near(sheet, "ispta", MPA**2 / 2 / rho_c * cycles / f * 1e3, 2e-3, "tank")

    def test_gaussian_pulse(self):
        """A exp(−(t/τ)²) cos(2πf₀t), A = 1 MPa, τ = 1 µs, f₀ = 3 MHz (closed forms; td by mpmath):
        ppsi 626657.0687 Pa²s, td 1.63546656 µs, −3 dB bandwidth 374139.53 Hz about 3 MHz.

        The bandwidth is interpolated between bins of a spectrum padded sixteenfold.
        """
        dt, tau, f0 = 5e-9, 1e-6, 3e6
        t = np.arange(4000) * dt
        p = MPA * np.exp(-(((t - 10e-6) / tau) ** 2)) * np.cos(2 * np.pi * f0 * (t - 10e-6))
        sheet = self.sheet(t, p, excitation={"frequency_hz": f0, "repetition_hz": 1e3})
        self.near(sheet, "pc", MPA, 5e-4)
        self.near(sheet, "ppsi", 626657.06865775, 5e-4)
        self.near(sheet, "td", 1.63546656019e-6, 2.5 * dt / 1.6e-6)
        self.near(sheet, "f_awf_mean", f0, 1e-3)
        self.near(sheet, "bandwidth", 374139.530436995, 5e-3)

    def test_two_tones(self):
        """cos θ + 0.5 cos 2θ in a burst of 20 cycles: pc 1.5, pr 0.75, mean square 0.625, h2 0.5 (exact).

        Peaks are searched between samples (0.1 %); the steady window is cut by whole cycles.
        """
        f, dt = 1.5e6, 1e-8
        t = np.arange(4000) * dt
        p = MPA * (
            scans.tone_burst(1.0, f, t, 12e-6, 20.0) + scans.tone_burst(0.5, 2 * f, t, 12e-6, 40.0, 6.0)
        )
        sheet = self.sheet(t, p, excitation={"frequency_hz": f, "cycles": 20, "repetition_hz": 100.0})
        rho_c = water.density(22.0) * water.sound_speed(22.0)
        self.near(sheet, "pc", 1.5 * MPA, 1e-3)
        self.near(sheet, "pr", 0.75 * MPA, 1e-3)
        self.near(sheet, "p1", MPA, 5e-3)
        self.near(sheet, "h2", 0.5, 5e-3)
        self.near(sheet, "i_on", 0.625 * MPA**2 / rho_c, 1e-2)
        self.near(sheet, "f_awf_zero", f, 2e-3)
        self.assertLess(sheet.value("wave", "h3"), 2e-3)


class Water(unittest.TestCase):
    def test_conditions(self):
        """Sound speed by Marczak (J. Acoust. Soc. Am. 102 (1997) 2776) and density by Tanaka et al.
        (Metrologia 38 (2001) 301), evaluated with mpmath; and independent formulas: Bilaniuk and Wong
        (1993, 148 points, known to differ by up to 0.04 m/s) and Kell (1975, an older mass scale)."""
        t = np.arange(200) * 1e-8
        for celsius, speed, density in [
            (15.0, 1465.95985465306, 999.102571718036),
            (20.0, 1482.379546752, 998.206745559617),
            (22.0, 1488.35791123899, 997.772976938182),
            (30.0, 1509.167167748, 995.648797184089),
            (37.0, 1523.65300094672, 993.328954766283),
        ]:
            with self.subTest(celsius=celsius), tempfile.TemporaryDirectory() as folder:
                folder = Path(folder)
                p = scans.tone_burst(MPA, 5e6, t, 0.8e-6, 3.0)
                scans.write_point(folder / "wave.csv", t, p)
                record = scans.write_record(
                    folder, [("wave", "point", "wave.csv")], water={"temperature_c": celsius}
                )
                found = program.report(record, folder / "sheet").conditions
                self.assertAlmostEqual(found["sound_speed_m_per_s"], speed, delta=1e-8)
                self.assertAlmostEqual(found["density_kg_per_m3"], density, delta=1e-8)
                self.assertAlmostEqual(found["sound_speed_m_per_s"], water.sound_speed_of_bilaniuk(celsius), delta=0.05)
                self.assertLess(abs(found["density_kg_per_m3"] / water.density_of_kell(celsius) - 1.0), 5e-6)


if __name__ == "__main__":
    unittest.main()

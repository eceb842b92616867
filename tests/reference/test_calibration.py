"""Volts of a sensor with a known response, made in closed form, back to the pressures they came from.

Time functions are A exp(+jωt). Free of noise, so that the computation alone shows; tolerances are relative.
"""

import tempfile
import unittest
from pathlib import Path

import numpy as np
from scipy import special

import program
import scans

MPA = 1e6
DT_S = 5e-9


class Resonance:
    """A sensor that follows as a mass on a spring: M₀ / (1 − (f/f₀)² + jf/(Q f₀)), V/Pa (textbook form).
    It has no zeros: its phase is the minimum phase."""

    M0, F0_HZ, Q = 5e-8, 10e6, 4.0

    @classmethod
    def at(cls, f_hz):
        r = np.asarray(f_hz) / cls.F0_HZ
        return cls.M0 / (1.0 - r**2 + 1j * r / cls.Q)

    @classmethod
    def table(cls, f_hz):
        """Columns of its table."""
        m = cls.at(f_hz)
        return {
            "frequency_hz": f_hz,
            "sensitivity_v_per_pa": np.abs(m),
            "phase_rad": np.unwrap(np.angle(m)),
        }


class Calibrated(unittest.TestCase):
    def setUp(self):
        temporary = tempfile.TemporaryDirectory()
        self.addCleanup(temporary.cleanup)
        self.folder = Path(temporary.name)

    def sheet(self, t_s, volts, response, **excitation):
        """The sheet of one waveform under a response."""
        scans.write_columns(self.folder / "wave.csv", t_s=t_s, waveforms=volts)
        record = scans.write_record(
            self.folder,
            [("wave", "point", "wave.csv")],
            sensor={"response": response, "full_scale_v": 1e3},
            excitation=excitation,
        )
        return program.report(record, self.folder / "sheet")

    def write_table(self, columns):
        scans.write_columns(self.folder / "table.csv", **columns)
        return {"kind": "table", "file": "table.csv"}

    def near(self, sheet, name, expected, tolerance):
        got = sheet.value("wave", name)
        self.assertLess(abs(got / expected - 1.0), tolerance, f"{name}: {got!r}, expected {expected!r}")


class ResonantSensor(Calibrated):
    """Rows of the table each 0.1 MHz to 40 MHz: linear between them, its magnitude is off by 2e-4 at the
    resonance (half the second difference) and by less elsewhere; 1e-4 of the steepest signal lies above.
    Together 3e-4. A missing phase adds nothing to that: what the computed one lacks beyond the table's end
    is all but a delay."""

    TOLERANCE = 3e-4
    ROWS_HZ = np.linspace(0.1e6, 40e6, 400)

    @staticmethod
    def fubini_amplitudes(n, sigma):
        return 2.0 * special.jv(n, n * sigma) / (n * sigma)

    def test_fubini_amplitudes(self):
        """By mpmath."""
        expected = [0.969073830699496, 0.229806969863801, 0.0812852681881862, 0.0339957198075684]
        found = self.fubini_amplitudes(np.arange(1, 5), 0.5)
        self.assertLess(np.abs(found - expected).max(), 1e-14)

    def fubini(self):
        """A plane wave on its way to a shock, σ = 0.7: Σ B_n sin(nωt), B_n = 2 J_n(nσ)/(nσ) (E. Fubini 1935;
        D. T. Blackstock, J. Acoust. Soc. Am. 39 (1966) 1019), in a burst of 20 cycles of 1.5 MHz. Its peaks
        are those of the sine that it was, 1 MPa both; the sum of B_n² is 1."""
        f, t, start = 1.5e6, np.arange(5000) * DT_S, 6e-6
        n = np.arange(1, 61)
        b = self.fubini_amplitudes(n, 0.7)
        pressure = MPA * sum(
            scans.tone_burst(-1j * a * np.exp(-2j * np.pi * k * f * start), k * f, t, start, 20.0 * k, 3.0 * k)
            for k, a in zip(n, b)
        )
        return f, t, b, pressure

    @staticmethod
    def volts(pressure):
        """The sensor's volts, by the transform over a record sixteen times as long: the ringing of 2Q/ω₀
        (0.13 µs) has long died away."""
        n = 16 * len(pressure)
        f = np.fft.rfftfreq(n, DT_S)
        return np.fft.irfft(np.fft.rfft(pressure, n) * Resonance.at(f), n)[: len(pressure)]

    def check_fubini(self, sheet, b):
        f, cycles = 1.5e6, scans.burst_energy_cycles(20.0)
        self.near(sheet, "pc", MPA, self.TOLERANCE)
        self.near(sheet, "pr", MPA, self.TOLERANCE)
        self.near(sheet, "ppsi", MPA**2 / 2 * cycles / f, self.TOLERANCE)
        self.near(sheet, "p1", MPA * b[0], self.TOLERANCE)
        self.near(sheet, "h2", b[1] / b[0], self.TOLERANCE)
        self.near(sheet, "h3", b[2] / b[0], self.TOLERANCE)

    def test_steepened_burst(self):
        f, t, b, pressure = self.fubini()
        volts = self.volts(pressure)
        response = self.write_table(Resonance.table(self.ROWS_HZ))
        sheet = self.sheet(t, volts, response, frequency_hz=f, cycles=20, repetition_hz=100.0)
        self.check_fubini(sheet, b)
        self.assertNotIn("phase-minimum", sheet.codes("wave"))
        self.assertNotIn("phase-sign", sheet.codes("wave"))
        # Taken as flat, the same volts give a compression and a third harmonic a fifth too large.
        flat = self.sheet(t, volts, {"kind": "flat", "v_per_pa": Resonance.M0}, frequency_hz=f, cycles=20)
        self.assertGreater(flat.value("wave", "pc"), 1.2 * MPA)
        self.assertGreater(flat.value("wave", "h3"), 1.2 * b[2] / b[0])

    def test_steepened_burst_without_phase(self):
        f, t, b, pressure = self.fubini()
        columns = Resonance.table(self.ROWS_HZ)
        del columns["phase_rad"]
        sheet = self.sheet(
            t, self.volts(pressure), self.write_table(columns), frequency_hz=f, cycles=20, repetition_hz=100.0
        )
        self.assertIn("phase-minimum", sheet.codes("wave"))
        self.check_fubini(sheet, b)

    def gaussian(self):
        """A exp(−(t/τ)²) cos(2πf₀t) and its spectrum, A τ √π/2 [exp(−(πτ(f − f₀))²) + …(f + f₀)] (closed
        form); volts from the spectrum times the response."""
        f0, tau, at = 4e6, 0.35e-6, 5e-6
        t = np.arange(2500) * DT_S
        n = 1 << 16
        f = np.fft.rfftfreq(n, DT_S)
        lobes = sum(np.exp(-((np.pi * tau * (f - centre)) ** 2)) for centre in (f0, -f0))
        spectrum = MPA * tau * np.sqrt(np.pi) / 2 * lobes * np.exp(-2j * np.pi * f * at)
        volts = np.fft.irfft(spectrum * Resonance.at(f) / DT_S, n)[: len(t)]
        u = np.linspace(0.8, 1.2, 100_001) * 0.5 / f0
        pr = -MPA * (np.exp(-((u / tau) ** 2)) * np.cos(2 * np.pi * f0 * u)).min()
        energy = MPA**2 * tau * np.sqrt(np.pi / 2) / 2 * (1 + np.exp(-2 * (np.pi * f0 * tau) ** 2))
        return f0, tau, t, volts, pr, energy

    def check_gaussian(self, sheet, f0, tau, pr, energy):
        self.near(sheet, "pc", MPA, self.TOLERANCE)
        self.near(sheet, "pr", pr, self.TOLERANCE)
        self.near(sheet, "ppsi", energy, self.TOLERANCE)
        # A short pulse: 2/td of the spectrum at f₀, td as found.
        area = MPA * tau * np.sqrt(np.pi) / 2 * (1 + np.exp(-((2 * np.pi * tau * f0) ** 2)))
        self.near(sheet, "p1", 2 * area / sheet.value("wave", "td"), self.TOLERANCE)

    def test_gaussian_pulse(self):
        f0, tau, t, volts, pr, energy = self.gaussian()
        response = self.write_table(Resonance.table(self.ROWS_HZ))
        sheet = self.sheet(t, volts, response, frequency_hz=f0, repetition_hz=1e3)
        self.check_gaussian(sheet, f0, tau, pr, energy)

    def test_gaussian_pulse_without_phase(self):
        f0, tau, t, volts, pr, energy = self.gaussian()
        columns = Resonance.table(self.ROWS_HZ)
        del columns["phase_rad"]
        sheet = self.sheet(t, volts, self.write_table(columns), frequency_hz=f0, repetition_hz=1e3)
        self.assertIn("phase-minimum", sheet.codes("wave"))
        self.check_gaussian(sheet, f0, tau, pr, energy)


class Factors(Calibrated):
    """A burst of 20 cycles of 1 MHz whose volts are the loaded sensitivity times 1 MPa: the amplitude of its
    steady part must come back as 1 MPa. The steady part's own ripple is 1e-4 (whole cycles, trapezium rule)."""

    F_HZ = 1e6

    def recovered(self, response, v_per_pa, text=None):
        """p1 of volts that are v_per_pa · 1 MPa, re 1 MPa; and the codes of the findings."""
        if text is not None:
            (self.folder / "table.csv").write_text(text, encoding="utf-8")
        t = np.arange(8000) * DT_S
        volts = scans.tone_burst(v_per_pa * MPA, self.F_HZ, t, 12e-6, 20.0)
        sheet = self.sheet(t, volts, response, frequency_hz=self.F_HZ, cycles=20)
        return sheet.value("wave", "p1") / MPA, sheet.codes("wave")

    def test_loads(self):
        """M_L = M_C |Z_L/(Z_L + Z)| of IEC 62127-1 and -3 for 50 nV/Pa and 50 pF at 1 MHz, by mpmath."""
        table = "frequency_hz,sensitivity_nv_per_pa,phase_rad\n1e5,50,0\n2e7,50,0\n"
        sensor, megohm = {"sensor_capacitance_f": 50e-12}, {"used_resistance_ohm": 1e6}
        calibrated = {"calibrated_resistance_ohm": 1e6, "calibrated_capacitance_f": 25e-12}
        for plane, load, nv_per_pa in [
            ("open-circuit", {**megohm, "used_capacitance_f": 25e-12}, 33.3332582808582),
            ("open-circuit", {"used_capacitance_f": 25e-12}, 100 / 3),
            ("open-circuit", {"used_resistance_ohm": 50.0}, 0.785301286709977),
            ("end-of-cable", {**calibrated, **megohm, "used_capacitance_f": 15e-12}, 50 * 1.15384529298219),
        ]:
            with self.subTest(plane=plane, load=load):
                response = {"kind": "table", "file": "table.csv", "refers_to": plane, "load": {**sensor, **load}}
                ratio, codes = self.recovered(response, nv_per_pa * 1e-9, table)
                self.assertLess(abs(ratio - 1.0), 5e-4)
                self.assertIn("response-load-corrected", codes)

    def test_gain(self):
        """20 dB are a factor of ten in volts, by definition; −6 dB a factor of 0.50118723."""
        table = "frequency_hz,sensitivity_nv_per_pa,phase_rad\n1e5,50,0\n2e7,50,0\n"
        for gain_db, factor in [(20.0, 10.0), (-6.0, 0.501187233627272)]:
            response = {"kind": "table", "file": "table.csv", "gain_db": gain_db}
            ratio, _ = self.recovered(response, 50e-9 * factor, table)
            self.assertLess(abs(ratio - 1.0), 5e-4, gain_db)

    def test_units_of_tables(self):
        """By definition: 1 mV/MPa is 1 nV/Pa; a level in dB re 1 V/µPa is 20 lg(M · 1 µPa/V), 120 dB less than in
        dB re 1 V/Pa. −270 dB re 1 V/µPa are 31.6227766 nV/Pa."""
        for heading, value, nv_per_pa in [
            ("sensitivity_nv_per_pa", 50, 50),
            ("Sensitivity (mV/MPa)", 50, 50),
            ("Sensitivity (V/MPa)", 0.05, 50),
            ("sensitivity_v_per_pa", 50e-9, 50),
            ("Sensitivity (dB re 1 V/µPa)", -266.02059991328, 50),
            ("sensitivity_db_re_1v_per_pa", -146.02059991328, 50),
            ("sensitivity_db_re_1v_per_upa", -280.0, 10),
            ("sensitivity_db_re_1v_per_upa", -270.457574905607, 30),
            ("sensitivity_db_re_1v_per_upa", -246.935749724493, 450),
            ("sensitivity_db_re_1v_per_upa", -270.0, 31.6227766016838),
        ]:
            with self.subTest(heading=heading, value=value):
                table = f"Frequency (MHz),{heading},Phase (deg)\n0.1,{value},0\n20,{value},0\n"
                ratio, _ = self.recovered({"kind": "table", "file": "table.csv"}, nv_per_pa * 1e-9, table)
                self.assertLess(abs(ratio - 1.0), 5e-4)

    def test_units_of_flat_factors(self):
        for stated in ({"v_per_pa": 5e-8}, {"mv_per_mpa": 50.0}, {"db_re_1v_per_upa": -266.02059991328}):
            ratio, _ = self.recovered({"kind": "flat", **stated}, 5e-8)
            self.assertLess(abs(ratio - 1.0), 5e-4, stated)

    def test_real_and_imaginary_parts(self):
        """(40 + 30j) nV/Pa: 50 nV/Pa."""
        table = "frequency_mhz,real_nv_per_pa,imag_nv_per_pa\n0.1,40,30\n20,40,30\n"
        ratio, codes = self.recovered({"kind": "table", "file": "table.csv"}, 5e-8, table)
        self.assertLess(abs(ratio - 1.0), 5e-4)
        self.assertNotIn("phase-minimum", codes)

    def test_a_quarter_volt(self):
        """0.25 V of a sensor of 50 nV/Pa are 5 MPa."""
        ratio, _ = self.recovered({"kind": "flat", "v_per_pa": 5e-8}, 0.25 / MPA)
        self.assertLess(abs(ratio - 5.0), 2.5e-3)


if __name__ == "__main__":
    unittest.main()

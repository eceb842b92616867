"""A measured hydrophone record, deconvolved with its measured calibration, through the program.

Source of the data: see make_pydynamic_scan.py. Source of the numbers: PyDynamic 2.5.1's own procedure
(DFT of the zero-padded record over the calibration, low-pass 1/(1 + jf/80 MHz)², back, full length and
then cut; not the shipped example's call, which cuts the spectrum instead): pc 4.205041168 MPa at sample
487, pr 2.685420804 MPa at sample 482, ∫p² 1.592297364e-6 MPa²s. A target to reproduce, not the truth:
the stated u(pc) is 0.17 MPa.
"""

import os
import tempfile
import unittest
from pathlib import Path

import numpy as np

import make_pydynamic_scan
import program

PC_PA = 4.205041168e6
PR_PA = 2.685420804e6
PPSI_PA2_S = 1.592297364e-6 * 1e12
DT_S = 2e-9


def deconvolved(length):
    """Pressure in Pa by numpy, the calibration interpolated where `length` is not its own 4096."""
    _, volts = make_pydynamic_scan.measured()
    f_hz, magnitude, phase = make_pydynamic_scan.calibration()
    f = np.fft.rfftfreq(length, DT_S)
    response = np.interp(f, f_hz, magnitude) * np.exp(1j * np.interp(f, f_hz, np.unwrap(phase)))
    lowpass = 1.0 / (1.0 + 1j * f / make_pydynamic_scan.LOWPASS_HZ) ** make_pydynamic_scan.LOWPASS_ORDER
    return np.fft.irfft(np.fft.rfft(volts, length) / response * lowpass, length)[: len(volts)]


def between_samples(p):
    """Largest and smallest value, band-limited between the samples by zero-padding the spectrum."""
    n, finer = 8 * len(p), 16
    fine = np.fft.irfft(np.fft.rfft(p, n), n * finer)[: len(p) * finer] * finer
    return fine.max(), -fine.min()


class HydrophoneRecord(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.temporary = tempfile.TemporaryDirectory()
        folder = Path(os.environ.get("FOCALSHEET_REFERENCE", cls.temporary.name))
        record = make_pydynamic_scan.write(folder)
        cls.sheet = program.report(record, Path(cls.temporary.name) / "sheet")

    @classmethod
    def tearDownClass(cls):
        cls.temporary.cleanup()

    def test_numpy_gives_the_published_numbers(self):
        p = deconvolved(4096)
        self.assertEqual((p.argmax(), p.argmin()), (487, 482))
        self.assertLess(abs(p.max() / PC_PA - 1.0), 1e-9)
        self.assertLess(abs(-p.min() / PR_PA - 1.0), 1e-9)
        self.assertLess(abs((p**2).sum() * DT_S / PPSI_PA2_S - 1.0), 1e-9)

    def test_peaks(self):
        """Within 0.2 %. We search between the samples (pc +0.08 %, pr −0.001 %), and taper one sample
        at the start and ten at the end (0.01 %, since the record begins and ends off zero)."""
        self.assertLess(abs(self.sheet.measured("hydrophone", "pc") / PC_PA - 1.0), 2e-3)
        self.assertLess(abs(self.sheet.measured("hydrophone", "pr") / PR_PA - 1.0), 2e-3)

    def test_peaks_between_samples(self):
        """Within 0.05 % of the same search in numpy, and of numpy with sixteen times the padding: what
        wraps around is small."""
        for length in (4096, 65536):
            pc, pr = between_samples(deconvolved(length))
            self.assertLess(abs(self.sheet.measured("hydrophone", "pc") / pc - 1.0), 5e-4)
            self.assertLess(abs(self.sheet.measured("hydrophone", "pr") / pr - 1.0), 5e-4)

    def test_how_it_was_computed_is_stated(self):
        how = self.sheet.scan("hydrophone")["calibration"]
        self.assertEqual((how["response"], how["lowpass_kind"], how["lowpass_order"]), ("table", "one-pole", "2"))
        self.assertEqual(float(how["lowpass_cutoff_hz"]), 80e6)

    def test_a_tail_that_is_cut_off_is_told(self):
        """At the record's end the voltage has not died away (4 % of the loudest part): energies are
        refused with a reason instead of given too small."""
        quantity = self.sheet.quantity("hydrophone", "ppsi")
        self.assertIsNone(quantity["value"])
        self.assertTrue(quantity["reason"])
        self.assertIn("burst-not-held", self.sheet.codes("hydrophone"))


if __name__ == "__main__":
    unittest.main()

"""Uncertainty of a measured waveform: against PyDynamic's own propagation, and against numpy.

Source of the data: see make_pydynamic_scan.py. PyDynamic 2.5.1 (S. Eichstaedt and V. Wilkens, GUM2DFT,
Meas. Sci. Technol. 27 (2016) 055001) propagates with full covariance matrices, over the full length and
then cut (its example's call cuts the spectrum instead); with noise of 4e-4 V it gives u(pc) 0.170568 MPa
at sample 487, u(pr) 0.180963 MPa at sample 482 and u(∫p²) 2.76679e-8 MPa²s. The Monte Carlo run in numpy
draws each row by itself from normal distributions.
"""

import importlib
import importlib.util
import json
import os
import shutil
import sys
import tempfile
import types
import unittest
import warnings
from pathlib import Path

import numpy as np

import make_pydynamic_scan
import program

DT_S = 2e-9
FULL = 4096
SAMPLES = 1000
DRAWS = 2000


def pydynamic_dft():
    """PyDynamic's module of propagation through the DFT. Its packages are opened without running their
    own starts, and its imports of a plotting library, for plots alone, are given empty stand-ins."""
    for name in ("PyDynamic", "PyDynamic.misc", "PyDynamic.uncertainty"):
        if name not in sys.modules:
            sys.modules[name] = importlib.util.module_from_spec(importlib.util.find_spec(name))
    for name in ("matplotlib", "matplotlib.pyplot", "matplotlib.colors"):
        sys.modules.setdefault(name, types.ModuleType(name))
    sys.modules["matplotlib"].pyplot = sys.modules["matplotlib.pyplot"]
    sys.modules["matplotlib.colors"].Normalize = object
    return importlib.import_module("PyDynamic.uncertainty.propagate_DFT")


def lowpass(f_hz):
    return 1.0 / (1.0 + 1j * f_hz / make_pydynamic_scan.LOWPASS_HZ) ** make_pydynamic_scan.LOWPASS_ORDER


def propagated(noise_v):
    """Pressure in Pa over the full length and its covariance, by PyDynamic."""
    dft = pydynamic_dft()
    f_hz, v_per_pa, phase = make_pydynamic_scan.calibration()
    u_v_per_pa, u_phase = make_pydynamic_scan.calibration_uncertainty()
    _, volts = make_pydynamic_scan.measured()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        spectrum, of_spectrum = dft.GUM_DFT(volts, noise_v**2, N=FULL)
        # In V/MPa, as the example: the numbers stay near one.
        response, of_response = dft.AmpPhase2DFT(
            v_per_pa * 1e6, phase, np.r_[u_v_per_pa * 1e6, u_phase] ** 2
        )
        divided, of_divided = dft.DFT_deconv(response, spectrum, of_response, of_spectrum)
        filter_ = lowpass(f_hz)
        passed, of_passed = dft.DFT_multiply(divided, np.r_[filter_.real, filter_.imag], of_divided)
        p_mpa, covariance = dft.GUM_iDFT(passed, of_passed)
    return p_mpa * 1e6, covariance * 1e12


def finer(p, factor=32):
    """Between the samples: the spectrum padded with zeros."""
    return np.fft.irfft(np.fft.rfft(p), p.shape[-1] * factor) * factor


def peaks(p):
    """pc and pr of one waveform or many (last axis), between the samples about the highest ones."""
    fine = finer(np.pad(p, [(0, 0)] * (p.ndim - 1) + [(0, FULL - p.shape[-1])]), 8)
    return fine.max(axis=-1), -fine.min(axis=-1)


def instant_of_peak(p, sign):
    """Instant of the largest sign · p in samples, to 1/32 of one."""
    return (sign * finer(p)[: SAMPLES * 32]).argmax() / 32


def impulse(at):
    """Weights of a band-limited interpolation at an instant, over the full length."""
    phase = np.exp(-2j * np.pi * np.arange(FULL // 2 + 1) * at / FULL)
    phase[-1] = phase[-1].real
    return np.fft.irfft(phase, FULL)


def combined(feature, sources):
    return np.sqrt(sum(feature["u"][source] ** 2 for source in sources))


PROPAGATED = ("noise", "calibration-magnitude", "calibration-phase")
RESPONSE = PROPAGATED[1:]


class HydrophoneRecord(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.temporary = tempfile.TemporaryDirectory()
        folder = Path(cls.temporary.name)
        record = make_pydynamic_scan.write(folder / "record")
        cls.sheet = program.report(record, folder / "sheet")
        cls.found, cls.features = cls.sheet.waveform("hydrophone")
        cls.p, cls.covariance = propagated(cls.found["noise"]["rms_v"])

    @classmethod
    def tearDownClass(cls):
        cls.temporary.cleanup()
        del cls.covariance

    def test_pydynamic_gives_the_published_numbers(self):
        """Estimates as published; the uncertainties with a little more noise: 0.0109 for 0.0058 MPa."""
        p = self.p[:SAMPLES]
        self.assertEqual((p.argmax(), p.argmin()), (487, 482))
        self.assertLess(abs(p.max() / 4.205041168e6 - 1.0), 1e-9)
        self.assertLess(abs(-p.min() / 2.685420804e6 - 1.0), 1e-9)
        for sample, published in ((487, 0.170568e6), (482, 0.180963e6)):
            without = self.covariance[sample, sample] - published**2
            self.assertLess(abs(without) / published**2, 4e-3)

    def test_peaks_against_pydynamic(self):
        """Within 1 %, at the instant of the peak between the samples."""
        for name, sign in (("pc", 1.0), ("pr", -1.0)):
            weights = impulse(instant_of_peak(self.p, sign))
            expected = np.sqrt(weights @ self.covariance @ weights)
            got = combined(self.features[name], PROPAGATED)
            self.assertLess(abs(got / expected - 1.0), 0.01, f"{name} {got} {expected}")

    def test_energy_against_pydynamic(self):
        """Within 1 %: ∫p² is a quadratic form of the waveform, its derivative 2 p Δt."""
        derivative = np.zeros(FULL)
        derivative[:SAMPLES] = 2.0 * self.p[:SAMPLES] * DT_S
        expected = np.sqrt(derivative @ self.covariance @ derivative)
        feature = self.features["ppsi"]
        self.assertLess(abs(combined(feature, PROPAGATED) / expected - 1.0), 0.01)
        value = (self.p[:SAMPLES] ** 2).sum() * DT_S
        self.assertLess(abs(feature["value"] / value - 1.0), 1e-4)
        # The quantity is refused, for the record ends before the burst; its waveform's integral is not.
        self.assertIsNone(self.sheet.quantity("hydrophone", "ppsi")["value"])

    def test_correlation_against_pydynamic(self):
        """Covariance of the two peaks over all propagated sources, within 1 % of the product."""
        pc, pr = (impulse(instant_of_peak(self.p, sign)) for sign in (1.0, -1.0))
        expected = -(pc @ self.covariance @ pr)
        got = sum(
            self.found["correlations"][source][0]
            * self.features["pc"]["u"][source]
            * self.features["pr"]["u"][source]
            for source in PROPAGATED
        )
        scale = combined(self.features["pc"], PROPAGATED) * combined(self.features["pr"], PROPAGATED)
        self.assertLess(abs(got - expected) / scale, 0.01)

    def test_noise_level_against_numpy(self):
        """No quiet part: median power of the highest quarter of the frequencies, Hann window, over ln 2
        (median of an exponential distribution). Within 1 %: the record's taper differs."""
        _, volts = make_pydynamic_scan.measured()
        window = np.hanning(SAMPLES)
        power = np.abs(np.fft.rfft(volts * window)) ** 2
        top = np.median(power[len(power) * 3 // 4 :])
        expected = np.sqrt(top / np.log(2.0) / (window**2).sum())
        self.assertEqual(self.found["noise"]["from"], "spectrum")
        self.assertLess(abs(self.found["noise"]["rms_v"] / expected - 1.0), 0.01)

    def test_monte_carlo_against_numpy(self):
        """Means within 0.15 u and standard deviations within 12 %: 2000 and some 500 draws scatter by
        2 and 5 % of u. The mean lies 1.4 u below the linear estimate, and that is told."""
        f_hz, v_per_pa, phase = make_pydynamic_scan.calibration()
        u_v_per_pa, u_phase = make_pydynamic_scan.calibration_uncertainty()
        _, volts = make_pydynamic_scan.measured()
        spectrum = np.fft.rfft(volts, FULL) * lowpass(f_hz)
        random = np.random.default_rng(1)
        drawn = {"pc": [], "pr": [], "ppsi": []}
        for _ in range(DRAWS // 100):
            magnitude = v_per_pa + u_v_per_pa * random.standard_normal((100, len(f_hz)))
            turned = phase + u_phase * random.standard_normal((100, len(f_hz)))
            p = np.fft.irfft(spectrum / (magnitude * np.exp(1j * turned)), FULL)[:, :SAMPLES]
            pc, pr = peaks(p)
            drawn["pc"].extend(pc)
            drawn["pr"].extend(pr)
            drawn["ppsi"].extend((p**2).sum(axis=1) * DT_S)
        for name, values in drawn.items():
            found = self.features[name]["monte_carlo"]
            u = np.std(values)
            self.assertLess(abs(found["standard_deviation"] / u - 1.0), 0.12, name)
            self.assertLess(abs(found["mean"] - np.mean(values)), 0.15 * u, name)
        shift = self.features["pc"]["monte_carlo"]["shift"]
        self.assertLess(shift, -combined(self.features["pc"], RESPONSE))
        self.assertIn("peak-uncertainty-nonlinear", self.sheet.codes("hydrophone"))

    def test_the_low_pass_undone_against_numpy(self):
        """What it took in the band of the signal, within 1 % of the peak: the low-pass replaced by one
        up to the signal's reach, with half a cosine beyond (docs/waveform-uncertainty.md)."""
        f_hz, v_per_pa, phase = make_pydynamic_scan.calibration()
        _, volts = make_pydynamic_scan.measured()
        falling = np.clip((f_hz / self.found["low_pass"]["reach_hz"] - 1.0) / 0.25, 0.0, 1.0)
        spectrum = np.fft.rfft(volts, FULL) / (v_per_pa * np.exp(1j * phase))
        undone = np.fft.irfft(spectrum * 0.5 * (1.0 + np.cos(np.pi * falling)), FULL)[:SAMPLES]
        for name, value in zip(("pc", "pr"), peaks(undone)):
            feature = self.features[name]
            self.assertLess(abs(feature["value"] + feature["low_pass"]["taken"] - value), 0.01 * value)
        self.assertIn("low-pass-takes-signal", self.sheet.codes("hydrophone"))

    def test_the_reference_is_covered(self):
        """pc 4.785 and pr 2.643 MPa of the reference that comes with the record: what is propagated does
        not cover pc at k = 2, with the low-pass's share both are."""
        reference = make_pydynamic_scan.reference_pressure()
        pc, pr = self.features["pc"], self.features["pr"]
        off = abs(reference.max() - pc["value"])
        self.assertGreater(off, 2.0 * combined(pc, PROPAGATED))
        self.assertLess(off, 2.0 * pc["u_combined"])
        self.assertLess(abs(-reference.min() - pr["value"]), 2.0 * pr["u_combined"])

    def test_the_other_method_against_numpy(self):
        """Narrowband: all divided by the magnitude at the drive frequency, within 0.1 %."""
        f_hz, v_per_pa, _ = make_pydynamic_scan.calibration()
        _, volts = make_pydynamic_scan.measured()
        fixed = np.interp(self.found["other_method"]["frequency_hz"], f_hz, v_per_pa)
        p = np.fft.irfft(np.fft.rfft(volts, FULL) * lowpass(f_hz), FULL)[:SAMPLES] / fixed
        for name, value in zip(("pc", "pr"), peaks(p)):
            other = self.features[name]["other_method"]
            self.assertLess(abs(other["value"] / value - 1.0), 1e-3)
            own = other["value"] / self.features[name]["value"] - 1.0
            self.assertAlmostEqual(other["relative_difference"], own, places=12)


class Demo(unittest.TestCase):
    """The demo's single waveform, its table stated with common errors."""

    @classmethod
    def setUpClass(cls):
        cls.temporary = tempfile.TemporaryDirectory()
        cls.sheet = cls.run_with(lambda column: None)
        cls.found, cls.features = cls.sheet.waveform("focus-point")

    @classmethod
    def tearDownClass(cls):
        cls.temporary.cleanup()

    @classmethod
    def run_with(cls, change):
        """The sheet of the point alone, after a change of the sensitivity table's columns."""
        folder = Path(tempfile.mkdtemp(dir=cls.temporary.name))
        shutil.copy(program.DEMO / "focus-point.csv", folder)
        lines = (program.DEMO / "sensitivity.csv").read_text(encoding="utf-8").splitlines()
        notes = [line for line in lines if line.startswith("#")]
        head, *rows = [line for line in lines if not line.startswith("#")]
        table = np.array([[float(v) for v in row.split(",")] for row in rows])
        column = dict(zip(head.split(","), table.T))
        change(column)
        body = [",".join(f"{v:.17g}" for v in row) for row in np.transpose(list(column.values()))]
        (folder / "sensitivity.csv").write_text("\n".join([*notes, head, *body]) + "\n", encoding="utf-8")
        record = json.loads((program.DEMO / "record.json").read_text(encoding="utf-8"))
        record["scans"] = [scan for scan in record["scans"] if scan["id"] == "focus-point"]
        record["stated"] = []
        (folder / "record.json").write_text(json.dumps(record), encoding="utf-8")
        return program.report(folder / "record.json", folder / "sheet")

    def test_signed_contributions_against_the_whole_chain(self):
        """The table shifted by its own standard uncertainties, magnitude and phase, both ways: half the
        difference is the contribution, within 1 % of the larger one of pc (second order)."""
        for source, name, u_name, factor in (
            ("calibration-magnitude", "sensitivity_nv_per_pa", "u_sensitivity_percent", 0.01),
            ("calibration-phase", "phase_deg", "u_phase_deg", None),
        ):
            ends = []
            for sign in (1.0, -1.0):

                def shift(column):
                    column[name] += sign * column[u_name] * (factor * column[name] if factor else 1.0)

                ends.append(self.run_with(shift).waveform("focus-point")[1])
            for feature in ("pc", "pr", "ppsi"):
                half = 0.5 * (ends[0][feature]["value"] - ends[1][feature]["value"])
                found = self.features[feature]["signed"][source]
                least = 1e-4 * self.features[feature]["value"]
                self.assertLess(abs(found - half), max(0.02 * abs(half), least), f"{source} {feature}")
                self.assertAlmostEqual(abs(found), self.features[feature]["u"][source], places=3)

    def test_it_is_linear_and_its_low_pass_small(self):
        for feature in self.features.values():
            self.assertLess(feature["u"]["low-pass"], 0.01 * feature["value"])
            self.assertEqual(feature["low_pass"]["taken"], 0.0)
        for code in ("peak-uncertainty-nonlinear", "low-pass-takes-signal", "methods-differ"):
            self.assertNotIn(code, self.sheet.codes())

    def test_noise_of_a_peak_is_the_noise_of_the_waveform(self):
        nep = self.sheet.value("focus-point", "nep")
        self.assertLess(abs(self.features["pc"]["u"]["noise"] / nep - 1.0), 0.01)


if __name__ == "__main__":
    unittest.main()

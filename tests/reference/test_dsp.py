"""Numerics on waveforms and spectra (src/dsp/) against numpy and scipy, case by case.

The cases are calls with their results, written by tests/dsp_cases.rs. Where rounding alone differs, the
tolerance is that of sums in double precision: 1e-12 of the sum of the magnitudes, and less where stated.
"""

import math
import unittest

import numpy as np
from scipy import fft, integrate, signal

import routine_cases
from dsp_cases import Cases, as_complex

EPS = 1e-12
# All 2^a 3^b with a ≥ 1 that matter here.
LENGTHS = np.array(sorted(2**a * 3**b for a in range(1, 33) for b in range(21)))


class Coverage(unittest.TestCase):
    def test_every_public_routine_has_cases(self):
        """Of every module that is public."""
        self.assertGreater(len(routine_cases.public_modules("dsp")), 20)
        self.assertEqual(routine_cases.routines_without_a_case("dsp"), set())


class Filter(Cases):
    def test_fast_length(self):
        """Own search through all 2^a 3^b, a ≥ 1; never shorter than scipy's, which may also use 5, 7, 11."""

        def check(case, out):
            wanted = case.at_least.astype(int)
            self.near(out, LENGTHS[np.searchsorted(LENGTHS, wanted)], 0)
            self.assertTrue(all(o >= fft.next_fast_len(max(int(n), 1)) for n, o in zip(wanted, out)))

        self.each("filter", "fast_length", check)

    def test_bin_frequencies(self):
        """numpy.fft.fftfreq, whose bin n/2 is negative."""

        def check(case, out):
            expected = np.fft.fftfreq(case.n, case.interval_s)
            if case.n % 2 == 0:
                expected[case.n // 2] *= -1
            self.near(out, expected, EPS / case.interval_s)

        self.each("filter", "bin_frequencies", check)

    def test_spectrum(self):
        def check(case, out):
            expected = fft.fft(case.waveform, case.n)
            self.near(as_complex(out), expected, EPS * np.abs(case.waveform).sum())

        self.each("filter", "spectrum", check)

    def test_density(self):
        """scipy.signal.periodogram with the four-term Blackman–Harris window, less the mean."""

        def check(case, out):
            n = int(case.n)
            wave = case.waveform[:n]
            _, expected = signal.periodogram(wave, 1.0 / case.interval_s, "blackmanharris", detrend="constant")
            self.near(out, expected, EPS * (np.square(wave).sum() * case.interval_s))

        self.each("power_density", "density", check)

    def test_step_hz(self):
        def check(case, out):
            expected = np.fft.rfftfreq(2 * int(case.n), 0.5 * case.interval_s)[1]
            self.near(out, expected, EPS * expected)

        self.each("power_density", "step_hz", check)

    def test_impulse_response(self):
        def check(case, out):
            response = as_complex(case.response)
            self.near(out, fft.irfft(response, case.n), EPS * np.abs(response).max())

        self.each("filter", "impulse_response", check)

    def test_pair_filter(self):
        """Circular by scipy.fft.irfft of the product; where the impulse response is shorter than the
        padding, the same as scipy.signal.fftconvolve. Single precision: 1e-6 of the largest value, some
        eight units in the last place through two transforms of 2048."""

        def check(case, out):
            response = as_complex(case.response)
            for wave, found in zip((case.first, case.second), out):
                expected = fft.irfft(fft.rfft(wave, case.n) * response, case.n)[: len(wave)]
                most = np.abs(expected).max(initial=0.0)
                tolerance = (1e-13 if case.bits == 64 else 1e-6) * most
                # In single precision the louder of the pair leaves its rounding in the other.
                louder = max(1.0, np.abs(case.first).max() / max(np.abs(wave).max(initial=0.0), 1e-9))
                self.near(found, expected, tolerance * louder)
                taps = getattr(case, "taps", None)
                if taps is not None:
                    self.near(found, signal.fftconvolve(wave, taps)[: len(wave)], tolerance * louder)

        self.each("filter", "run", check)


class Energy(Cases):
    def test_square_integral(self):
        """math.fsum of the squares, exactly rounded."""

        def check(case, out):
            squares = case.waveform[case.start : max(case.start, case.stop)] ** 2
            expected = math.fsum(squares) * case.interval
            self.near(out, expected, EPS * expected)

        self.each("energy", "square_integral", check)

    def test_fraction_times(self):
        """The running sum by numpy, its first passage by interpolation; none when there is no energy."""

        def check(case, out):
            part = case.waveform[case.start : case.stop]
            running = np.concatenate([[0.0], np.cumsum(part**2 - case.noise_power)])
            if running[-1] <= 0:
                self.assertIsNone(out)
                return
            for fraction, found in zip(case.fractions, out):
                i = np.argmax(running[1:] >= fraction * running[-1])
                expected = i + (fraction * running[-1] - running[i]) / (running[i + 1] - running[i]) - 0.5
                self.near(found, expected, 1e-8)

        self.each("energy", "fraction_times", check)

    def test_duration_of_a_gaussian_pulse(self):
        """t10, t50 and t90 of exp(−(t/τ)²) cos(2πt/T): the shares that quadrature finds up to there; to a
        hundredth of a sample, since a sum stands for the integral (τ is 200 samples, T 66.7)."""
        case, out = self.one("energy", "fraction_times", "Gaussian pulse")

        def squared(u):
            return (np.exp(-((u / 200.0) ** 2)) * np.cos(2 * np.pi * u / 66.7)) ** 2

        def energy(to):
            return integrate.quad(squared, -1500.0, to, limit=2000, epsabs=1e-9)[0]

        total = energy(1500.0)
        for fraction, found in zip(case.fractions, out):
            self.near(energy(found - 2000.0) / total, fraction, 0.01 * squared(0.0) / total)


class Aligned(Cases):
    def test_mean(self):
        """scipy.signal.resample of each waveform, padded with zeros as the routine pads it, 64 times as fine;
        the delays are whole steps of that."""

        def check(case, out):
            waves = np.array(case.waveforms)
            if len(waves) == 0:
                self.assertEqual(out, [])
                return
            length = waves.shape[1]
            n = int(LENGTHS[np.searchsorted(LENGTHS, 2 * length)])
            fine = signal.resample(np.pad(waves, [(0, 0), (0, n - length)]), 64 * n, axis=1)
            steps = np.round(64 * np.array(case.delays)).astype(int)
            expected = np.mean([np.roll(w, -s)[: 64 * length : 64] for w, s in zip(fine, steps)], axis=0)
            self.near(out, expected, EPS * 10)

        self.each("aligned", "aligned_mean", check)


class Extremum(Cases):
    """The top between the samples."""

    # Error re the largest value: what a Kaiser window of 32 taps leaves up to 0.83 of the Nyquist
    # frequency. White noise reaches beyond, where it is interpolated no more (here 2 % of the peak).
    TOLERANCE = 1e-4
    TOLERANCE_OF_WHITE_NOISE = 2e-3
    FINER = 256
    PAD = 200

    def test_against_resampling_by_transform(self):
        """scipy.signal.resample, 256 times as fine: the same top; and at the place that was found, the
        resampled waveform is as high. Cycles as high as each other may be told apart otherwise."""

        def check(case, out):
            # Beyond its ends the waveform is zero for the routine, its offset for the reference.
            offset = -5.0 if case.name == "on an offset" else 0.0
            padded = np.pad(case.waveform - offset, self.PAD)
            wave = case.sign * (signal.resample(padded, self.FINER * len(padded)) + offset)
            at = np.arange(len(wave)) / self.FINER - self.PAD
            inside = (at >= case.start - 0.5) & (at < min(case.stop, len(case.waveform)) - 0.5)
            tolerance = self.TOLERANCE_OF_WHITE_NOISE if case.name == "white noise" else self.TOLERANCE
            tolerance *= np.abs(case.waveform - offset).max()
            self.near(out[0], wave[inside].max(), tolerance)
            self.near(np.interp(out[1], at, wave), out[0], tolerance)

        self.each("extremum", "maximum", check)


class Tone(Cases):
    def test_transform_at(self):
        """The sum as it is written."""

        def check(case, out):
            n = np.arange(case.start, min(case.stop, len(case.waveform)))
            wave = case.waveform[n]
            expected = (wave * np.exp(-2j * np.pi * case.frequency * case.interval * n)).sum()
            self.near(as_complex(out), [expected], 1e-11 * np.abs(wave).sum())

        self.each("tone", "transform_at", check)

    @staticmethod
    def trapezoid(values, a, b):
        """Integral from a to b of what is linear between samples (scipy.integrate.trapezoid)."""
        inner = np.arange(np.ceil(a), np.floor(b) + 1)
        at = np.unique(np.concatenate([[a], inner[(inner > a) & (inner < b)], [b]]))
        n = np.arange(len(values))
        return integrate.trapezoid(np.interp(at, n, values.real) + 1j * np.interp(at, n, values.imag), at)

    def test_amplitude(self):
        """The windowed integral by scipy; and where whole cycles are steady, a fit of harmonics and offset
        by numpy.linalg.lstsq. The two treat noise at the window's ends differently (a part of 1/samples),
        and the trapezium rule misses (π harmonic/samples a cycle)²/3 of a tone at fractional ends."""

        def check(case, out):
            if not (case.a >= 0 and case.b <= len(case.waveform) - 1):
                self.assertIsNone(out)
                return
            n = np.arange(len(case.waveform))
            turn = np.exp(-2j * np.pi * case.frequency * case.interval * n)
            expected = self.trapezoid(case.waveform * turn, case.a, case.b) * 2 / (case.b - case.a)
            found = out[0] + 1j * out[1]
            self.near(found, expected, 1e-10)
            if case.b - case.a < 10:
                return
            inside = n[(n >= case.a) & (n < case.b)]
            base = case.frequency * case.interval / case.harmonic
            angles = 2 * np.pi * base * np.outer(inside, np.arange(1, 11))
            columns = np.hstack([np.ones((len(inside), 1)), np.cos(angles), np.sin(angles)])
            fit = np.linalg.lstsq(columns, case.waveform[inside], rcond=None)[0]
            k = int(case.harmonic)
            fitted = fit[k] - 1j * fit[10 + k]
            self.near(found, fitted, 2e-4 * abs(fitted))

        self.each("tone", "amplitude", check)

    def test_mean_square(self):
        def check(case, out):
            if not (case.a >= 0 and case.b <= len(case.waveform) - 1):
                self.assertIsNone(out)
                return
            expected = self.trapezoid(case.waveform**2 + 0j, case.a, case.b).real / (case.b - case.a)
            self.near(out, expected, 1e-11 * expected)

        self.each("tone", "mean_square", check)


class ZeroCrossings(Cases):
    def test_zero_crossings(self):
        """Neighbours of different sign by numpy.interp between them; where zeros lie between, their middle."""

        def check(case, out):
            part = case.waveform[case.start : case.stop]
            n = np.flatnonzero(part)
            changes = np.flatnonzero(np.diff(np.sign(part[n])))
            expected = [
                np.interp(0.0, *zip(*sorted([(part[i], i), (part[j], j)]))) if j == i + 1 else (i + j) / 2
                for i, j in zip(n[changes], n[changes + 1])
            ]
            self.near(out, case.start + np.array(expected), 1e-9)

        self.each("zero_crossings", "zero_crossings", check)


if __name__ == "__main__":
    unittest.main()

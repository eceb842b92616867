"""Numerics on waveforms and spectra (src/dsp/) against numpy and scipy, case by case.

The cases are calls with their results, written by tests/dsp_cases.rs. Where rounding alone differs, the
tolerance is that of sums in double precision: 1e-12 of the sum of the magnitudes, and less where stated.
"""

import math
import statistics
import unittest

import numpy as np
from scipy import fft, integrate, signal, stats

import dsp_cases
from dsp_cases import Cases, as_complex

EPS = 1e-12


class Coverage(unittest.TestCase):
    def test_every_public_routine_has_cases(self):
        """Of every source file that has any."""
        have = {(c["file"], c["routine"]) for c in dsp_cases.all_cases()}
        for file in sorted({file for file, _ in have}):
            with self.subTest(file=file):
                missing = dsp_cases.public_routines(file) - {routine for f, routine in have if f == file}
                self.assertEqual(missing, set(), f"src/dsp/{file}.rs: routines without a case in tests/dsp_cases")


class Filter(Cases):
    def test_fast_length(self):
        """Own search through all 2^a 3^b, a ≥ 1; never shorter than scipy's, which may also use 5, 7, 11."""
        lengths = np.array(sorted(2**a * 3**b for a in range(1, 33) for b in range(21)))

        def check(case, out):
            wanted = case.at_least.astype(int)
            self.near(out, lengths[np.searchsorted(lengths, wanted)], 0)
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


class Statistics(Cases):
    """Python's own module computes in fractions: exact."""

    def test_mean(self):

        def check(case, out):
            expected = statistics.mean(case.values.tolist()) if len(case.values) else None
            self.same(out, expected, 1e-15)

        self.each("statistics", "mean", check)

    def test_standard_deviation(self):

        def check(case, out):
            expected = statistics.stdev(case.values.tolist()) if len(case.values) > 1 else None
            self.same(out, expected, 1e-13)
            if expected is not None:
                self.near(out, np.std(case.values - case.values[0], ddof=1), 1e-10 * expected)

        self.each("statistics", "standard_deviation", check)

    def test_median(self):

        def check(case, out):
            self.same(out, statistics.median(case.values.tolist()) if len(case.values) else None, 0)

        self.each("statistics", "median", check)

    def same(self, found, expected, tolerance):
        if expected is None:
            self.assertIsNone(found)
        else:
            self.near(found, expected, tolerance * max(1.0, abs(expected)))


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


class Noise(Cases):
    """Numbers of fixed seeds: that a test passes once is that it always does. Limits are those that true
    normal noise exceeds with a probability of a thousandth or less."""

    @staticmethod
    def split_mix(seed, count):
        """SplitMix64 (G. L. Steele, D. Lea, C. H. Flood, OOPSLA 2014) in plain Python."""
        mask, out = 2**64 - 1, []
        for _ in range(count):
            seed = (seed + 0x9E3779B97F4A7C15) & mask
            z = ((seed ^ (seed >> 30)) * 0xBF58476D1CE4E5B9) & mask
            z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & mask
            out.append(z ^ (z >> 31))
        return out

    def test_the_generator_is_the_published_one(self):
        """First numbers of seed 1234567 as the reference program in C prints them (value from memory);
        and the routine's numbers are Box and Muller's of that generator (Ann. Math. Stat. 29 (1958) 610)."""
        self.assertEqual(
            self.split_mix(1234567, 3), [6457827717110365317, 3203168211198807973, 9817491932198370423]
        )

        def check(case, out):
            u = (np.array([b >> 11 for b in self.split_mix(case.seed, 1000)]) + 1.0) * 2.0**-53
            radius, angle = np.sqrt(-2 * np.log(u[0::2])), 2 * np.pi * u[1::2]
            expected = np.column_stack([radius * np.cos(angle), radius * np.sin(angle)]).ravel()
            self.near(out[:1000], expected, 1e-13)

        self.each("noise", "next", check)

    def test_normal(self):

        def check(_case, out):
            self.assertGreater(stats.kstest(out, "norm").pvalue, 1e-3)
            self.assertGreater(stats.normaltest(out).pvalue, 1e-3)

        self.each("noise", "next", check)

    def test_independent(self):
        """No correlation with any of the next fifty numbers (sum of squares against χ²), nor of the
        squares, nor between seeds."""
        kept = [np.asarray(self.one("noise", "next", name)[1]) for name in ("many", "next seed")]
        for numbers in kept:
            for series in (numbers, numbers**2):
                series = (series - series.mean()) / series.std()
                n = len(series)
                r = np.array([(series[:-k] * series[k:]).sum() / n for k in range(1, 51)])
                self.assertLess((r**2).sum() * n, stats.chi2.isf(1e-3, 50))
        self.assertGreater(stats.pearsonr(*kept).pvalue, 1e-3)
        self.assertGreater(stats.pearsonr(kept[0] ** 2, kept[1] ** 2).pvalue, 1e-3)


if __name__ == "__main__":
    unittest.main()

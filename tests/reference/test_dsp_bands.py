"""Tones, syntheses, envelopes and onsets (src/dsp/) against numpy and scipy; see test_dsp.py."""

import unittest

import numpy as np
from scipy import fft, interpolate, signal

from dsp_cases import Cases, as_complex

EPS = 1e-14


def single(wave):
    """What single precision leaves of a sum: a sample's product, the table and the sums over eight samples
    round by 2⁻²⁴ each, ten in all, of either sign: the root of their number times that of the largest."""
    return 2.0**-24 * np.sqrt(10 * len(wave)) * np.abs(wave).max(initial=0.0)


class Tones(Cases):
    def test_transforms(self):
        """The sum as it is written, in double precision. Phases of up to 3e4 rad are rounded by 2e-12."""

        def check(case, out):
            n = np.arange(case.start, max(case.start, min(case.stop, len(case.waveform))))
            wave = case.waveform[case.start : max(case.start, case.stop)]
            expected = np.exp(-2j * np.pi * np.outer(case.frequencies, n)) @ wave
            tolerance = 2e-12 * np.abs(wave).sum() if case.bits == 64 else single(wave)
            self.near(as_complex(out), expected, tolerance)

        self.each("tones", "transforms", check)

    def inside(self, case, out):
        within = 0 <= case.a < case.b <= len(case.waveform) - 1
        if not within:
            self.assertIsNone(out)
        return within

    def test_amplitudes(self):
        """The integral of what is straight between samples of the product: scipy's spline of first degree."""

        def check(case, out):
            if not self.inside(case, out):
                return
            n = np.arange(int(case.a), int(np.ceil(case.b)) + 1)
            wave = case.waveform[n]
            product = wave[:, None] * np.exp(-2j * np.pi * np.outer(n, case.frequencies))
            columns = np.hstack([product.real, product.imag])
            both = interpolate.make_interp_spline(n, columns, k=1).integrate(case.a, case.b)
            expected = (both[: len(both) // 2] + 1j * both[len(both) // 2 :]) * 2 / (case.b - case.a)
            tolerance = 1e-12 if case.bits == 64 else single(wave) * 2 / (case.b - case.a)
            self.near(as_complex(out), expected, tolerance)

        self.each("tones", "amplitudes", check)

    def test_amplitudes_of_steady_tones(self):
        """A fit of ten harmonics and the offset by numpy.linalg.lstsq over whole cycles, six of them in the
        waveform. Noise at the window's ends counts otherwise in the two, by noise over samples (0.02/667); the
        product is bent between samples at fractional ends, by (4π/66.7)²/8 over samples."""

        def check(case, out):
            # The others reach into what is no burst.
            if not case.name.startswith(("20 cycles", "ends on samples", "long")):
                return
            n = np.arange(int(np.ceil(case.a)), int(np.ceil(case.b)))
            angles = 2 * np.pi * np.outer(n, case.frequencies)
            columns = np.hstack([np.ones((len(n), 1)), np.cos(angles), np.sin(angles)])
            fit = np.linalg.lstsq(columns, case.waveform[n], rcond=None)[0][1:]
            self.near(as_complex(out), fit[:10] - 1j * fit[10:], 5e-5)

        self.each("tones", "amplitudes", check)


class Synthesis(Cases):
    """scipy.fft.irfft, which takes of zero frequency and n/2 the real part too."""

    @staticmethod
    def waveform(spectrum, n):
        return fft.irfft(spectrum[: n // 2 + 1], n)

    def test_pairs(self):
        """Each waveform within rounding of the louder one of its pair; slots beyond n are not touched."""

        def check(case, out):
            pair = [self.waveform(as_complex(s), case.n) for s in (case.first, case.second) if s["re"]]
            pair += [np.zeros(case.n)] * (2 - len(pair))
            largest = max(np.abs(w).max() for w in pair)
            for wave, found, samples in zip(pair, out, case.samples.astype(int)):
                expected = np.full(samples, case.before)
                expected[: case.n] = wave[:samples]
                self.near(found, expected, EPS * largest)

        self.each("synthesis", "run", check)

    def test_one(self):
        def check(case, out):
            expected = self.waveform(as_complex(case.spectrum), case.n)
            self.near(out, expected, EPS * np.abs(expected).max())

        self.each("synthesis", "one", check)


class Envelope(Cases):
    def test_largest(self):
        """scipy.signal.hilbert of the waveform of the band alone, resampled to sixteen instants a sample. Of
        band-limited values at four instants per reciprocal width none rises between two of them by more than
        1/cos(π/8), 8 % (Ehlich and Zeller, Math. Z. 86 (1964) 41, from memory)."""
        finer = 16

        def check(case, out):
            low, high = case.low, case.high
            start, stop = (int(v) for v in case.window)
            if low == high or start >= stop:
                self.assertIsNone(out)
                return
            band = np.zeros(case.n // 2 + 1, dtype=complex)
            band[low:high] = fft.rfft(case.waveform, case.n)[low:high]
            fine = signal.resample(fft.irfft(band, case.n), finer * case.n)
            envelope = np.abs(signal.hilbert(fine))
            inside = envelope[finer * start : finer * (stop - 1) + 1].max()
            # An instant of the routine may lie between the last sample and `stop`.
            self.assertLessEqual(out, envelope[finer * start : finer * stop].max() * (1 + 1e-9))
            self.assertGreaterEqual(out, inside * np.cos(np.pi / 8))

        self.each("envelope", "largest", check)

    def test_the_instants(self):
        """|2/n Σ X(k) exp(2πi kt/n)| as it is written, at the instants that the routine documents: four or
        more per reciprocal of the width, of a number that is 2^a 3^b with a ≥ 1, n at most."""
        lengths = np.array(sorted(2**a * 3**b for a in range(1, 16) for b in range(10)))

        def check(case, out):
            if out is None:
                return
            k = np.arange(case.low, case.high)
            m = min(int(lengths[np.searchsorted(lengths, 4 * len(k))]), case.n)
            t = np.arange(m) * case.n / m
            t = t[(t >= case.window[0]) & (t < case.window[1])]
            part = fft.fft(case.waveform, case.n)[k]
            expected = 2 / case.n * np.abs(np.exp(2j * np.pi * np.outer(t, k) / case.n) @ part).max()
            self.near(out, expected, 1e-12 * expected)

        self.each("envelope", "largest", check)

    def test_a_gaussian(self):
        """3 exp(−(t/150)²) beside a tone of 10 in another band: its height. Four instants or more per 4096/156
        samples lie at most 3.3 from its top, 5e-4 below it. What of the tone is in the band, since it is cut
        off at the record's ends, stands at these ends and not at the top."""
        _, out = self.one("envelope", "largest", "Gaussian beside a tone")
        self.near(out / 3.0, 1.0, 1e-3)


class Onset(Cases):
    def test_half_rise(self):
        """The mean square over a period by numpy.convolve, its first passage through a quarter of its
        largest by numpy.interp; at the first mean itself when that is above."""

        def check(case, out):
            part = case.waveform[case.start : case.stop]
            # Half to even differs from half up for no period here.
            width = max(int(np.round(case.period)), 1)
            if len(part) < 2 * width or not part.any():
                self.assertIsNone(out)
                return
            levels = np.convolve(part**2, np.ones(width) / width, "valid")
            middle = case.start + np.arange(len(levels)) + (width - 1) / 2
            wanted = levels.max() / 4
            i = np.argmax(levels >= wanted)
            expected = np.interp(wanted, levels[i - 1 : i + 1], middle[i - 1 : i + 1]) if i else middle[0]
            self.near(out, expected, 1e-8)

        self.each("onset", "half_rise", check)

    def test_closed_forms(self):
        """A half-cosine ramp of two cycles from sample 800.3 on reaches half after one, at 840.3: within a
        sixth of a cycle, since the ramp bends within the mean. A Gaussian burst, exp(−(t/600)²) about 3000.7,
        has half its height at −600 √ln 2: over a rise, the mean of the square over a period keeps a ripple
        of up to T/4π of its slope, 1.6 samples for 20; its bend makes less than 0.1."""
        _, ramp = self.one("onset", "half_rise", "ramp")
        self.near(ramp, 840.3, 40.0 / 6)
        _, slow = self.one("onset", "half_rise", "slow Gaussian")
        self.near(slow, 3000.7 - 600 * np.sqrt(np.log(2)), 1.7)

    def test_against_the_analytic_signal(self):
        """Half the largest envelope by scipy.signal.hilbert, of the same bursts, within the same bounds. The
        ramp is level after two cycles; its median there, since an envelope overshoots where it bends."""
        for name, level, tolerance in (("slow Gaussian", np.max, 1.7), ("ramp", np.median, 40.0 / 6)):
            case, out = self.one("onset", "half_rise", name)
            envelope = np.abs(signal.hilbert(case.waveform))
            half = level(envelope[1000:1900] if name == "ramp" else envelope) / 2
            i = np.argmax(envelope >= half)
            self.near(out, np.interp(half, envelope[i - 1 : i + 1], [i - 1, i]), tolerance, name)


if __name__ == "__main__":
    unittest.main()

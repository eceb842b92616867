"""What the digitiser keeps of a wave: sensor, amplifier offset, noise, counts."""

import numpy as np

from .sensor import response_v_per_pa
from .wave import PERIOD_S, START_S


def disc_nodes(radius_m):
    """Offsets (n, 3) and weights of a mean over a disc in x and y, exact up to the fifth power:
    the centre by 1/4, six points at sqrt(2/3) of the radius by 1/8 each (M. Abramowitz and
    I. A. Stegun, Handbook of Mathematical Functions, 25.4.61, from memory).
    """
    if radius_m == 0.0:
        return np.zeros((1, 3)), np.ones(1)
    angles = np.pi / 3.0 * np.arange(6)
    ring = np.column_stack([np.cos(angles), np.sin(angles), np.zeros(6)])
    offsets = np.vstack([np.zeros((1, 3)), np.sqrt(2.0 / 3.0) * radius_m * ring])
    return offsets, np.array([0.25] + 6 * [0.125])


class Recorder:
    """Turns points of a wave into integer counts.  One random generator per scan.

    The sensor has the given response, V/Pa, and averages over a disc of the given radius.
    """

    def __init__(self, wave, stream, response=response_v_per_pa, radius_m=0.0):
        self.wave = wave
        self.scenario = wave.scenario
        self.random = np.random.default_rng([wave.scenario.seed, stream])
        self.response = response
        self.offsets_m, self.weights = disc_nodes(radius_m)

    def volts(self, points_m, dt_s):
        """Noiseless volts at START_S + i dt_s over the whole computed period."""
        samples = round(PERIOD_S / dt_s)
        assert abs(samples * dt_s - PERIOD_S) < 1e-15
        fine = 4000  # 100 MS/s: nothing folds, so the sensor acts before the sampling
        sensor = np.zeros(fine, complex)
        sensor[: fine // 2] = self.response(np.arange(fine // 2) / PERIOD_S)
        result = np.empty((len(points_m), samples))
        for start in range(0, len(points_m), 64):
            block = slice(start, start + 64)
            spectrum = sum(
                weight * self.wave.spectrum(self.wave.envelopes(points_m[block] + offset), fine)
                for offset, weight in zip(self.offsets_m, self.weights)
            )
            volts = np.fft.ifft(spectrum * sensor, axis=1).real * fine
            result[block] = volts[:, :: fine // samples]
        return result

    def record(self, points_m, t0_s, dt_s, samples, dead=(), added_v=0.0):
        """Counts (n, samples), int16, of records that start at t0_s (n,)."""
        return self.digitised(self.held(points_m, t0_s, dt_s, samples, dead, added_v))

    def held(self, points_m, t0_s, dt_s, samples, dead=(), added_v=0.0):
        """Noiseless volts (n, samples) of records that start at t0_s (n,); none at dead points."""
        whole = self.volts(points_m, dt_s)
        t0_s = np.broadcast_to(t0_s, (len(points_m),))
        volts = np.zeros((len(points_m), samples))
        for i, t0 in enumerate(t0_s):
            first = round((t0 - START_S) / dt_s)
            assert abs(first * dt_s + START_S - t0) < 1e-12, "records start on the sample grid"
            if i not in dead:
                before = max(0, -first)
                part = whole[i, max(0, first) : first + samples]
                volts[i, before : before + len(part)] = part
        return volts + added_v

    def digitised(self, volts):
        """Counts (n, samples), int16, with offset and noise.

        Offset: a constant, a slow swing over the scan and half a count of slope within each
        record.
        """
        s = self.scenario
        samples = volts.shape[1]
        progress = np.arange(len(volts)) / max(1, len(volts) - 1)
        offset = s.offset_counts + 1.2 * np.sin(2.0 * np.pi * 1.3 * progress)
        slope = 0.5 * np.arange(samples) / samples
        counts = volts / s.volts_per_count + offset[:, None] + slope
        counts += s.noise_counts * self.random.standard_normal(counts.shape)
        top = 2 ** (s.bits - 1)
        return np.clip(np.rint(counts), -top, top - 1).astype(np.int16)


def feed_through_v(t_s, frequency_hz):
    """Pick-up of the switching drive: a burst in the first 2 us after the trigger, V."""
    ring = 0.03 * np.exp(-t_s / 0.45e-6) * np.sin(2.0 * np.pi * frequency_hz * t_s)
    edge = 0.02 * np.exp(-t_s / 0.08e-6)
    return np.where((t_s >= 0.0) & (t_s < 2.0e-6), ring + edge, 0.0)

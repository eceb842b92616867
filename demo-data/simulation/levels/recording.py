"""Shots of a sweep as the sensor and a passive detector beside it keep them."""

from dataclasses import dataclass
from math import erf

import numpy as np

from ..sensor import response_v_per_pa
from ..wave import PERIOD_S, START_S
from . import scenario as sc

FINE = 4000  # 100 MS/s over the computed period
FINE_DT_S = PERIOD_S / FINE
HZ = np.fft.rfftfreq(FINE, FINE_DT_S)
TIMES_S = START_S + FINE_DT_S * np.arange(FINE)


def response_of(name, change=0.0):
    """Response of the sensor at a gain range, its sensitivity changed."""
    factor = 10 ** (sc.RANGES[name][0] / 20.0) * (1.0 + change)
    return lambda frequency_hz: factor * response_v_per_pa(frequency_hz)


def monitor_response_v_per_pa(frequency_hz):
    """Scattering and detector: a band-pass without phase."""
    low, high = sc.MONITOR_PASS_HZ
    f = np.maximum(frequency_hz, 1.0)
    return sc.MONITOR_V_PER_PA / np.sqrt((1.0 + (low / f) ** 4) * (1.0 + (f / high) ** 4))


@dataclass(frozen=True)
class Signs:
    """Signs of bubbles of one shot, as drawn."""

    onset_s: float
    monitor_noise_db: float
    monitor_line_db: float
    sensor_noise_db: float
    pr_factor: float
    line_phases: tuple

    def window(self, end_s):
        """0 before the onset, 1 until the end of the burst, over TIMES_S; smooth."""

        def rise(at):
            return np.array([0.5 * (1.0 + erf((t - at) / sc.ONSET_RAMP_S)) for t in TIMES_S])

        return rise(self.onset_s) - rise(end_s)


def digitised(volts, volts_per_count, noise_counts, bits, random):
    """Counts, int16, of volts with white noise and a constant offset."""
    counts = volts / volts_per_count + sc.HEAD.offset_counts
    counts = counts + noise_counts * random.standard_normal(volts.shape)
    top = 2 ** (bits - 1)
    return np.clip(np.rint(counts), -top, top - 1).astype(np.int16)


class Shots:
    """Makes the shots of all levels at one point, in the order in which they were driven."""

    def __init__(self, wave, point_m):
        self.wave = wave
        self.random = np.random.default_rng([sc.SEED, 10])
        self.linear = wave.envelopes(np.array([point_m]))
        s = wave.scenario
        _, z = wave.head_coordinates(np.array([point_m]))
        self.arrival_s = s.emission_s + z[0] / s.sound_speed_m_per_s
        self.end_s = self.arrival_s + s.burst_s
        self.volts_per_count = s.volts_per_count
        self.monitor_volts_per_count = sc.MONITOR_FULL_SCALE_V / 2 ** (s.bits - 1)

    def signs(self, level, shot):
        """Signs of one shot, drawn; None where it is not marked."""
        bubbles = sc.BUBBLES.get(level)
        if bubbles is None or shot not in bubbles.shots:
            return None
        draw = self.random
        low, high = sc.ONSET_CYCLES
        db = sc.DB_SCATTER * draw.standard_normal(3)
        return Signs(
            onset_s=self.arrival_s + draw.uniform(low, high) / self.wave.scenario.frequency_hz,
            monitor_noise_db=bubbles.monitor_noise_db + db[0],
            monitor_line_db=bubbles.monitor_line_db + db[1],
            sensor_noise_db=bubbles.sensor_noise_db + db[2],
            pr_factor=bubbles.pr_factor,
            line_phases=tuple(draw.uniform(0.0, 2.0 * np.pi, len(sc.LINES))),
        )

    def shot(self, level, name, change, signs):
        """Counts of the sensor and of the monitor for one shot."""
        draw = self.random
        ratio = level / sc.REFERENCE_LEVEL * (1.0 + sc.SHOT_SCATTER * draw.standard_normal())
        p = self.wave.pressure(self.linear * ratio, FINE)[0]
        inside = None
        if signs:
            inside = signs.window(self.end_s)
            p = np.where(p < 0.0, p * (1.0 - (1.0 - signs.pr_factor) * inside), p)
        jitter = np.exp(-2j * np.pi * HZ * sc.SHOT_JITTER_S * draw.standard_normal())
        spectrum = np.fft.rfft(p) * jitter
        sensor = np.fft.irfft(spectrum * response_of(name, change)(HZ), FINE)
        monitor = np.fft.irfft(spectrum * monitor_response_v_per_pa(HZ), FINE)[::2]
        if signs:
            noise = added(signs.sensor_noise_db, sc.HEAD.noise_counts * self.volts_per_count)
            sensor += inside * noise * draw.standard_normal(FINE)
            monitor += self.monitor_signs(signs, inside[::2])
        first = round((sc.SWEEP_T0_S - START_S) / FINE_DT_S)
        kept = sensor[first : first + sc.SWEEP_SAMPLES]
        seen = monitor[first // 2 : first // 2 + sc.MONITOR_SAMPLES]
        s = self.wave.scenario
        return (
            digitised(kept, self.volts_per_count, s.noise_counts, s.bits, draw),
            digitised(seen, self.monitor_volts_per_count, sc.MONITOR_NOISE_COUNTS, s.bits, draw),
        )

    def monitor_signs(self, signs, inside):
        """Volts that bubbles add to the monitor: noise, lines at odd halves of the drive's frequency."""
        floor = sc.MONITOR_NOISE_COUNTS * self.monitor_volts_per_count
        volts = added(signs.monitor_noise_db, floor) * self.random.standard_normal(len(inside))
        s = self.wave.scenario
        for (order, re_first), phase in zip(sc.LINES.items(), signs.line_phases):
            size = line_amplitude_v(signs.monitor_line_db + re_first, floor, s.burst_s)
            volts = volts + size * np.cos(2.0 * np.pi * order * s.frequency_hz * TIMES_S[::2] + phase)
        return volts * inside

    def sweep(self, name):
        """Counts of sensor and monitor, (level, repeat, nt), and the signs, [level][repeat]."""
        sensor, monitor, drawn = [], [], []
        for i, level in enumerate(sc.SWEEPS[name]):
            change = sc.CHANGE if name == "wide" and returned(i) else 0.0
            signs = [self.signs(level, shot) for shot in range(sc.SHOTS)]
            pairs = [self.shot(level, name, change, found) for found in signs]
            sensor.append([pair[0] for pair in pairs])
            monitor.append([pair[1] for pair in pairs])
            drawn.append(signs)
        return np.array(sensor), np.array(monitor), drawn


def returned(i):
    """Whether the i-th level of the last sweep comes after the shots with bubbles."""
    levels = sc.SWEEPS["wide"]
    return i > max(levels.index(level) for level in sc.BUBBLES)


def added(db, floor):
    """Rms of the noise that raises a floor of this rms by so many decibels."""
    return floor * np.sqrt(10 ** (db / 10.0) - 1.0)


def line_amplitude_v(db, floor_v, burst_s):
    """Amplitude of a line whose power is so many decibels over the floor's in a band of 1/burst."""
    in_band = floor_v**2 * 2.0 * sc.MONITOR_DT_S / burst_s
    return np.sqrt(2.0 * in_band * 10 ** (db / 10.0))

"""The pressure wave in water: a tone burst from the bowl, steepened by a simple law.

1. The drive is a rectangle of N/f convolved with a Gaussian, so that the burst lasts
   exactly N cycles between its half-amplitude points and rises and falls smoothly.
2. The linear field is that burst carried by the Rayleigh integral at every frequency in
   its band: its arrival time, its ring-up and its edge waves vary with position as they
   should.
3. Harmonics follow from the local, instantaneous complex amplitude b of that field alone:

       p(t) = Re sum_n  b B_n(s) exp(j (n - 1)(arg b + alpha)) exp(j n w t),
       s = s_ref |b| / b_ref,    B_n(s) = 2 J_n(n s) / (n s)

   the amplitudes of the plane wave of E. Fubini (Alta Frequenza 4 (1935) 530), n = 1 to 8.
   With alpha = pi/2 it would be his wave, symmetric in its peaks; a smaller alpha stands for
   the phase that diffraction adds in a focused beam and makes the compression higher than
   the rarefaction.  The beam of harmonic n is narrower, close to |b|^n.
"""

import math

import numpy as np
from scipy.special import jv

HARMONICS = 8
PERIOD_S = 40.0e-6  # all waves are computed as one period of this length ...
START_S = 18.0e-6  # ... from here on; a burst lies well inside it at every position used
BAND_HZ = 1.4e6  # half-width of the band of the linear burst about its carrier
ENVELOPE_SAMPLES = 640


def fubini_coefficients(n, terms=20):
    """Series of B_n(s)/s^(n-1) in powers of s^2 (smooth where the amplitude passes zero)."""
    return [
        (n / 2.0) ** (n - 1) * (-0.25 * n * n) ** m / (math.factorial(m) * math.factorial(m + n))
        for m in range(terms)
    ]


def fubini(n, s):
    """B_n(s) = 2 J_n(n s)/(n s)."""
    return 2.0 * jv(n, n * s) / (n * s)


class Wave:
    """Bursts of the bowl at any position, in the coordinates of the tank.

    Parameters
    ----------
    bowl : Bowl
    scenario : Scenario
    """

    harmonics = HARMONICS

    def __init__(self, bowl, scenario):
        s = self.scenario = scenario
        self.bowl = bowl
        self.period_bins = round(s.frequency_hz * PERIOD_S)
        assert abs(self.period_bins - s.frequency_hz * PERIOD_S) < 1e-9
        assert abs(s.frequency_hz * START_S - round(s.frequency_hz * START_S)) < 1e-9
        half = round(BAND_HZ * PERIOD_S)
        self.offset_bins = np.arange(-half, half + 1)
        offset_hz = self.offset_bins / PERIOD_S
        self.frequencies_hz = s.frequency_hz + offset_hz
        duration = s.cycles / s.frequency_hz
        middle = s.emission_s + 0.5 * duration
        self.drive = (
            (duration / PERIOD_S)
            * np.sinc(offset_hz * duration)
            * np.exp(-2.0 * (np.pi * offset_hz * s.ramp_sigma_s) ** 2)
            * np.exp(-2j * np.pi * offset_hz * (middle - START_S))
        )
        # amplitude of the steady fundamental at the centre of curvature -> rho c u0
        k0 = 2.0 * np.pi * s.frequency_hz / s.sound_speed_m_per_s
        self.rho_c_u0_pa = s.focal_amplitude_pa / (k0 * bowl.depth_m)

    def head_coordinates(self, points_m):
        """(r, z) in the head of points (n, 3) in the tank."""
        s = self.scenario
        axis = np.array([np.tan(s.tilt_x_rad), np.tan(s.tilt_y_rad), 1.0])
        crossing = np.array([s.beam_x_m, s.beam_y_m, s.plane_z_m])
        apex = crossing - s.plane_z_m * axis
        axis = axis / np.linalg.norm(axis)
        d = points_m - apex
        z = d @ axis
        r = np.linalg.norm(d - z[:, None] * axis, axis=1)
        return r, z

    def envelopes(self, points_m):
        """Complex amplitudes b(t) of the linear burst, (n, ENVELOPE_SAMPLES), Pa."""
        r, z = self.head_coordinates(points_m)
        k = 2.0 * np.pi * self.frequencies_hz / self.scenario.sound_speed_m_per_s
        lines = 1j * k * self.rho_c_u0_pa * self.bowl.rayleigh(r, z, k) * self.drive
        spectrum = np.zeros((len(points_m), ENVELOPE_SAMPLES), complex)
        spectrum[:, self.offset_bins % ENVELOPE_SAMPLES] = lines
        return np.fft.ifft(spectrum, axis=1) * ENVELOPE_SAMPLES

    def harmonic(self, n, b):
        """Complex amplitude of harmonic n from that of the linear burst, same shape."""
        s = self.scenario
        c = b * (s.sigma_ref / s.focal_amplitude_pa)
        power = np.exp(1j * s.alpha_rad * (n - 1)) * c ** (n - 1)
        square = c.real**2 + c.imag**2
        series = np.zeros_like(square)
        for coefficient in reversed(fubini_coefficients(n)):
            series = series * square + coefficient
        return b * power * series

    def spectrum(self, b, samples):
        """Analytic spectrum (n, samples): bin i is i / PERIOD_S, aliased as sampling would."""
        result = np.zeros((len(b), samples), complex)
        bins = np.fft.fftfreq(ENVELOPE_SAMPLES, 1.0 / ENVELOPE_SAMPLES).astype(int)
        for n in range(1, self.harmonics + 1):
            lines = np.fft.fft(self.harmonic(n, b), axis=1) / ENVELOPE_SAMPLES
            result[:, (n * self.period_bins + bins) % samples] += lines
        return result

    def pressure(self, b, samples):
        """p(t) in Pa at START_S + i PERIOD_S / samples, (n, samples)."""
        return np.fft.ifft(self.spectrum(b, samples), axis=1).real * samples

    def steady(self, b):
        """Complex amplitudes of the linear wave at the middle of the burst's arrival, (n,)."""
        s = self.scenario
        t = (
            s.emission_s
            + 0.5 * s.cycles / s.frequency_hz
            + s.plane_z_m / s.sound_speed_m_per_s
            - START_S
        )
        phase = np.exp(2j * np.pi * self.offset_bins * t / PERIOD_S)
        return (np.fft.fft(b, axis=1)[:, self.offset_bins] / ENVELOPE_SAMPLES) @ phase

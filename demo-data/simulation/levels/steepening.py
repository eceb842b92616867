"""Steepening beyond the first shock: the wave of wave.py with harmonics of a plane weak-shock wave.

The amplitudes of the harmonics of a plane wave that left its source as a sine, at a distance of s
shock lengths (D. T. Blackstock, J. Acoust. Soc. Am. 39 (1966) 1019), are

    B_n(s) = 2/(n pi) V + 2/(n pi s) int_q^pi cos n(x - s sin x) dx,
    q = s sin q (0 up to s = 1),    V = sin q,

V being half the height of the shock.  Up to s = 1 they are Fubini's, 2 J_n(n s)/(n s); far beyond
they are those of a sawtooth, 2/(n (1 + s)).  The sum of their squares is 1 up to s = 1 and falls
beyond: energy is lost in shocks and never won.

A front takes time to rise.  A shock of the profile tanh(t/tau) (G. I. Taylor, Proc. R. Soc. A 84
(1910) 371) has x/sinh x of the spectrum of a step, x = pi omega tau/2; so have the harmonics here,
with (n - 1) in place of n, which leaves the fundamental and its energy alone.
"""

import copy

import numpy as np
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq
from scipy.special import jv

from ..wave import Wave

HARMONICS = 30
S_STEP = 0.005
NODES, WEIGHTS = np.polynomial.legendre.leggauss(400)


def shock(s):
    """q, the phase of the source that is just reaching the shock: q = s sin q, in 0 to pi."""
    if s <= 1.0:
        return 0.0
    below = 0.5 * np.sqrt(6.0 * (s - 1.0) / s)
    return brentq(lambda x: x - s * np.sin(x), below, np.pi, xtol=1e-15)


def amplitude(n, s):
    """B_n(s), s above 0; the integral by Gauss-Legendre nodes."""
    if s <= 1.0:
        return 2.0 * jv(n, n * s) / (n * s)
    q = shock(s)
    x = q + 0.5 * (np.pi - q) * (NODES + 1.0)
    integral = 0.5 * (np.pi - q) * np.sum(WEIGHTS * np.cos(n * (x - s * np.sin(x))))
    return 2.0 / (n * np.pi) * (np.sin(q) + integral / s)


def front_factor(n, rise_s, frequency_hz):
    """What a 10 to 90 % rise time leaves of harmonic n: tanh rises within 2 artanh(0.8) tau."""
    tau = rise_s / (2.0 * np.arctanh(0.8))
    x = (n - 1) * 0.5 * np.pi * (2.0 * np.pi * frequency_hz) * tau
    return 1.0 if x == 0.0 else float(x / np.sinh(x))


class SteepWave(Wave):
    """Bursts as of Wave, with these harmonics; the largest s met anywhere is s_max."""

    harmonics = HARMONICS

    def __init__(self, bowl, scenario, rise_s, s_max):
        super().__init__(bowl, scenario)
        s = np.arange(1, round(s_max / S_STEP) + 2) * S_STEP
        self.tables = []
        for n in range(1, HARMONICS + 1):
            factor = front_factor(n, rise_s, scenario.frequency_hz)
            values = [1.0 if n == 1 else 0.0] + [factor * amplitude(n, v) for v in s]
            self.tables.append(CubicSpline(np.concatenate([[0.0], s]), values))

    def driven(self, ratio):
        """The same wave with a drive so many times as large."""
        other = copy.copy(self)
        other.drive = self.drive * ratio
        return other

    def harmonic(self, n, b):
        """Complex amplitude of harmonic n from that of the linear burst, same shape."""
        s = self.scenario
        size = np.abs(b)
        phasor = np.where(size > 0.0, b / np.where(size > 0.0, size, 1.0), 1.0)
        turn = (phasor * np.exp(1j * s.alpha_rad)) ** (n - 1)
        return b * turn * self.tables[n - 1](size * (s.sigma_ref / s.focal_amplitude_pa))

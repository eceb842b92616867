"""An invented optical fibre-tip sensor with its amplifier: pascals to volts.

The response is a product of causal minimum-phase factors without a delay, so that the
table holds what a calibration of magnitude and phase would give:

- a flat 40 nV/Pa,
- a gentle thickness resonance of the film, 1 + g (j f/(Q f_r)) / (1 - (f/f_r)^2 + j f/(Q f_r)),
- the amplifier, a second-order Butterworth low-pass.

Convention exp(+j w t): V(f) = M(f) P(f), a delay is a falling phase.
"""

import numpy as np

LEVEL_V_PER_PA = 40.0e-9
RESONANCE_HZ = 20.0e6
RESONANCE_Q = 1.6
RESONANCE_GAIN = 0.35
AMPLIFIER_HZ = 42.0e6


def response_v_per_pa(frequency_hz):
    """Complex sensitivity M(f) at the end of the cable, V/Pa."""
    f = np.asarray(frequency_hz, float)
    x = f / RESONANCE_HZ
    damping = 1j * x / RESONANCE_Q
    film = 1.0 + RESONANCE_GAIN * damping / (1.0 - x**2 + damping)
    y = f / AMPLIFIER_HZ
    amplifier = 1.0 / (1.0 - y**2 + 1j * np.sqrt(2.0) * y)
    return LEVEL_V_PER_PA * film * amplifier


TABLE_HZ = np.concatenate(
    [np.arange(1, 10) * 0.1e6, np.arange(4, 80) * 0.25e6, np.arange(40, 81) * 0.5e6]
)


def table_rows(response=response_v_per_pa, f=TABLE_HZ):
    """Rows of the calibration: Hz, nV/Pa, u in percent (k = 1), deg, u in deg (k = 1)."""
    m = response(f)
    u_percent = 3.0 + 1.0 * np.exp(-f / 0.4e6) + 3.0 * (f / 30.0e6) ** 2
    u_deg = 1.0 + 6.0 * (f / 30.0e6) ** 1.5
    return np.column_stack(
        [f, np.abs(m) * 1e9, u_percent, np.degrees(np.unwrap(np.angle(m))), u_deg]
    )

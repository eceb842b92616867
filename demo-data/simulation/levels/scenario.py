"""Ten drive levels: every number that can be chosen, in one place.

The same invented clinic, head and sensor as in ../scenario.py, another day.
"""

from dataclasses import dataclass, replace

import numpy as np

from ..scenario import FULL

FOLDER = "levels"
SEED = 20260511
DAY = "2026-05-11"
ISSUED = "2026-05-13"

# The wave: as FULL at REFERENCE_LEVEL, with longer bursts and harmonics up to the 30th.  The phase
# that diffraction adds is smaller here: the compression is about a third higher at the top and the
# rarefaction a quarter lower than a straight line from below.
REFERENCE_LEVEL = 90.0
HEAD = replace(
    FULL,
    title="Ten drive levels into steepening and cavitation",
    folder=FOLDER,
    cycles=30,
    alpha_rad=0.36 * np.pi,
    plane_points=21,
    plane_step_m=0.25e-3,
    dead_points=(),
    seed=SEED,
)
RISE_S = 45.0e-9  # 10 to 90 % of a steep front
S_MAX = 1.6  # more than s anywhere, at any level

# gain range: dB after the sensor's table, linear limit in Pa
RANGES = {"sensitive": (0.0, 2.0e7), "wide": (-6.0, 4.0e7)}

SHOTS = 8
# Each sweep: levels in the order in which they were driven.
SWEEPS = {
    "sensitive": (20.0, 30.0, 40.0, 60.0, 90.0, 120.0),
    "wide": (120.0, 140.0, 160.0, 180.0, 200.0, 60.0),
}
SHOT_SCATTER = 0.003  # of the drive, standard deviation
SHOT_JITTER_S = 3.0e-9
SWEEP_DT_S = 10.0e-9
SWEEP_T0_S = 27.0e-6
SWEEP_SAMPLES = 2750


@dataclass(frozen=True)
class Bubbles:
    """Signs of bubbles at one level, in its marked shots; decibels over the floor without drive."""

    shots: tuple  # marked ones, counted from 0
    monitor_noise_db: float
    monitor_line_db: float  # of f/2; see LINES
    sensor_noise_db: float
    pr_factor: float  # what is left of the pressure below zero


BUBBLES = {
    180.0: Bubbles((1, 4, 6), 10.0, 24.0, 8.0, 0.93),
    200.0: Bubbles((0, 1, 2, 3, 5, 6, 7), 14.0, 30.0, 11.0, 0.88),
}
DB_SCATTER = 0.7  # from shot to shot, of each of these decibels
ONSET_CYCLES = (1.0, 4.0)  # after the arrival
ONSET_RAMP_S = 0.5e-6
# Lines of the monitor re that at f/2, dB.
LINES = {0.5: 0.0, 1.5: -3.0, 2.5: -6.0}

# The monitor: a passive detector that looks at the focus from the side.
MONITOR_V_PER_PA = 3.0e-9  # volts over the pressure at the focus, by scattering
MONITOR_PASS_HZ = (0.3e6, 8.0e6)
MONITOR_DELAY_S = 26.0e-6
MONITOR_FULL_SCALE_V = 0.1
MONITOR_NOISE_COUNTS = 1.6
MONITOR_DT_S = 20.0e-9
MONITOR_SAMPLES = 1375

# Lines across the focus: range, sample interval
LINE_SCANS = {40.0: ("sensitive", 20.0e-9), 100.0: ("sensitive", 10.0e-9), 160.0: ("wide", 10.0e-9)}
LINE_X_M = np.round((np.arange(41) - 20) * 0.1e-3, 9)
LINE_Y_M = -0.05e-3
LINE_T0_S = 27.0e-6
LINE_SPAN_S = 26.5e-6

# Plane and axial line at the lowest level at which the sensor reads well.
FIELD_LEVEL = 40.0
FIELD_DT_S = 40.0e-9
FIELD_SPAN_S = 26.56e-6
PLANE_T0_S = 28.0e-6
AXIAL_Z_M = np.round(37.0e-3 + 0.5e-3 * np.arange(31), 9)
AXIAL_LEAD_S = 4.0e-6

# The sensor: its sensitivity after the shots with bubbles re before.
CHANGE = -0.025
CHECK_SHOTS = 8
CHECK_SCATTER = 0.004
CHECK_FULL_SCALE_V = 0.02

# Power by radiation force balance during the burst: level -> reading re the truth.
POWER_LEVELS = {40.0: 1.012, 200.0: 0.987}
POWER_U = 0.07  # expanded, k = 2, relative

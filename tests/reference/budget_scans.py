"""A made-up beam with harmonics, for the checks of uncertainty budgets: a plane, an axial line and a point,
small enough that a run takes a moment. Waves, sensitivities and water can be changed by small known amounts.
"""

import tempfile
from pathlib import Path

import numpy as np

import program
import scans

F_HZ = 1e6
DT_S = 2.5e-8
SAMPLES = 1100
# Of plane and point; samples begin before the burst comes there.
DEPTH_M, T0_S, CYCLES = 0.06, 25e-6, 10
# Amplitude in Pa and phase in rad of each harmonic at the middle of the beam.
HARMONICS = ((1.0e6, 0.0), (0.25e6, 0.9), (0.08e6, 1.7))
# Half-widths in x and y where the fundamental's amplitude is 1/e, middle, tilt of the wave fronts.
WIDTHS_M = (1.3e-3, 1.0e-3)
MIDDLE_M = (0.4e-3, -0.3e-3)
TILT_RAD = (0.05, -0.04)
SPEED_M_S = 1490.0
NOISE_PA = 1.5e3
TEMPERATURE_C = 22.0
# Rows of the sensitivity table, with uncertainties that rise with frequency.
ROWS_HZ = np.linspace(0.25e6, 19.75e6, 40)
U_MAGNITUDE = 0.05 + 0.03 * ROWS_HZ / 1e7
U_PHASE_RAD = 0.03 + 0.05 * ROWS_HZ / 1e7
EXCITATION = {"frequency_hz": F_HZ, "cycles": CYCLES, "repetition_hz": 100.0, "mode": "burst"}
RESPONSE = {"kind": "table", "file": "table.csv", "refers_to": "end-of-cable"}
ROLES = {"plane": "plane", "axis": "axial", "point": "point"}


def waves(g, phase_rad, t_s):
    """Pressures: harmonic n falls with the n-th power of `g` (below 1), its phase is n times `phase_rad`."""
    total = 0.0
    for n, (pa, phi) in enumerate(HARMONICS, start=1):
        amplitude = pa * g**n * np.exp(1j * (phi + n * phase_rad))
        total = total + scans.tone_burst(amplitude, n * F_HZ, t_s, DEPTH_M / SPEED_M_S, n * CYCLES, 3.0 * n)
    return total


def plane(t_s):
    x, y = np.arange(-10, 11) * 0.3e-3, np.arange(-9, 10) * 0.3e-3
    gx, gy = np.meshgrid(x - MIDDLE_M[0], y - MIDDLE_M[1])
    g = np.exp(-((gx / WIDTHS_M[0]) ** 2) - (gy / WIDTHS_M[1]) ** 2)
    k = 2.0 * np.pi * F_HZ / SPEED_M_S
    p = waves(g, -k * (np.sin(TILT_RAD[0]) * gx + np.sin(TILT_RAD[1]) * gy), t_s)
    return p, {"x_m": x, "y_m": y, "z_m": DEPTH_M}


def axis(t_s):
    z = DEPTH_M + np.arange(-12, 13) * 1e-3
    g = np.exp(-(((z - 0.0595) / 0.009) ** 2))
    later = [waves(one, 0.0, t_s - (at - DEPTH_M) / SPEED_M_S) for one, at in zip(g, z)]
    return np.array(later), {"x_m": 0.0, "y_m": 0.0, "z_m": z}


def point(t_s):
    return waves(np.ones(1), 0.0, t_s), {}


def write(folder, names=("plane", "axis", "point"), *, volts=1.0, axes=1.0, magnitude=0.0, phase=0.0,
          temperature_c=TEMPERATURE_C, rate=1.0, response=RESPONSE, scans_besides=(), **parts):
    """Scans and record. `magnitude` and `phase` are errors of the response at the drive frequency, its other
    rows' in proportion to their uncertainties: how rows that all err together do."""
    rng = np.random.default_rng(11)
    t = T0_S + np.arange(SAMPLES) * DT_S
    for name in names:
        p, places = {"plane": plane, "axis": axis, "point": point}[name](t)
        p = (p + NOISE_PA * rng.standard_normal(p.shape)) * volts
        places = {key: np.asarray(value) * axes for key, value in places.items()}
        scans.write_scan(folder / f"{name}.h5", p, DT_S, T0_S, **places)
    at_drive = [np.interp(F_HZ, ROWS_HZ, u) for u in (U_MAGNITUDE, U_PHASE_RAD)]
    slope = 1.0 + 0.02 * ROWS_HZ / 1e6
    scans.write_columns(
        folder / "table.csv",
        frequency_hz=ROWS_HZ,
        sensitivity_v_per_pa=scans.V_PER_PA * slope * (1.0 + magnitude * U_MAGNITUDE / at_drive[0]),
        phase_rad=-0.05 * ROWS_HZ / 1e6 + phase * U_PHASE_RAD / at_drive[1],
        u_sensitivity_relative=U_MAGNITUDE,
        u_phase_rad=U_PHASE_RAD,
    )
    ours = {
        "frame": {"z_zero": "apex"},
        "water": {"temperature_c": temperature_c, "u_temperature_c": 0.2},
        "excitation": EXCITATION | {"repetition_hz": 100.0 * rate},
        "exposure": {"mode": "burst", "burst_s": 1e-3, "repetition_hz": 10.0},
        "sensor": {"response": response, "full_scale_v": 10.0},
    }
    listed = [(name, ROLES[name], f"{name}.h5") for name in names]
    return scans.write_record(folder, [*listed, *scans_besides], **(ours | parts))


def sheet_of(*arguments, **parts):
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        return program.report(write(folder, *arguments, **parts), folder / "sheet")


def line_of(quantity, source):
    """The one line of a budget."""
    (line,) = [line for line in quantity["budget"]["lines"] if line["source"] == source]
    return line


def with_budget(sheet):
    return [q for q in sheet.data["quantities"] if q.get("budget")]

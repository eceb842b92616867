"""Repeats of one measurement whose true field is known in closed form; every repeat draws its own errors.

The field is a Gaussian beam in four harmonics, p_n = A_n exp(−n r²/w²), that bursts of one envelope carry;
off the axis they arrive later by r²/(2Rc). The true sensor, stage, water and clock stay the same; what the
record states of them is off by errors drawn from the distributions that the record states. The program
appears here as what is measured, never as a source of a truth or of an uncertainty.
"""

import concurrent.futures
import dataclasses
import json
import os
import sys
import tempfile
from pathlib import Path

import numpy as np
from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar
from scipy.stats import binom

import planes
import program
import scans
import water

sys.path.insert(0, str(program.ROOT / "demo-data"))

from simulation import files  # noqa: E402
from simulation.sensor import response_v_per_pa, table_rows  # noqa: E402

SCAN = "plane"
GOAL = ("pc", "pr", "ispta", "width_x_6", "power_on_angular")

# The field.
F_HZ, CYCLES, REPETITION_HZ = 1.5e6, 12.0, 100.0
PA = 3.0e6 * np.array([1.0, 0.25, 0.10, 0.04])
PHASE = np.arange(4) * np.pi / 4.0
ORDERS = np.arange(1, 5)
W_M, CURVATURE_M = 0.92e-3, 45.0e-3
CELSIUS = 22.0
SPEED, RHO_C = water.sound_speed(CELSIUS), water.density(CELSIUS) * water.sound_speed(CELSIUS)

# The measurement.
POINTS, STEP_M, Z_M = 17, 0.22e-3, 45.0e-3
DT_S, SAMPLES, START_S = 20e-9, 640, 3.2e-6
VOLTS_PER_COUNT, BITS = 0.25e-3, 12
SNR_DB = 55.0
TABLE_HZ = np.arange(1, 121) * 0.25e6
CORRELATION_HZ = 4.0e6


@dataclasses.dataclass(frozen=True)
class Stated:
    """What the record states: standard uncertainties, k = 1, of normal errors, but for the limits of the
    gain, between which every gain is as likely; relative but for the temperature (K) and the position of
    a point along each axis (m). Each axis of the stage has a scale of its own. Harmonic n goes with the
    nth power of the drive."""

    temperature_c: float = 0.3
    scale: float = 0.004
    position_m: float = 8e-6
    gain_limit: float = 0.017
    drive: float = 0.008
    repetition: float = 0.001


STATED = Stated()


def truth():
    """Quantities of the true field by their definitions (docs/quantities.md): closed forms, roots and
    quadratures."""
    phases = np.linspace(0.0, 2.0 * np.pi, 721)

    def wave(angle):
        return float(np.sum(PA * np.cos(ORDERS * angle + PHASE)))

    def extreme(sign):
        near = phases[np.argmax([sign * wave(a) for a in phases])]
        around = (near - 0.02, near + 0.02)
        return -minimize_scalar(lambda a: -sign * wave(a), bounds=around, options={"xatol": 1e-10}).fun

    def energy(r):
        return np.sum(PA**2 * np.exp(-2.0 * ORDERS * r**2 / W_M**2)) / np.sum(PA**2)

    half = brentq(lambda r: energy(r) - 10.0**-0.6, 0.0, 3.0 * W_M)
    i_on = np.sum(PA**2) / (2.0 * RHO_C)
    k1 = 2.0 * np.pi * F_HZ / SPEED
    power = 0.0
    for n, a in zip(ORDERS, PA):
        # exp(−q r²), q = n/w² + jnk/(2R): energy over κ as exp(−κ² s/2), s = Re(1/q).
        s = (1.0 / (n * (1.0 / W_M**2 + 0.5j * k1 / CURVATURE_M))).real
        k = n * k1
        tilted, _ = quad(lambda q: np.exp(-s * q * q / 2.0) * np.sqrt(1.0 - (q / k) ** 2) * q * s, 0.0, k)
        power += a**2 / (2.0 * RHO_C) * np.pi * W_M**2 / (2.0 * n) * tilted
    return {
        "pc": extreme(1.0),
        "pr": extreme(-1.0),
        "ispta": i_on * CYCLES / F_HZ * REPETITION_HZ,
        "width_x_6": 2.0 * half,
        "power_on_angular": power,
    }


def spectra():
    """Volts of each harmonic on the axis, (harmonics, bins)."""
    t = DT_S * np.arange(SAMPLES)
    bursts = [
        scans.tone_burst(a * np.exp(1j * phase), n * F_HZ, t, START_S, n * CYCLES, 2.0 * n)
        for n, a, phase in zip(ORDERS, PA, PHASE)
    ]
    return np.fft.rfft(bursts, axis=1) * response_v_per_pa(np.fft.rfftfreq(SAMPLES, DT_S))


SPECTRA = spectra()


def correlated(rng, u):
    """Errors of the table's rows, standard deviations u, correlation exp(−|Δf|/length)."""
    distance = np.abs(TABLE_HZ[:, None] - TABLE_HZ[None, :])
    root = np.linalg.cholesky(np.exp(-distance / CORRELATION_HZ) + 1e-12 * np.eye(len(TABLE_HZ)))
    return u * (root @ rng.standard_normal(len(TABLE_HZ)))


def measure(folder, rng, stated=STATED):
    """One repeat: scan, table and record in the folder; gives the sheet."""
    nominal = (np.arange(POINTS) - POINTS // 2) * STEP_M
    y, x = np.meshgrid(nominal, nominal, indexing="ij")
    # Where the beam lies on the grid is no error: a head is never mounted twice alike.
    at = rng.uniform(-0.5, 0.5, 2) * STEP_M
    scale = 1.0 + stated.scale * rng.standard_normal(2)
    true_x = x * scale[0] + stated.position_m * rng.standard_normal(x.shape) - at[0]
    true_y = y * scale[1] + stated.position_m * rng.standard_normal(x.shape) - at[1]
    r2 = (true_x**2 + true_y**2).reshape(-1, 1)
    delay = np.exp(-2j * np.pi * np.fft.rfftfreq(SAMPLES, DT_S) * r2 / (2.0 * CURVATURE_M * SPEED))
    drive = (1.0 + stated.drive * rng.standard_normal()) ** ORDERS
    size = np.exp(-ORDERS * r2 / W_M**2) * drive
    gain = 1.0 + rng.uniform(-stated.gain_limit, stated.gain_limit)
    volts = gain * np.fft.irfft((size @ SPECTRA) * delay, SAMPLES, axis=1)
    counts = volts / VOLTS_PER_COUNT
    noise = NOISE_COUNTS * rng.standard_normal(counts.shape)
    top = 2 ** (BITS - 1)
    counts = np.clip(np.rint(counts + noise), -top, top - 1).astype(np.int16).reshape(POINTS, POINTS, -1)
    planes.Plane(counts, nominal, nominal, Z_M, DT_S, 27e-6, VOLTS_PER_COUNT).write(folder / "plane.h5")
    rows = table_rows(f=TABLE_HZ)
    rows[:, 1] *= 1.0 + correlated(rng, rows[:, 2] / 100.0)
    rows[:, 3] += correlated(rng, rows[:, 4])
    files.write_sensitivity(folder / "sensitivity.csv", rows)
    record = record_of(rng, stated)
    (folder / "record.json").write_text(json.dumps(record), "utf-8")
    return program.report(folder / "record.json", folder / "sheet")


NOISE_COUNTS = np.sqrt(
    (np.abs(np.fft.irfft(SPECTRA.sum(axis=0), SAMPLES)).max() / VOLTS_PER_COUNT * 10.0 ** (-SNR_DB / 20.0)) ** 2
    - 1.0 / 12.0
)


def record_of(rng, stated):
    """What a person would state, with the errors of thermometer and clock."""

    def expanded(u, relative=True):
        return {"value": 2.0 * u, "kind": "expanded", "k": 2, "relative": relative}

    return {
        "schema": "focalsheet-record/1",
        "title": "Repeated measurement",
        "device": {"aperture_radius_m": 0.02, "radius_of_curvature_m": CURVATURE_M},
        "frame": {"u_scale": expanded(stated.scale), "u_position": expanded(stated.position_m, False)},
        "water": {
            "temperature_c": CELSIUS + stated.temperature_c * rng.standard_normal(),
            "u_temperature_c": stated.temperature_c,
        },
        "excitation": {
            "frequency_hz": F_HZ,
            "cycles": CYCLES,
            "repetition_hz": REPETITION_HZ * (1.0 + stated.repetition * rng.standard_normal()),
            "mode": "burst",
            "u_drive": expanded(stated.drive),
            "u_repetition": expanded(stated.repetition),
        },
        "sensor": {
            "response": {
                "kind": "table",
                "file": "sensitivity.csv",
                "frequency_correlation": {"length_hz": CORRELATION_HZ},
            },
            "full_scale_v": VOLTS_PER_COUNT * 2 ** (BITS - 1),
            "bits": BITS,
            "effective_radius_m": 1e-5,
            "u_gain": {"value": stated.gain_limit, "kind": "half-width", "relative": True},
        },
        "scans": [{"id": SCAN, "role": "plane", "file": "plane.h5"}],
    }


def intervals(seed, number):
    """Value and expanded uncertainty of the quantities, (quantities, 2), of one repeat."""
    with tempfile.TemporaryDirectory() as folder:
        sheet = measure(Path(folder), np.random.default_rng([seed, number]))
    rows = []
    for name in GOAL:
        base = "tank" if name == "ispta" else None
        found = sheet.quantity(SCAN, name, base)
        rows.append([np.nan if found[key] is None else found[key] for key in ("value", "u_expanded")])
    return rows


def run(seed, count):
    """(repeats, quantities, 2) with as many processes as there are cores."""
    with concurrent.futures.ProcessPoolExecutor(os.cpu_count()) as pool:
        return np.array(list(pool.map(intervals, [seed] * count, range(count), chunksize=4)))


@dataclasses.dataclass(frozen=True)
class Coverage:
    """How one quantity's intervals did."""

    name: str
    held: int
    count: int
    bias: float
    scatter: float
    half_width: float

    @property
    def share(self):
        return self.held / self.count


def coverages(found, expected):
    """Of each quantity: intervals that hold the truth; bias, scatter, mean half-width re the truth."""
    out = []
    for i, name in enumerate(GOAL):
        value, u = found[:, i, 0], found[:, i, 1]
        held = int(np.count_nonzero(np.abs(value - expected[name]) <= u))
        relative = value / expected[name] - 1.0
        out.append(
            Coverage(name, held, len(value), relative.mean(), relative.std(ddof=1), (u / expected[name]).mean())
        )
    return out


def chance(count, probability=0.95, error=1e-3):
    """Least and greatest share that so many repeats show of intervals that hold with the probability, each
    missed with half the error (binomial)."""
    return tuple(binom.ppf([error / 2.0, 1.0 - error / 2.0], count, probability) / count)

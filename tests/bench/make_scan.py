"""Makes a synthetic plane scan for the benchmark: waveforms, record, sensitivity table.

    python make_scan.py FOLDER POINTS SAMPLES

POINTS × POINTS waveforms of SAMPLES float32 values in volts, stored contiguously. The field is
invented and cheap, not physics: tone bursts with three harmonics, each a Gaussian beam on a faint wide
pedestal with a curved phase; white noise, an offset, and a few dead points. Sensor and water are the
demo's. The seed is fixed: every run makes the same file.
"""

import csv
import json
import shutil
import sys
from pathlib import Path

import h5py
import numpy as np

DEMO = Path(__file__).resolve().parents[2] / "demo-data"
SEED = 20260504
FREQUENCY_HZ = 1.5e6
CYCLES = 30
INTERVAL_S = 20e-9
FIRST_SAMPLE_S = 25e-6
ARRIVAL_S = 31.06e-6
SPAN_M = 20e-3
PEAK_M = (0.13e-3, -0.07e-3)
# Pressure amplitude and phase at the peak of each harmonic.
HARMONICS = ((5.0e6, 0.0), (1.2e6, 0.6), (0.45e6, 1.1))
BEAM_RADIUS_M = (1.9e-3, 1.7e-3)
PEDESTAL, PEDESTAL_RADIUS_M = 0.04, 7e-3
PHASE_CURVATURE_PER_M2 = 4.0e4
NOISE_V, OFFSET_V = 0.25e-3, 1.5e-3
DEAD_POINTS = 5


def sensitivity(frequency_hz):
    """Complex response, V/Pa, from the demo's table."""
    with open(DEMO / "sensitivity.csv", encoding="utf-8") as f:
        rows = list(csv.DictReader(line for line in f if not line.startswith("#")))
    column = lambda name: np.array([float(row[name]) for row in rows])
    f = column("frequency_hz")
    size = np.interp(frequency_hz, f, column("sensitivity_nv_per_pa")) * 1e-9
    return size * np.exp(1j * np.radians(np.interp(frequency_hz, f, column("phase_deg"))))


def patterns(x, y):
    """Complex volts of each harmonic at every point, (harmonics, points)."""
    dx, dy = np.meshgrid(x - PEAK_M[0], y - PEAK_M[1])
    narrow = np.exp(-((dx / BEAM_RADIUS_M[0]) ** 2) - (dy / BEAM_RADIUS_M[1]) ** 2)
    wide = np.exp(-(dx**2 + dy**2) / PEDESTAL_RADIUS_M**2)
    beam = (1 - PEDESTAL) * narrow + PEDESTAL * wide
    curve = PHASE_CURVATURE_PER_M2 * (dx**2 + dy**2)
    return [
        sensitivity(n * FREQUENCY_HZ) * size * beam.ravel() ** n * np.exp(1j * (phase + n * curve.ravel()))
        for n, (size, phase) in enumerate(HARMONICS, start=1)
    ]


def basis(samples):
    """exp(jnωt) under a smooth envelope, (harmonics, samples)."""
    t = FIRST_SAMPLE_S + INTERVAL_S * np.arange(samples) - ARRIVAL_S
    burst = CYCLES / FREQUENCY_HZ
    envelope = 0.5 * (np.tanh(t / 0.4e-6) - np.tanh((t - burst) / 0.4e-6))
    return [envelope * np.exp(2j * np.pi * n * FREQUENCY_HZ * t) for n in range(1, len(HARMONICS) + 1)]


def write_scan(path, points, samples):
    rng = np.random.default_rng(SEED)
    x = SPAN_M * (np.arange(points) / (points - 1) - 0.5)
    pattern, wave = patterns(x, x), basis(samples)
    columns = np.stack([part for p in pattern for part in (p.real, -p.imag)], axis=1).astype(np.float32)
    rows = np.stack([part for w in wave for part in (w.real, w.imag)]).astype(np.float32)
    # Dead points stand where there is a field, but well outside the −6 dB contour.
    level = np.abs(pattern[0]) / np.abs(pattern[0]).max()
    dead = rng.choice(np.flatnonzero((level > 0.05) & (level < 0.3)), DEAD_POINTS, replace=False)
    columns[dead] = 0.0
    with h5py.File(path, "w") as f:
        waveforms = f.create_dataset("waveforms", (points, points, samples), np.float32, track_times=False)
        waveforms.attrs["units"] = "V"
        for row in range(points):
            volts = columns[row * points : (row + 1) * points] @ rows
            volts += OFFSET_V + NOISE_V * rng.standard_normal(volts.shape, np.float32)
            waveforms[row] = volts
        z = np.array([44.4e-3])
        axes = (("x_m", x, "m"), ("y_m", x, "m"), ("z_m", z, "m"), ("dt_s", INTERVAL_S, "s"), ("t0_s", FIRST_SAMPLE_S, "s"))
        for name, value, unit in axes:
            f.create_dataset(name, data=value, track_times=False).attrs["units"] = unit


def write_record(path):
    """The demo's record with this scan alone, a stated low-pass, and nothing that the scan lacks."""
    record = json.loads((DEMO / "record.json").read_text(encoding="utf-8"))
    record["title"] = "Benchmark: synthetic plane"
    record["excitation"].update(frequency_hz=FREQUENCY_HZ, cycles=CYCLES)
    record["analysis"]["lowpass"] = {"kind": "cosine", "cutoff_hz": 8e6}
    record["analysis"]["corrections"]["spatial_averaging"] = False
    record["scans"] = [{"id": "plane", "role": "plane", "file": "scan.h5"}]
    for key in ("stated", "history"):
        record.pop(key, None)
    path.write_text(json.dumps(record, indent=2) + "\n", encoding="utf-8")


def main():
    folder, points, samples = Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])
    folder.mkdir(parents=True, exist_ok=True)
    write_scan(folder / "scan.h5", points, samples)
    write_record(folder / "record.json")
    shutil.copy(DEMO / "sensitivity.csv", folder)


if __name__ == "__main__":
    main()

"""The yardstick: the quantities of a plane by a vectorised numpy/scipy script.

    python peer.py FOLDER [--workers N] [--runs N]

Written as a careful person would who wants it fast: blocks of whole rows that stay in the cache,
float32 waveforms and transforms, no Python loop over points, peaks refined only where they are. It
shares no code with the program and settles its own windows. Prints its best time and its peak memory
and leaves `peer-N.json` (figures and quantities) in FOLDER. Imports, figures and prose are not timed.
"""

import argparse
import csv
import json
import resource
import time
from pathlib import Path

import h5py
import numpy as np
import scipy.fft

import peer_plane as plane

ROWS = 1  # rows of the plane a block for one worker: about 1 MB of float32
TAPS, PHASES = 16, 16


class Scan:
    """Record, axes and response; the waveforms stay in the file."""

    def __init__(self, folder):
        self.record = json.loads((folder / "record.json").read_text(encoding="utf-8"))
        self.file = h5py.File(folder / "scan.h5", "r")
        self.waveforms = self.file["waveforms"]
        self.x, self.y, self.dt, self.t0 = (self.file[k][()] for k in ("x_m", "y_m", "dt_s", "t0_s"))
        self.samples = self.waveforms.shape[-1]
        self.f = self.record["excitation"]["frequency_hz"]
        self.period = 1.0 / (self.f * self.dt)
        sensor = self.record["sensor"]
        self.clip = sensor["full_scale_v"] * (1.0 - 2.02 / 2 ** sensor["bits"])
        self.n = scipy.fft.next_fast_len(int(1.1 * self.samples), real=True)
        with open(folder / sensor["response"]["file"], encoding="utf-8") as f:
            rows = list(csv.DictReader(line for line in f if not line.startswith("#")))
        table = {key: np.array([float(row[key]) for row in rows]) for key in rows[0]}
        bins = scipy.fft.rfftfreq(self.n, self.dt)
        size = np.interp(bins, table["frequency_hz"], table["sensitivity_nv_per_pa"] * 1e-9)
        phase = np.radians(np.interp(bins, table["frequency_hz"], table["phase_deg"]))
        cut = self.record["analysis"]["lowpass"]["cutoff_hz"]
        low = 0.5 + 0.5 * np.cos(np.pi * np.clip((bins / cut - 1.0) / 0.25, 0.0, 1.0))
        self.filter = (low / (size * np.exp(1j * phase))).astype(np.complex64)


def moving_rms(volts, width):
    square = (volts - np.median(volts)) ** 2
    return np.sqrt(np.convolve(square, np.full(width, 1.0 / width), "same"))


def windows(scan):
    """Gate, quiet part and steady part (samples), from the loudest of a coarse subset of points."""
    step = max(len(scan.x) // 20, 1)
    coarse = scan.waveforms[::step, ::step].reshape(-1, scan.samples).astype(float)
    level = moving_rms(coarse[np.argmax(coarse.var(axis=1))], round(scan.period))
    inside = np.flatnonzero(level > max(0.02 * level.max(), 4 * np.quantile(level, 0.05)))
    gate = (max(int(inside[0] - 2 * scan.period), 0), min(int(inside[-1] + 2 * scan.period), scan.samples))
    steady = np.flatnonzero(level > 0.97 * np.median(level[inside]))
    cycles = int((steady[-1] - steady[0]) / scan.period) - 2
    start = int(steady[0] + scan.period)
    return gate, (gate[0] // 8, gate[0] - gate[0] // 8), (start, start + cycles * scan.period)


def sinc_table():
    """Band-limited interpolation at PHASES instants a sample, ±1 sample about the middle tap."""
    at = np.arange(-PHASES, PHASES + 1) / PHASES
    x = np.arange(-TAPS, TAPS + 1)[:, None] - at
    table = np.sinc(x) * np.i0(8.0 * np.sqrt(np.clip(1.0 - (x / (TAPS + 1)) ** 2, 0.0, None)))
    return (table / table.sum(axis=0)).astype(np.float32)


def peaks(p, gate, table):
    """Largest value of each waveform between its samples."""
    at = p[:, gate[0] : gate[1]].argmax(axis=1) + gate[0]
    taps = np.clip(at[:, None] + np.arange(-TAPS, TAPS + 1), 0, p.shape[1] - 1)
    fine = np.take_along_axis(p, taps, axis=1) @ table
    rows = np.arange(len(p))
    top = np.clip(fine.argmax(axis=1), 1, 2 * PHASES - 1)
    a, b, c = fine[rows, top - 1], fine[rows, top], fine[rows, top + 1]
    bend = np.minimum(a - 2 * b + c, -1e-30)
    return b - (a - c) ** 2 / (8 * bend)


class Pipeline:
    """Volts to per-point numbers, block by block."""

    def __init__(self, scan, workers):
        self.scan, self.workers = scan, workers
        self.gate, self.quiet, (start, stop) = windows(scan)
        last = int(stop)
        self.steady = slice(start, last + 2)
        # Trapezoidal weights over whole cycles with a fractional end.
        weight = np.ones(last + 2 - start)
        part = stop - last
        weight[0], weight[-2], weight[-1] = 0.5, 0.5 + part - part**2 / 2, part**2 / 2
        self.weight = (weight / (stop - start)).astype(np.float32)
        turns = 2j * np.pi * scan.f * scan.dt * np.arange(start, last + 2)[:, None] * np.arange(1, 4)
        design = np.hstack([np.ones((len(turns), 1)), np.cos(turns.imag), np.sin(turns.imag)])
        self.harmonics = np.linalg.pinv(design).T.astype(np.float32)
        self.table = sinc_table()
        head = min(self.gate[0], scan.samples // 50)
        ramp = np.sin(0.5 * np.pi * (np.arange(head) + 0.5) / head) ** 2
        self.taper = np.ones(scan.samples, np.float32)
        self.taper[:head], self.taper[scan.samples - head :] = ramp, ramp[::-1]

    def pressure(self, volts):
        volts -= volts[:, : self.gate[0]].mean(axis=1, keepdims=True)
        volts *= self.taper
        spectrum = scipy.fft.rfft(volts, self.scan.n, workers=self.workers)
        spectrum *= self.scan.filter
        return scipy.fft.irfft(spectrum, self.scan.n, workers=self.workers, overwrite_x=True)[:, : self.scan.samples]

    def block(self, volts):
        clipped = (volts.max(axis=1) >= self.scan.clip) | (volts.min(axis=1) <= -self.scan.clip)
        p = self.pressure(volts)
        pc, pr = peaks(p, self.gate, self.table), peaks(-p, self.gate, self.table)
        parts = p[:, self.steady] @ self.harmonics
        square = p * p
        ppsi = square[:, slice(*self.gate)].sum(axis=1) * self.scan.dt
        noise = square[:, slice(*self.quiet)].mean(axis=1)
        amplitudes = np.hypot(parts[:, 1:4], parts[:, 4:7])
        return np.column_stack([pc, pr, ppsi, noise, square[:, self.steady] @ self.weight, amplitudes, clipped])

    def run(self):
        rows = ROWS * self.workers
        blocks = []
        for row in range(0, len(self.scan.y), rows):
            volts = self.scan.waveforms[row : row + rows]
            blocks.append(self.block(volts.reshape(-1, self.scan.samples)))
        return np.concatenate(blocks).astype(float)


def once(folder, workers):
    started = time.perf_counter()
    scan = Scan(folder)
    pipeline = Pipeline(scan, workers)
    before = time.perf_counter()
    points = pipeline.run()
    bands = time.perf_counter() - before
    quantities = plane.quantities(scan, pipeline, points)
    return time.perf_counter() - started, bands, quantities


def main():
    words = argparse.ArgumentParser()
    words.add_argument("folder", type=Path)
    words.add_argument("--workers", type=int, default=1)
    words.add_argument("--runs", type=int, default=3)
    asked = words.parse_args()
    all_s, bands_s, quantities = min((once(asked.folder, asked.workers) for _ in range(asked.runs)), key=lambda r: r[0])
    with h5py.File(asked.folder / "scan.h5") as f:
        shape = f["waveforms"].shape
    count = shape[0] * shape[1]
    peak_mib = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    figures = {
        "to_sheet_s": all_s,
        "bands_s": bands_s,
        "waveforms_per_s": count / bands_s,
        "mb_per_s": 4e-6 * count * shape[2] / bands_s,
        "peak_mib": peak_mib,
    }
    print(f"numpy/scipy, workers={asked.workers}: {figures['waveforms_per_s']:.0f} waveforms/s, "
          f"{figures['mb_per_s']:.0f} MB/s; files to quantities {all_s:.3f} s; peak memory {peak_mib:.0f} MiB")
    out = asked.folder / f"peer-{asked.workers}.json"
    out.write_text(json.dumps({"figures": figures, "quantities": quantities}, indent=1), encoding="utf-8")


if __name__ == "__main__":
    main()

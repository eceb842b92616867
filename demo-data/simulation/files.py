"""Writes scans and the sensitivity table as self-describing files."""

import json

import h5py
import numpy as np

NOTE = "simulated; clinic, head and sensor are invented"


def write_plane(path, counts, x_m, y_m, z_m, dt_s, t0_s, volts_per_count, time_s):
    """HDF5: waveforms (ny, nx, nt) int16 counts with axes, without timestamps."""
    with h5py.File(path, "w") as f:
        f.attrs["note"] = NOTE
        waveforms = f.create_dataset(
            "waveforms",
            data=counts,
            chunks=(1, *counts.shape[1:]),
            shuffle=True,
            compression="gzip",
            compression_opts=9,
            track_times=False,
        )
        waveforms.attrs["units"] = "count"
        waveforms.attrs["volts_per_count"] = volts_per_count
        for name, value, unit in (
            ("x_m", x_m, "m"),
            ("y_m", y_m, "m"),
            ("z_m", np.array([z_m]), "m"),
            ("dt_s", dt_s, "s"),
            ("t0_s", t0_s, "s"),
            ("time_s", time_s, "s"),
        ):
            dataset = f.create_dataset(name, data=value, track_times=False)
            dataset.attrs["units"] = unit


def _write_csv(path, notes, header, rows):
    with open(path, "w", encoding="utf-8", newline="\n") as f:
        for key, value in notes.items():
            f.write(f"# {key} = {value}\n")
        f.write(",".join(header) + "\n")
        for row in rows:
            f.write(",".join(row) + "\n")


def write_axial(path, counts, x_m, y_m, z_m, dt_s, t0_s, volts_per_count):
    """CSV: one point a row, each with its own start time."""
    notes = {
        "note": NOTE,
        "dt_s": f"{dt_s:.1e}",
        "volts_per_count": repr(volts_per_count),
        "x_m": f"{x_m:.2e}",
        "y_m": f"{y_m:.2e}",
    }
    header = ["z_m", "t0_s"] + [f"waveforms[{i}]" for i in range(counts.shape[1])]
    rows = (
        [f"{z:.4f}", f"{t0:.8f}"] + [str(v) for v in row] for z, t0, row in zip(z_m, t0_s, counts)
    )
    _write_csv(path, notes, header, rows)


def write_point(path, volts, x_m, y_m, z_m, dt_s, t0_s):
    """CSV: one waveform, one row a sample, in volts."""
    notes = {"note": NOTE, "x_m": f"{x_m:.2e}", "y_m": f"{y_m:.2e}", "z_m": f"{z_m:.4f}"}
    t_s = t0_s + dt_s * np.arange(len(volts))
    rows = ([f"{t:.8f}", f"{v:.7f}"] for t, v in zip(t_s, volts))
    _write_csv(path, notes, ["t_s", "waveforms"], rows)


def write_groups(path, scans):
    """HDF5: several scans of repeated waveforms, one group each."""
    with h5py.File(path, "w") as f:
        f.attrs["note"] = NOTE
        for name, (counts, volts_per_count, dt_s, t0_s) in scans.items():
            group = f.create_group(name)
            data = counts if len(counts) > 1 else counts[0]
            waveforms = group.create_dataset(
                "waveforms",
                data=data,
                shuffle=True,
                compression="gzip",
                compression_opts=9,
                track_times=False,
            )
            waveforms.attrs["units"] = "count"
            waveforms.attrs["volts_per_count"] = volts_per_count
            for key, value in (("dt_s", dt_s), ("t0_s", t0_s)):
                group.create_dataset(key, data=value, track_times=False).attrs["units"] = "s"


def write_sensitivity(path, rows):
    """CSV: the sensor's table."""
    notes = {
        "note": NOTE,
        "phase": "of volts over pascals under exp(+j w t): a delay is a falling phase",
        "uncertainty": "standard, k = 1",
    }
    header = [
        "frequency_hz",
        "sensitivity_nv_per_pa",
        "u_sensitivity_percent",
        "phase_deg",
        "u_phase_deg",
    ]
    text = (
        [f"{f:.0f}", f"{m:.4f}", f"{um:.2f}", f"{phase:.3f}", f"{up:.2f}"]
        for f, m, um, phase, up in rows
    )
    _write_csv(path, notes, header, text)


def write_json(path, value):
    with open(path, "w", encoding="utf-8", newline="\n") as f:
        json.dump(value, f, indent=2, ensure_ascii=False)
        f.write("\n")

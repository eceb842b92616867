"""Writes scans and records in the project's own form (docs/formats.md, docs/record.md)."""

import json

import h5py
import numpy as np

# Sensitivity of an ideal flat sensor, V/Pa: 1 MPa gives 50 mV.
V_PER_PA = 5e-8


def write_record(folder, scans, **parts):
    """A record of the given scans (id, role, file); `parts` replaces or adds members."""
    record = {
        "schema": "focalsheet-record/1",
        "title": "Reference check",
        "water": {"temperature_c": 22.0},
        "sensor": {"response": {"kind": "flat", "v_per_pa": V_PER_PA}, "full_scale_v": 10.0},
        "scans": [dict(zip(("id", "role", "file"), scan)) for scan in scans],
    }
    record.update(parts)
    path = folder / "record.json"
    path.write_text(json.dumps({k: v for k, v in record.items() if v is not None}, indent=1), encoding="utf-8")
    return path


def write_point(path, t_s, pressure_pa):
    """A CSV with one waveform, in volts of the flat sensor."""
    write_columns(path, t_s=t_s, waveforms=np.asarray(pressure_pa) * V_PER_PA)


def write_columns(path, **columns):
    """A CSV with columns of numbers under their names: a waveform in volts, a sensitivity table."""
    with open(path, "w", encoding="utf-8", newline="\n") as f:
        f.write(",".join(columns) + "\n")
        f.writelines(",".join(f"{v:.12e}" for v in row) + "\n" for row in zip(*columns.values()))


def write_scan(path, pressure_pa, dt_s, t0_s, **axes_m):
    """An HDF5 scan: float32 volts of the flat sensor (… , samples), axes x_m, y_m, z_m."""
    with h5py.File(path, "w") as f:
        f["waveforms"] = (np.asarray(pressure_pa) * V_PER_PA).astype("f4")
        f["dt_s"] = dt_s
        f["t0_s"] = t0_s
        for name, values in axes_m.items():
            f[name] = np.atleast_1d(values)


def tone_burst(amplitude, f_hz, t_s, start_s, cycles, ramp_cycles=3.0):
    """Re(amplitude · exp(jωt)) times an envelope that rises and falls over `ramp_cycles` by half a
    cosine and is `cycles` long between its half-amplitude points. `amplitude` may be an array; time
    is the last axis of the result.
    """
    ramp = ramp_cycles / f_hz
    rise = np.clip((t_s - start_s) / ramp + 0.5, 0.0, 1.0)
    fall = np.clip((start_s + cycles / f_hz - t_s) / ramp + 0.5, 0.0, 1.0)
    envelope = (0.5 - 0.5 * np.cos(np.pi * rise)) * (0.5 - 0.5 * np.cos(np.pi * fall))
    carrier = envelope * np.exp(2j * np.pi * f_hz * t_s)
    return (np.multiply.outer(np.asarray(amplitude), carrier)).real


def burst_energy_cycles(cycles, ramp_cycles=3.0):
    """∫ envelope² dt · f: half-cosine ramps hold 3/8 of their length each (closed form)."""
    return (cycles - ramp_cycles) + 2.0 * ramp_cycles * 3.0 / 8.0

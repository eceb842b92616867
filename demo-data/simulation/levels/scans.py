"""Writes the scan files of the ten levels."""

import h5py
import numpy as np

from .. import check_source, files
from ..recording import Recorder
from . import scenario as sc
from .recording import Shots, digitised, response_of

POINT_M = (sc.HEAD.focus_x_m, sc.HEAD.focus_y_m, sc.HEAD.plane_z_m)


def write(path, groups):
    """HDF5: one scan a group, {name: (counts, {array: (value, unit)}, volts per count, axes)}."""
    with h5py.File(path, "w") as f:
        f.attrs["note"] = files.NOTE
        for name, (counts, arrays, volts_per_count, axes) in groups.items():
            group = f.create_group(name) if name else f
            waveforms = group.create_dataset(
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
            waveforms.attrs["axes"] = axes
            for key, (value, unit) in arrays.items():
                dataset = group.create_dataset(key, data=value, track_times=False)
                dataset.attrs["units"] = unit


def timing(dt_s, t0_s):
    return {"dt_s": (dt_s, "s"), "t0_s": (t0_s, "s")}


def sweeps(folder, wave):
    """Sweeps and monitors; gives the signs of bubbles by sweep, [level][repeat]."""
    shots = Shots(wave, POINT_M)
    drawn = {}
    for name, levels in sc.SWEEPS.items():
        sensor, monitor, drawn[name] = shots.sweep(name)
        place = {f"{a}_m": (np.array([v]), "m") for a, v in zip("xyz", POINT_M)}
        level = {"level": (np.array(levels), "Vpp")}
        arrays = {**level, **place, **timing(sc.SWEEP_DT_S, sc.SWEEP_T0_S)}
        parts = {"": (sensor, arrays, shots.volts_per_count, "level repeat t")}
        write(folder / f"sweep-{name}.h5", parts)
        arrays = level | timing(sc.MONITOR_DT_S, sc.SWEEP_T0_S + sc.MONITOR_DELAY_S)
        parts = {"": (monitor, arrays, shots.monitor_volts_per_count, "level repeat t")}
        write(folder / f"monitor-{name}.h5", parts)
        print(f"sweep {name}: largest count {np.max(np.abs(sensor.astype(int)))}")
    return drawn


def lines(folder, wave):
    groups = {}
    for i, (level, (name, dt)) in enumerate(sc.LINE_SCANS.items()):
        driven = wave.driven(level / sc.REFERENCE_LEVEL)
        recorder = Recorder(driven, 20 + i, response_of(name))
        x = sc.LINE_X_M
        points = np.column_stack(
            [x, np.full(len(x), sc.LINE_Y_M), np.full(len(x), sc.HEAD.plane_z_m)]
        )
        counts = recorder.record(points, sc.LINE_T0_S, dt, round(sc.LINE_SPAN_S / dt))
        arrays = {
            "x_m": (x, "m"),
            "y_m": (np.array([sc.LINE_Y_M]), "m"),
            "z_m": (np.array([sc.HEAD.plane_z_m]), "m"),
            **timing(dt, sc.LINE_T0_S),
        }
        groups[f"line-{level:.0f}"] = (counts, arrays, sc.HEAD.volts_per_count, "x t")
    write(folder / "lines.h5", groups)


def field(folder, wave):
    """Plane and axial line at one low level."""
    s = sc.HEAD
    driven = wave.driven(sc.FIELD_LEVEL / sc.REFERENCE_LEVEL)
    dt, samples = sc.FIELD_DT_S, round(sc.FIELD_SPAN_S / sc.FIELD_DT_S)
    axis = s.plane_axis_m()
    y, x = np.meshgrid(axis, axis, indexing="ij")
    points = np.column_stack([x.ravel(), y.ravel(), np.full(x.size, s.plane_z_m)])
    counts = Recorder(driven, 30).record(points, sc.PLANE_T0_S, dt, samples)
    place = {"x_m": (axis, "m"), "y_m": (axis, "m"), "z_m": (np.array([s.plane_z_m]), "m")}
    plane = counts.reshape(len(axis), len(axis), -1)
    groups = {
        "plane": (plane, place | timing(dt, sc.PLANE_T0_S), s.volts_per_count, "y x t"),
    }
    z = sc.AXIAL_Z_M
    points = np.column_stack([np.full(len(z), POINT_M[0]), np.full(len(z), POINT_M[1]), z])
    arrival = s.emission_s + z / s.sound_speed_m_per_s
    t0 = np.round((arrival - sc.AXIAL_LEAD_S) / dt) * dt
    counts = Recorder(driven, 31).record(points, t0, dt, samples)
    place = {
        "x_m": (np.array([POINT_M[0]]), "m"),
        "y_m": (np.array([POINT_M[1]]), "m"),
        "z_m": (z, "m"),
    }
    groups["axial"] = (counts, place | timing(dt, t0), s.volts_per_count, "z t")
    write(folder / "field.h5", groups)


def checks(folder):
    """The small source of check_source.py, by this sensor before and after."""
    random = np.random.default_rng([sc.SEED, 40])
    samples, dt = check_source.SAMPLES, check_source.DT_S
    p = check_source.source_pa(check_source.T0_S + dt * np.arange(samples))
    step = sc.CHECK_FULL_SCALE_V / 2 ** (sc.HEAD.bits - 1)
    noise = sc.HEAD.noise_counts * sc.HEAD.volts_per_count / step
    groups = {}
    for name, change in (("before", 0.0), ("after", sc.CHANGE)):
        response = response_of("sensitive", change)(np.fft.rfftfreq(samples, dt))
        volts = np.fft.irfft(np.fft.rfft(p) * response, samples)
        scatter = 1.0 + sc.CHECK_SCATTER * random.standard_normal((sc.CHECK_SHOTS, 1))
        counts = digitised(scatter * volts, step, noise, sc.HEAD.bits, random)
        groups[name] = (counts, timing(dt, check_source.T0_S), step, "repeat t")
    write(folder / "check-source.h5", groups)


def make(folder, wave):
    """All scan files; gives the signs of bubbles."""
    folder.mkdir(parents=True, exist_ok=True)
    drawn = sweeps(folder, wave)
    lines(folder, wave)
    field(folder, wave)
    checks(folder)
    return drawn

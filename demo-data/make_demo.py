"""Makes all demo data: python make_demo.py [folder].

Simulated scans of an invented treatment head, with sensor, noise and offsets, beside the
truth of the field without them.  The same versions (requirements.txt) give the same bytes.
"""

import pathlib
import sys

import numpy as np

from simulation import check_source, files
from simulation.bowl import Bowl
from simulation.levels import record as levels_record
from simulation.levels import scans as levels_scans
from simulation.levels import scenario as levels_scenario
from simulation.levels import truth as levels_truth
from simulation.levels.steepening import SteepWave
from simulation.record import record
from simulation.recording import Recorder, feed_through_v
from simulation.scenario import EXAMPLE, FULL
from simulation.sensor import table_rows
from simulation.truth import Truth
from simulation.wave import Wave

PLANE, AXIAL, POINT = "focal-plane", "axial", "focus-point"


def check_bowl(bowl, scenario):
    """Compares the numerical integral with O'Neil's closed form on the axis."""
    z = np.linspace(33.0e-3, 57.0e-3, 241)
    k = 2.0 * np.pi * scenario.frequency_hz / scenario.sound_speed_m_per_s
    closed = bowl.gain_on_axis(z, k)
    numerical = k * np.abs(bowl.rayleigh(np.zeros_like(z), z, np.array([k, 2.0 * k]))[:, 0])
    error = np.max(np.abs(numerical - closed)) / np.max(closed)
    off = np.array([5.9e-3]), np.array([44.4e-3])
    high = np.array([2.0 * k, 2.1 * k])
    coarse, dense = bowl.rayleigh(*off, high), bowl.rayleigh(*off, high, 60, 80)
    change = np.max(np.abs(coarse - dense)) / bowl.depth_m
    print(f"Rayleigh integral against O'Neil on the axis: {error:.1e} of the maximum")
    print(f"  in the corner of the plane at 2f, against denser nodes: {change:.1e}")
    if max(error, change) > 1e-9:
        raise SystemExit("the Rayleigh integral has not converged")


def plane(wave, folder):
    s = wave.scenario
    axis = s.plane_axis_m()
    n = len(axis)
    y, x = np.meshgrid(axis, axis, indexing="ij")
    points = np.column_stack([x.ravel(), y.ravel(), np.full(x.size, s.plane_z_m)])
    dead = {row * n + column for row, column in s.dead_points}
    counts = Recorder(wave, 1).record(points, s.plane_t0_s, s.plane_dt_s, s.plane_samples, dead)
    files.write_plane(
        folder / "focal-plane.h5",
        counts.reshape(n, n, -1),
        axis,
        axis,
        s.plane_z_m,
        s.plane_dt_s,
        s.plane_t0_s,
        s.volts_per_count,
        (np.arange(n * n) / s.points_per_s).reshape(n, n),
    )
    return np.max(np.abs(counts))


def axial(wave, folder):
    s = wave.scenario
    z = s.axial_axis_m()
    points = np.column_stack([np.full(len(z), s.focus_x_m), np.full(len(z), s.focus_y_m), z])
    arrival = s.emission_s + z / s.sound_speed_m_per_s
    t0 = np.round((arrival - s.axial_lead_s) / s.axial_dt_s) * s.axial_dt_s
    counts = Recorder(wave, 2).record(points, t0, s.axial_dt_s, s.axial_samples)
    files.write_axial(
        folder / "axial-line.csv",
        counts,
        s.focus_x_m,
        s.focus_y_m,
        z,
        s.axial_dt_s,
        t0,
        s.volts_per_count,
    )


def point(wave, folder):
    s = wave.scenario
    where = np.array([[s.focus_x_m, s.focus_y_m, s.plane_z_m]])
    t = s.focus_t0_s + s.focus_dt_s * np.arange(s.focus_samples)
    counts = Recorder(wave, 3).record(
        where,
        s.focus_t0_s,
        s.focus_dt_s,
        s.focus_samples,
        added_v=feed_through_v(t, s.frequency_hz),
    )
    files.write_point(
        folder / "focus-point.csv",
        counts[0] * s.volts_per_count,
        *where[0],
        s.focus_dt_s,
        s.focus_t0_s,
    )


def ranges(folder, base):
    """The gain ranges by check source, in three files."""
    folder.mkdir(parents=True, exist_ok=True)
    scans = check_source.scans()
    starts = {"check-source.h5": ("reference", "source"), "noise.h5": "noise", "focus.h5": "focus"}
    for name, start in starts.items():
        files.write_groups(
            folder / name, {key: value for key, value in scans.items() if key.startswith(start)}
        )
    files.write_json(folder / "record.json", check_source.record(base))
    files.write_json(folder / "truth.json", check_source.truth())


def levels(folder):
    """Ten drive levels, monitors, and the sensor before and after."""
    head = levels_scenario.HEAD
    bowl = Bowl(head.curvature_m, head.aperture_m)
    wave = SteepWave(bowl, head, levels_scenario.RISE_S, levels_scenario.S_MAX)
    drawn = levels_scans.make(folder, wave)
    power = levels_truth.power_w(wave)
    files.write_sensitivity(folder / "sensitivity.csv", table_rows())
    files.write_json(folder / "record.json", levels_record.record(bowl.area_m2, power))
    files.write_json(folder / "truth.json", levels_truth.truth(wave, drawn))


def truth(wave):
    s = wave.scenario
    found = Truth(wave)
    found.plane(PLANE)
    found.axial(AXIAL, s.focus_x_m, s.focus_y_m)
    if s.has_focus_point:
        found.point(POINT, np.array([s.focus_x_m, s.focus_y_m, s.plane_z_m]))
    return {
        "schema": "focalsheet-demo-truth/1",
        "title": s.title,
        "note": "Pressure in water without sensor, noise or offsets, on fine grids; SI units. "
        "The burst lasts cycles/f between its half-amplitude points (a rectangle convolved "
        "with a Gaussian), so that t_on = cycles/f is its nominal on-time.",
        "water": {
            "temperature_c": s.temperature_c,
            "sound_speed_m_per_s": s.sound_speed_m_per_s,
            "density_kg_per_m3": s.density_kg_per_m3,
        },
        "simulation": {
            "frequency_hz": s.frequency_hz,
            "cycles": s.cycles,
            "t_on_s": s.burst_s,
            "ramp_sigma_s": s.ramp_sigma_s,
            "emission_half_amplitude_s": s.emission_s,
            "repetition_hz": s.repetition_hz,
            "sigma_ref": s.sigma_ref,
            "alpha_rad": s.alpha_rad,
            "focal_amplitude_linear_pa": s.focal_amplitude_pa,
            "source_power_linear_w": wave.rho_c_u0_pa**2 / (2.0 * s.rho_c) * wave.bowl.area_m2,
            "noise_rms_counts": s.noise_counts,
            "volts_per_count": s.volts_per_count,
            "dead_points_row_column": [list(p) for p in s.dead_points],
        },
        "quantities": found.rows,
    }


def main():
    top = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else pathlib.Path(__file__).parent)
    for scenario in (FULL, EXAMPLE):
        folder = top / scenario.folder
        folder.mkdir(parents=True, exist_ok=True)
        bowl = Bowl(scenario.curvature_m, scenario.aperture_m)
        check_bowl(bowl, scenario)
        wave = Wave(bowl, scenario)
        largest = plane(wave, folder)
        print(f"{scenario.title}: largest count in the plane {largest}")
        axial(wave, folder)
        if scenario.has_focus_point:
            point(wave, folder)
        files.write_sensitivity(folder / "sensitivity.csv", table_rows())
        files.write_json(folder / "record.json", record(scenario, bowl.area_m2))
        files.write_json(folder / "truth.json", truth(wave))
        if scenario is FULL:
            ranges(top / "ranges", record(scenario, bowl.area_m2))
    levels(top / levels_scenario.FOLDER)


if __name__ == "__main__":
    main()

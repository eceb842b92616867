"""A plane of the demo's head (demo-data/simulation) as another sensor and other grids hold it, beside
the noiseless field without a sensor.

The sensor has an echo inside, which ripples its response, and averages over a disc; the digitiser adds
noise, offsets and counts; the beam is tilted by 1.1° and 0.6° (1.3° in all); three points are dead. The
window stays that of the demo's plane whatever the step, so that the demo's truth.json holds for all; a
shift moves the grid under the beam.
"""

import dataclasses
import json
import sys

import numpy as np

import planes
import program

sys.path.insert(0, str(program.ROOT / "demo-data"))

from simulation import files  # noqa: E402
from simulation.bowl import Bowl  # noqa: E402
from simulation.record import record  # noqa: E402
from simulation.recording import Recorder  # noqa: E402
from simulation.scenario import FULL  # noqa: E402
from simulation.sensor import response_v_per_pa, table_rows  # noqa: E402
from simulation.truth import Truth  # noqa: E402
from simulation.wave import Wave  # noqa: E402

SCAN = planes.SCAN
SCENARIO = dataclasses.replace(FULL, full_scale_v=1.0, bits=13)
SENSOR_RADIUS_M = 0.1e-3
# An echo: relative amplitude and delay. Below 1 the response stays of minimum phase.
ECHO, ECHO_S = 0.12, 0.3e-6
TABLE_HZ = np.arange(1, 401) * 0.1e6
WAVE = Wave(Bowl(SCENARIO.curvature_m, SCENARIO.aperture_m), SCENARIO)
WINDOW_M = SCENARIO.plane_points * SCENARIO.plane_step_m

# Quantity: limit on the bias as the design states it, relative.
LIMITS = {
    "pc": 0.005,
    "pr": 0.005,
    "width_x_6": 0.005,
    "width_y_6": 0.005,
    "area_6": 0.01,
    "power_on_angular": 0.01,
    "h2": 0.02,
    "h3": 0.02,
}


def rippled_v_per_pa(frequency_hz):
    f = np.asarray(frequency_hz, float)
    return response_v_per_pa(f) * (1.0 + ECHO * np.exp(-2j * np.pi * f * ECHO_S))


def truth(shift_m=(0.0, 0.0)):
    """Quantities by id of the noiseless pressure on fine grids, as the generator of the demo defines and
    computes them; the power through the shifted window."""
    rows = json.loads((program.DEMO / "truth.json").read_text("utf-8"))["quantities"]
    found = {row["quantity"]: row["value"] for row in rows if row["scan"] == SCAN}
    if any(shift_m):
        shifted = Truth(WAVE)
        shifted.power(SCAN, shift_m=shift_m)
        found |= {row["quantity"]: row["value"] for row in shifted.rows}
    return {name: found[name] for name in LIMITS}


class Held:
    """The plane without noise on a grid with about so many points across the −6 dB width."""

    def __init__(self, across, shift_m=(0.0, 0.0), radius_m=SENSOR_RADIUS_M):
        width_m = truth()["width_x_6"]
        self.points = n = round(WINDOW_M / width_m * across)
        self.step_m = WINDOW_M / n
        self.across = width_m / self.step_m
        self.radius_m = radius_m
        axis = (np.arange(n) - 0.5 * (n - 1)) * self.step_m
        self.x_m, self.y_m = axis + shift_m[0], axis + shift_m[1]
        y, x = np.meshgrid(self.y_m, self.x_m, indexing="ij")
        z = np.full(x.size, SCENARIO.plane_z_m)
        # The demo's dead points, at the same places.
        share = n / FULL.plane_points
        dead = {int(row * share) * n + int(column * share) for row, column in FULL.dead_points}
        self.recorder = Recorder(WAVE, 1, rippled_v_per_pa, radius_m)
        s = SCENARIO
        self.volts = self.recorder.held(
            np.column_stack([x.ravel(), y.ravel(), z]), s.plane_t0_s, s.plane_dt_s, s.plane_samples, dead
        )

    def sheet(self, folder, snr_db, seed):
        """The sheet of one measurement: the largest volts stand by so much above the rms noise of the
        record as stored, rounding included."""
        s = SCENARIO
        noise = np.abs(self.volts).max() / s.volts_per_count * 10.0 ** (-snr_db / 20.0)
        rounding = 1.0 / 12.0
        assert noise**2 > rounding, "the digitiser alone is noisier"
        self.recorder.scenario = dataclasses.replace(s, noise_counts=np.sqrt(noise**2 - rounding))
        self.recorder.random = np.random.default_rng(seed)
        counts = self.recorder.digitised(self.volts).reshape(self.points, self.points, -1)
        plane = planes.Plane(
            counts, self.x_m, self.y_m, s.plane_z_m, s.plane_dt_s, s.plane_t0_s, s.volts_per_count
        )
        plane.write(folder / "plane.h5")
        files.write_sensitivity(folder / "sensitivity.csv", table_rows(rippled_v_per_pa, TABLE_HZ))
        (folder / "record.json").write_text(json.dumps(self._record()), "utf-8")
        return program.report(folder / "record.json", folder / "sheet")

    def _record(self):
        stated = record(SCENARIO, WAVE.bowl.area_m2)
        del stated["stated"]
        stated["scans"] = [scan | {"file": "plane.h5"} for scan in stated["scans"] if scan["id"] == SCAN]
        stated["sensor"]["effective_radius_m"] = self.radius_m or None
        return stated


def errors(sheet, expected):
    """Relative errors by quantity; nan where the sheet has no value."""
    values = {name: sheet.quantity(SCAN, name)["value"] for name in expected}
    return {name: np.nan if v is None else v / expected[name] - 1.0 for name, v in values.items()}

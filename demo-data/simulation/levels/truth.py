"""The noiseless truth of the ten levels, of the pressure in water and without bubbles."""

import numpy as np
from scipy.interpolate import RectBivariateSpline

from ..truth import LEVEL_6, Truth, _grid, _line, _maximum, _width, peaks
from . import scenario as sc
from .recording import returned
from .scans import POINT_M
from .steepening import HARMONICS, front_factor


def rounded(value):
    return float(f"{value:.9e}")


class FieldTruth(Truth):
    """As Truth, without power over the small window, with isal and lines across the focus."""

    def power(self, scan, parts=2, shift_m=(0.0, 0.0)):
        pass

    def isal(self, scan):
        """Mean of i_on inside the half-pressure contour, on a raster of 0.01 mm."""
        s = self.scenario
        offsets = np.arange(-26, 27) * 0.05e-3
        x, y = s.beam_x_m + offsets, s.beam_y_m + offsets
        steady = self.wave.steady(self.wave.envelopes(_grid(x, y, s.plane_z_m)))
        orders = range(1, self.wave.harmonics + 1)
        i_on = sum(np.abs(self.wave.harmonic(n, steady)) ** 2 for n in orders) / (2.0 * s.rho_c)
        fine = np.linspace(offsets[0], offsets[-1], 261)
        spline = RectBivariateSpline(y, x, np.sqrt(i_on).reshape(len(y), len(x)), kx=5, ky=5)
        root = spline(s.beam_y_m + fine, s.beam_x_m + fine)
        inside = root >= 0.5 * root.max()
        value = np.mean(root[inside] ** 2)
        where = "mean of i_on where the root of i_on is at least half its maximum, in the plane"
        self.add(scan, "isal", value, "W/m2", where)

    def line(self, scan, x_m, y_m, z_m):
        """Largest values and -6 dB widths along a scanned line."""
        x = np.arange(x_m[0], x_m[-1] + 1.0e-6, 0.02e-3)
        found = peaks(self.wave, _line((0.0, y_m, z_m), 0, x))
        where = "along the scanned line, between the points"
        for name, suffix in (("ppsi", ""), ("pc", "_pc"), ("pr", "_pr")):
            _, value = _maximum(x, found[name])
            unit = "Pa2 s" if name == "ppsi" else "Pa"
            self.add(scan, name, value, unit, f"maximum of {name} {where}")
            width = _width(x, found[name], value, LEVEL_6[name])
            self.add(scan, f"width_x_6{suffix}", width, "m", f"-6 dB of {name} {where}")


def at_level(wave, level):
    """Quantities of the wave at the point of the sweep."""
    driven = wave.driven(level / sc.REFERENCE_LEVEL)
    where = np.array([POINT_M])
    found = {name: rounded(value[0]) for name, value in peaks(driven, where).items()}
    linear = driven.steady(driven.envelopes(where))
    p = [abs(driven.harmonic(n, linear)[0]) for n in range(1, HARMONICS + 1)]
    return {
        "level": level,
        "pc_pa": found["pc"],
        "pr_pa": found["pr"],
        "ppsi_pa2_s": found["ppsi"],
        "p1_pa": rounded(p[0]),
        "harmonics": [rounded(p[n] / p[0]) for n in range(1, 10)],
        "thd": rounded(np.sqrt(sum(a * a for a in p[1:10])) / p[0]),
        "i_on_w_per_m2": rounded(sum(a * a for a in p) / (2.0 * wave.scenario.rho_c)),
        "p_linear_pa": rounded(abs(linear[0])),
        "s": rounded(abs(linear[0]) * sc.HEAD.sigma_ref / sc.HEAD.focal_amplitude_pa),
    }


def shot_rows(signs):
    """One entry a shot: null, or its signs as drawn."""
    return [
        None
        if s is None
        else {
            "onset_s": rounded(s.onset_s),
            "monitor_noise_db": rounded(s.monitor_noise_db),
            "monitor_line_db": rounded(s.monitor_line_db),
            "sensor_noise_db": rounded(s.sensor_noise_db),
            "pr_factor": s.pr_factor,
        }
        for s in signs
    ]


def levels(wave, drawn):
    """One row a driven level, in the order of time."""
    rows = []
    for name, driven in sc.SWEEPS.items():
        for i, level in enumerate(driven):
            late = name == "wide" and returned(i)
            rows.append(
                {
                    "scan": f"sweep-{name}-level-{i + 1}",
                    "range": name,
                    **at_level(wave, level),
                    "sensor_change": sc.CHANGE if late else 0.0,
                    "marked": [s is not None for s in drawn[name][i]],
                    "signs": shot_rows(drawn[name][i]),
                }
            )
    return rows


def power_w(wave):
    """Power of the source during the burst, by level: rho c u0^2/2 over its area."""
    reference = wave.rho_c_u0_pa**2 / (2.0 * wave.scenario.rho_c) * wave.bowl.area_m2
    return {level: reference * (level / sc.REFERENCE_LEVEL) ** 2 for level in sc.POWER_LEVELS}


def truth(wave, drawn):
    s = wave.scenario
    low = FieldTruth(wave.driven(sc.FIELD_LEVEL / sc.REFERENCE_LEVEL))
    low.plane("plane")
    low.isal("plane")
    low.axial("axial", POINT_M[0], POINT_M[1], np.arange(37.0e-3, 52.05e-3, 0.1e-3))
    quantities = low.rows
    for level in sc.LINE_SCANS:
        line = FieldTruth(wave.driven(level / sc.REFERENCE_LEVEL))
        line.line(f"line-{level:.0f}", sc.LINE_X_M, sc.LINE_Y_M, s.plane_z_m)
        quantities += line.rows
    linear = abs(wave.steady(wave.envelopes(np.array([POINT_M])))[0])
    clean = [v for levels in sc.SWEEPS.values() for v in levels if v not in sc.BUBBLES]
    return {
        "schema": "focalsheet-demo-truth/1",
        "title": s.title,
        "note": "Pressure in water without sensor, noise, offsets, scatter of the drive or bubbles; "
        "SI units, levels in Vpp. `signs` are those drawn for each shot: onset_s after the trigger "
        "at the sensor; noise in decibels over the noise without drive from the onset to the end of "
        "the burst; the monitor's line at f/2 in decibels over that noise in a band of 1/burst, the "
        "lines at 3f/2 and 5f/2 re it as in `monitor`; pr_factor multiplies the pressure below zero.",
        "water": {
            "temperature_c": s.temperature_c,
            "sound_speed_m_per_s": s.sound_speed_m_per_s,
            "density_kg_per_m3": s.density_kg_per_m3,
        },
        "simulation": {
            "frequency_hz": s.frequency_hz,
            "cycles": s.cycles,
            "t_on_s": s.burst_s,
            "reference_level": sc.REFERENCE_LEVEL,
            "sigma_ref": s.sigma_ref,
            "alpha_rad": s.alpha_rad,
            "rise_s": sc.RISE_S,
            "front_factors": [
                rounded(front_factor(n, sc.RISE_S, s.frequency_hz)) for n in range(1, HARMONICS + 1)
            ],
            "focal_amplitude_linear_pa": s.focal_amplitude_pa,
            "volts_per_count": s.volts_per_count,
            "noise_rms_counts": s.noise_counts,
            "shot_scatter": sc.SHOT_SCATTER,
            "shot_jitter_s": sc.SHOT_JITTER_S,
        },
        "monitor": {
            "noise_rms_counts": sc.MONITOR_NOISE_COUNTS,
            "volts_per_count": sc.MONITOR_FULL_SCALE_V / 2 ** (s.bits - 1),
            "lines_re_f_half_db": {f"{order:g}": db for order, db in sc.LINES.items()},
            "delay_s": sc.MONITOR_DELAY_S,
        },
        "sensor": {"sensitivity_change": sc.CHANGE},
        "linear_pa_per_level": rounded(linear / sc.REFERENCE_LEVEL),
        "level_no_bubble_signature_max": max(v for v in clean if v < min(sc.BUBBLES)),
        "power_w": [{"level": k, "value": rounded(v)} for k, v in power_w(wave).items()],
        "levels": levels(wave, drawn),
        "quantities": quantities,
    }

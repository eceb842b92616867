"""The record of the measurement: what a person would state about it."""


def _stated(quantity, scan, value, unit, tolerance, **more):
    return {
        "quantity": quantity,
        "scan": scan,
        "medium": "water",
        **more,
        "value": value,
        "unit": unit,
        "tolerance": {"lower": -tolerance, "upper": tolerance, "relative": True},
        "origin": "maker's data sheet VT-20, issue C, at 90 V",
    }


def _clock(minutes):
    """Time of day, minutes after the plane scan began (09:12)."""
    total = 9 * 60 + 12 + minutes
    return f"2026-05-04T{total // 60:02d}:{total % 60:02d}:00"


def record(scenario, source_area_m2):
    """The record.json of a scenario, as a dictionary."""
    s = scenario

    def scan(name, role, file, started, ended, **more):
        acquisition = {"averages": 1, "motion": "stop", **more}
        acquisition |= {"started": _clock(started), "ended": _clock(ended)}
        return {"id": name, "role": role, "file": file, "acquisition": acquisition}

    pace = {"points_per_s": s.points_per_s}
    end = -(-int(s.plane_points**2 / s.points_per_s) // 60)
    scans = [
        scan("focal-plane", "plane", "focal-plane.h5", 0, end, **pace),
        scan("axial", "axial", "axial-line.csv", end + 4, end + 5, **pace),
    ]
    if s.has_focus_point:
        scans.append(scan("focus-point", "point", "focus-point.csv", end + 8, end + 9))
    return {
        "schema": "focalsheet-record/1",
        "title": s.title,
        "date": "2026-05-04",
        "site": "Quillmere Animal Clinic, water tank in treatment room 2",
        "measured_by": "M. K., measurement physicist",
        "customer": "Quillmere Animal Clinic, physiotherapy",
        "issued": "2026-05-06",
        "device": {
            "description": "veterinary treatment head VT-20",
            "serial": "VT20-0138",
            "software_version": "2.3",
            "operating_hours": 212,
            "nominal_frequency_hz": s.frequency_hz,
            "aperture_radius_m": s.aperture_m,
            "radius_of_curvature_m": s.curvature_m,
            "source_area_m2": float(f"{source_area_m2:.4e}"),
            "head_temperature_c": 22.0,
        },
        "frame": {
            "z_zero": "apex",
            "z_offset_m": 0.0,
            "method": "time-of-flight",
            "trigger_delay_s": s.emission_s,
            "x_mark": "cable outlet of the head points to +x",
            "handedness": "right",
        },
        "water": {
            "temperature_c": s.temperature_c,
            "temperature_start_c": 21.3,
            "temperature_end_c": 21.5,
            "u_temperature_c": 0.2,
            "treatment": "deionised, degassed overnight",
            "oxygen_mg_per_l": 2.6,
            "conductivity_s_per_m": 2.0e-4,
            "sensor_soak_min": 60,
        },
        "excitation": {
            "frequency_hz": s.frequency_hz,
            "cycles": s.cycles,
            "repetition_hz": s.repetition_hz,
            "mode": "burst",
            "level": 90.0,
            "level_unit": "Vpp",
            "level_kind": "amplitude",
            "level_point": "amplifier-output",
        },
        "exposure": None,
        "sensor": {
            "description": "optical fibre-tip sensor with detector amplifier",
            "serial": "FT-077",
            "calibration_temperature_c": 22.0,
            "effective_radius_m": 1.0e-5,
            "response": {
                "kind": "table",
                "file": "sensitivity.csv",
                "refers_to": "end-of-cable",
                "gain_db": 0.0,
                "uncertainty": {"value": 0.08, "kind": "expanded", "k": 2, "relative": True},
            },
            "full_scale_v": s.full_scale_v,
            "bits": s.bits,
            "linear_limit_pa": 2.0e7,
        },
        "analysis": {
            "lowpass": "auto",
            "method": "broadband",
            "window": {"kind": "auto"},
            "corrections": {"noise": True, "spatial_averaging": True, "drift": False},
        },
        "scans": scans,
        "stated": [
            _stated("pc", "focal-plane", 7.8e6, "Pa", 0.20),
            _stated("pr", "focal-plane", 4.8e6, "Pa", 0.20),
            _stated("i_on", "focal-plane", 1.3e7, "W/m2", 0.30, time_base="on"),
            _stated("width_x_6", "focal-plane", 1.5e-3, "m", 0.15),
            _stated("length_6", "axial", 11.0e-3, "m", 0.15),
            _stated("power_on_angular", "focal-plane", 20.0, "W", 0.20, time_base="on"),
        ],
        "decision": {"rule": "guarded-both-sides", "min_probability": 0.95, "coverage": 0.95},
        "equipment": [
            {
                "kind": "optical fibre-tip sensor",
                "serial": "FT-077",
                "certificate": "C-2025-0412",
                "calibrated": "2025-11-10",
                "due": "2026-11-10",
            },
            {
                "kind": "digitiser",
                "serial": "DG-3051",
                "certificate": "C-2025-0398",
                "calibrated": "2025-10-02",
                "due": "2026-10-02",
            },
            {
                "kind": "thermometer",
                "serial": "TH-19",
                "certificate": "C-2025-0421",
                "calibrated": "2025-11-14",
                "due": "2026-11-14",
            },
        ],
    }

"""The record of the ten levels: what a person would state about them."""

import copy

from ..record import record as yearly
from . import scenario as sc


def _clock(minutes):
    """Time of day, minutes after the first scan began (13:05)."""
    total = 13 * 60 + 5 + minutes
    return f"{sc.DAY}T{total // 60:02d}:{total % 60:02d}:00"


def _scan(name, role, file, group, start, end, **more):
    acquisition = {"averages": 1, "motion": "stop", "started": _clock(start), "ended": _clock(end)}
    place = {"group": f"/{group}"} if group else {}
    return {"id": name, "role": role, "file": file, **place, **more, "acquisition": acquisition}


def scans():
    """In the order in which they were recorded."""
    low = {"range": "sensitive", "level": sc.FIELD_LEVEL}
    depth = {"distance_m": sc.HEAD.plane_z_m}
    found = [
        _scan("check-before", "check-source", "check-source.h5", "before", 0, 3, range="sensitive"),
        _scan("plane", "plane", "field.h5", "plane", 14, 18, **low, **depth),
        _scan("axial", "axial", "field.h5", "axial", 20, 21, **low),
    ]
    start = 24
    for level, (name, _) in sc.LINE_SCANS.items():
        place = f"line-{level:.0f}"
        found.append(
            _scan(place, "line", "lines.h5", place, start, start + 1, range=name, level=level)
        )
        start += 3
    for name in sc.SWEEPS:
        sweep, monitor = f"sweep-{name}", f"monitor-{name}"
        found += [
            _scan(sweep, "sweep", f"{sweep}.h5", "", start, start + 6, range=name, **depth),
            _scan(monitor, "monitor", f"{monitor}.h5", "", start, start + 6, beside=sweep),
        ]
        start += 9
    start += 8
    end = start + 3
    place = ("check-after", "check-source", "check-source.h5", "after", start, end)
    found.append(_scan(*place, range="sensitive"))
    for scan in found:
        if scan["role"] in ("sweep", "monitor"):
            scan["acquisition"] |= {"shots_kept": sc.SHOTS, "trigger_jitter_s": sc.SHOT_JITTER_S}
    return found


def record(source_area_m2, power_w):
    """The record.json, as a dictionary; power_w: true power during the burst by level."""
    base = yearly(sc.HEAD, source_area_m2)
    base |= {"date": sc.DAY, "issued": sc.ISSUED}
    base["water"] |= {"oxygen_mg_per_l": 3.1, "sensor_soak_min": 75}
    base["excitation"] |= {"level": sc.FIELD_LEVEL}
    base["exposure"] = {
        "mode": "burst",
        "burst_s": sc.HEAD.burst_s,
        "repetition_hz": sc.HEAD.repetition_hz,
        "train_s": 2.0,
        "source_of_values": "clinic's protocol 7, pulses for finding the focus",
    }
    sensor = base["sensor"]
    table = sensor.pop("response")
    full_scale = sensor.pop("full_scale_v")
    sensor.pop("linear_limit_pa")
    sensor["kind"] = "fibre"
    sensor["ranges"] = []
    for name, (gain_db, limit) in sc.RANGES.items():
        response = copy.deepcopy(table) | {"gain_db": gain_db}
        sensor["ranges"].append(
            {
                "id": name,
                "setting": f"attenuator {-gain_db:g} dB",
                "full_scale_v": full_scale,
                "linear_limit_pa": limit,
                "response": response,
            }
        )
    sensor["checked"] = {
        "before": "check-before",
        "after": "check-after",
        "feature": "fundamental",
        "uncertainty": {"value": 0.01, "kind": "half-width", "relative": True},
    }
    base["analysis"] |= {"bubbles": {"threshold_db": 6.0}, "safety_values": True}
    base["scans"] = scans()
    base["readings"] = [
        {
            "quantity": "power_rfb",
            "value": float(f"{power_w[level] * factor:.3g}"),
            "unit": "W",
            "uncertainty": {"value": sc.POWER_U, "kind": "expanded", "k": 2, "relative": True},
            "level": level,
            "method": "radiation force on a conical absorber, power during the burst",
        }
        for level, factor in sc.POWER_LEVELS.items()
    ]
    del base["stated"]
    # Readings come before what is the same in all records.
    return base | {key: base.pop(key) for key in ("decision", "equipment")}

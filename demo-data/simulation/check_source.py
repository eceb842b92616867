"""The same sensor read at three gain ranges, calibrated by a small check source.

A 3 MHz source of known stability is measured by a calibrated needle hydrophone, by the fibre-tip
sensor at each range, and by the needle again.  The needle averages over its face, the source drifts
a little, every shot scatters; noise alone is recorded at each range; three waveforms at a focus
follow at three drive levels.
"""

import numpy as np

SEED = 20260505
DT_S = 1.0e-8
SAMPLES = 900
T0_S = 2.0e-6
SHOTS = 12
NOISE_SHOTS = 16

SOURCE_HZ = 3.0e6
SOURCE_CYCLES = 6
SOURCE_PA = 180.0e3
SOURCE_ARRIVAL_S = 5.0e-6
SOURCE_WIDTH_6_M = 2.4e-3
SOURCE_DRIFT = 0.003
SHOT_SCATTER = 0.004

NEEDLE_V_PER_PA = 45.0e-9
NEEDLE_RADIUS_M = 0.25e-3
NEEDLE_NOISE_V = 60.0e-6

# id: V/Pa, setting of the instrument, full scale in V, rms noise in V
RANGES = {
    "weak": (12.0e-9, "interrogation power 1, detector 0 dB", 0.5, 110.0e-6),
    "middle": (48.0e-9, "interrogation power 2, detector 6 dB", 0.5, 130.0e-6),
    "strong": (190.0e-9, "interrogation power 4, detector 12 dB", 0.5, 210.0e-6),
}
BITS = 12

HEAD_HZ = 1.5e6
HEAD_CYCLES = 20
# scan, range, drive, fundamental at the focus in Pa, local distortion s of Fubini's amplitudes
LEVELS = (
    ("focus-30", "strong", 30.0, 1.6e6, 0.16),
    ("focus-60", "middle", 60.0, 3.2e6, 0.32),
    ("focus-90", "weak", 90.0, 4.8e6, 0.48),
)
HEAD_DT_S = 1.0e-8
HEAD_SAMPLES = 3000
HEAD_T0_S = 25.0e-6
HEAD_ARRIVAL_S = 30.0e-6


def burst(t_s, frequency_hz, cycles, ramp_s):
    """Envelope: a rectangle of whole cycles convolved with a Gaussian, about zero start."""
    length = cycles / frequency_hz
    edge = np.vectorize(lambda x: 0.5 * (1.0 + _erf(x / (ramp_s * np.sqrt(2.0)))))
    return edge(t_s) - edge(t_s - length)


def _erf(x):
    from math import erf

    return erf(x)


def source_pa(t_s):
    """Pressure of the check source on its axis."""
    t = t_s - SOURCE_ARRIVAL_S
    return SOURCE_PA * burst(t, SOURCE_HZ, SOURCE_CYCLES, 0.25e-6) * np.sin(2 * np.pi * SOURCE_HZ * t)


def seen_by_disc(radius_m, rings=2000):
    """Mean over a disc of the source's Gaussian field, re its axis: by rings, not by a formula."""
    w = SOURCE_WIDTH_6_M / (2.0 * np.sqrt(0.3 * np.log(10.0)))
    r = (np.arange(rings) + 0.5) / rings * radius_m
    return np.sum(np.exp(-((r / w) ** 2)) * 2.0 * r) / np.sum(2.0 * r)


def head_pa(t_s, amplitude_pa, s):
    """A burst at the focus with Fubini's harmonics 1 to 8 (Alta Frequenza 4 (1935) 530)."""
    from scipy.special import jv

    t = t_s - HEAD_ARRIVAL_S
    envelope = burst(t, HEAD_HZ, HEAD_CYCLES, 0.4e-6)
    phase = 2.0 * np.pi * HEAD_HZ * t
    total = np.zeros_like(t_s)
    for n in range(1, 9):
        b = 2.0 * jv(n, n * s) / (n * s)
        total += b * envelope**n * np.cos(n * phase + (n - 1) * np.pi / 4.0)
    return amplitude_pa * total


def _digitised(volts, noise_v, full_scale_v, random):
    step = 2.0 * full_scale_v / 2**BITS
    top = 2 ** (BITS - 1)
    counts = np.rint((volts + noise_v * random.standard_normal(volts.shape)) / step)
    return np.clip(counts, -top, top - 1).astype(np.int16), step


def scans():
    """name: (counts (n, nt), volts per count, dt_s, t0_s)."""
    random = np.random.default_rng(SEED)
    t = T0_S + DT_S * np.arange(SAMPLES)
    p = source_pa(t)
    out = {}

    def shots(volts):
        scatter = 1.0 + SHOT_SCATTER * random.standard_normal((SHOTS, 1))
        return scatter * volts

    def needle(name, change):
        volts = shots(NEEDLE_V_PER_PA * seen_by_disc(NEEDLE_RADIUS_M) * p * (1.0 + change))
        counts, step = _digitised(volts, NEEDLE_NOISE_V, 0.02, random)
        out[name] = (counts, step, DT_S, T0_S)

    needle("reference-before", 0.0)
    for i, (name, (v_per_pa, _, full, noise)) in enumerate(RANGES.items()):
        # The device is measured between the two: the drift is half done on the average.
        change = SOURCE_DRIFT * (i + 1) / (len(RANGES) + 1)
        # The digitiser is turned to a finer setting for the weak source.
        counts, step = _digitised(shots(v_per_pa * p * (1.0 + change)), noise, 0.1 * full, random)
        out[f"source-{name}"] = (counts, step, DT_S, T0_S)
    needle("reference-after", SOURCE_DRIFT)
    for name, (_, _, full, noise) in RANGES.items():
        counts, step = _digitised(np.zeros((NOISE_SHOTS, SAMPLES)), noise, full, random)
        out[f"noise-{name}"] = (counts, step, DT_S, T0_S)
    th = HEAD_T0_S + HEAD_DT_S * np.arange(HEAD_SAMPLES)
    for name, chosen, _, amplitude, s in LEVELS:
        v_per_pa, _, full, noise = RANGES[chosen]
        volts = v_per_pa * head_pa(th, amplitude, s)[None, :]
        counts, step = _digitised(volts, noise, full, random)
        out[name] = (counts, step, HEAD_DT_S, HEAD_T0_S)
    return out


def record(base):
    """The record: conditions of the yearly check, sensor with ranges."""
    relative = {"kind": "half-width", "relative": True}
    return {
        **{key: base[key] for key in ("schema",)},
        "title": "Gain ranges of the fibre-tip sensor, by check source",
        "date": "2026-05-05",
        **{key: base[key] for key in ("site", "measured_by", "customer", "issued", "device", "frame", "water")},
        "excitation": {**base["excitation"], "cycles": HEAD_CYCLES, "level": None},
        "sensor": {
            "description": "optical fibre-tip sensor with detector amplifier",
            "serial": "FT-077",
            "effective_radius_m": 1.0e-5,
            "bits": BITS,
            "ranges": [
                {
                    "id": name,
                    "setting": setting,
                    "full_scale_v": full,
                    "linear_limit_pa": limit,
                }
                for (name, (_, setting, full, _)), limit in zip(
                    RANGES.items(), (30.0e6, 9.0e6, 2.5e6)
                )
            ],
            "response": {
                "kind": "check-source",
                "reference_scan": "reference-before",
                "reference_scan_after": "reference-after",
                "reference_response": {
                    "kind": "flat",
                    "mv_per_mpa": 45.0,
                    "uncertainty": {"value": 0.07, "kind": "expanded", "k": 2, "relative": True},
                },
                "device_scans": {name: f"source-{name}" for name in RANGES},
                "feature": "fundamental",
                "frequency_hz": SOURCE_HZ,
                "reference_radius_m": NEEDLE_RADIUS_M,
                "reference_limit_pa": 1.0e7,
                "field_width_m": SOURCE_WIDTH_6_M,
                "flatness": {"value": 0.04, **relative},
                "linearity": {"value": 0.02, **relative},
                "temperature": {"value": 0.005, **relative},
            },
        },
        "scans": [
            {"id": name, "role": "check-source", "file": "check-source.h5", "group": f"/{name}"}
            for name in ("reference-before", "reference-after")
        ]
        + [
            {
                "id": f"source-{name}",
                "role": "check-source",
                "file": "check-source.h5",
                "group": f"/source-{name}",
                "range": name,
            }
            for name in RANGES
        ]
        + [
            {
                "id": f"noise-{name}",
                "role": "noise",
                "file": "noise.h5",
                "group": f"/noise-{name}",
                "range": name,
            }
            for name in RANGES
        ]
        + [
            {
                "id": name,
                "role": "point",
                "file": "focus.h5",
                "group": f"/{name}",
                "range": chosen,
                "level": level,
                "distance_m": 0.0444,
            }
            for name, chosen, level, _, _ in LEVELS
        ],
    }


def truth():
    """What the scans were made from."""
    t = HEAD_T0_S + 1.0e-10 * np.arange(round(HEAD_SAMPLES * HEAD_DT_S / 1.0e-10))
    rows = []
    for name, _, _, amplitude, s in LEVELS:
        p = head_pa(t, amplitude, s)
        rows += [
            {"quantity": "pc", "scan": name, "value": float(p.max()), "unit": "Pa"},
            {"quantity": "pr", "scan": name, "value": float(-p.min()), "unit": "Pa"},
        ]
    return {
        "schema": "focalsheet-demo-truth/1",
        "title": "Gain ranges of the fibre-tip sensor",
        "factors_v_per_pa": {name: RANGES[name][0] for name in RANGES},
        "noise_v": {name: RANGES[name][3] for name in RANGES},
        "noise_bandwidth_hz": 0.5 / DT_S,
        "source_drift": SOURCE_DRIFT,
        "quantities": rows,
    }

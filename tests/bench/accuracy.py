"""How near the sheet comes to the noiseless field of a simulated scan.

    python accuracy.py [--seeds N] [--quick]

First at the design's conditions: signal 60 dB above the noise at the peak, eight points across the −6 dB
width. Then how the errors grow as both fall. The scans and their truth: tests/reference/simulated.py. The
grid lies differently under the beam from one shift to the next; for each the noise is drawn anew. Ends with
status 1 when a bias stands above its limit. $FOCALSHEET names the built program.
"""

import argparse
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "reference"))

import simulated  # noqa: E402

SEED = 20260512
SHIFTS = 5
# Measurements for each step and level of noise in the second table, spread over the places of the grid.
RUNS = 10
# Half the step of the coarsest grid.
REACH_M = 0.25e-3
DESIGN_DB, DESIGN_ACROSS = 60.0, 8.0
SNRS_DB = (60.0, 50.0, 40.0, 30.0, 20.0)
# Points across −6 dB, with the number of places: where there are many points the place hardly counts.
ACROSS = {8.0: SHIFTS, 16.0: 2, 6.0: SHIFTS, 4.0: SHIFTS, 3.0: SHIFTS}


def shifts(count):
    rng = np.random.default_rng(SEED)
    return [tuple(pair) for pair in rng.uniform(-REACH_M, REACH_M, (count, 2))]


def measured(folder, held, expected, snr_db, seeds, number):
    """Relative errors, (seeds, quantities)."""
    rows = []
    for seed in range(seeds):
        sheet = held.sheet(folder, snr_db, [SEED, number, int(10 * snr_db), seed])
        rows.append(list(simulated.errors(sheet, expected).values()))
    return np.array(rows)


def percent(x, signed=True):
    return "–" if np.isnan(x) else f"{100 * x:{'+' if signed else ''}.2f}"


def at_the_design(errors):
    """`errors`: (shifts, seeds, quantities). Prints the table; how many limits are not met."""
    shifts_, seeds, _ = errors.shape
    bias = np.nanmean(errors, axis=(0, 1))
    by_shift = np.nanmean(errors, axis=1)
    worst = np.take_along_axis(by_shift, np.abs(by_shift).argmax(axis=0)[None], axis=0)[0]
    scatter = np.sqrt(np.nanmean(np.nanvar(errors, axis=1, ddof=1), axis=0))
    print(
        f"\nat {DESIGN_DB:g} dB and {DESIGN_ACROSS:g} points across −6 dB, {shifts_} places of the grid,"
        f" {seeds} seeds each; percent"
    )
    print(f"{'quantity':18} {'bias':>7} {'worst place':>12} {'scatter':>8} {'limit':>6}")
    missed = 0
    for i, (name, limit) in enumerate(simulated.LIMITS.items()):
        good = abs(bias[i]) <= limit and not np.isnan(errors[..., i]).any()
        missed += not good
        print(
            f"{name:18} {percent(bias[i]):>7} {percent(worst[i]):>12} {percent(scatter[i], False):>8}"
            f" {100 * limit:>6g}  {'holds' if good else 'MISSED'}"
        )
    return missed


def as_they_grow(errors, across):
    """`errors`: (points across, SNR, runs, quantities)."""
    print("\nbias ± scatter of a single measurement, percent; scatter over places of the grid and noise")
    print("(in brackets: sheets that gave no value)")
    order = np.argsort(across)[::-1]
    for i, name in enumerate(simulated.LIMITS):
        print(f"\n{name + ', dB':18}" + "".join(f"{f'{across[k]:.1f} points':>22}" for k in order))
        for j, snr in enumerate(SNRS_DB):
            cells = []
            for k in order:
                runs = errors[k][j][:, i]
                have = runs[~np.isnan(runs)]
                text = f"{percent(have.mean())} ± {percent(have.std(ddof=1), False)}" if len(have) > 1 else "–"
                none = len(runs) - len(have)
                cells.append(text + (f" ({none})" if none else ""))
            print(f"{snr:<18g}" + "".join(f"{cell:>22}" for cell in cells))


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seeds", type=int, default=8, help="for each of five places of the grid")
    parser.add_argument("--quick", action="store_true", help="the design's conditions alone")
    asked = parser.parse_args()
    started = time.time()
    sys.stdout.reconfigure(line_buffering=True)
    moved = shifts(SHIFTS)
    truths = [simulated.truth(shift) for shift in moved]
    s, mm = simulated.SCENARIO, 1e3
    print(
        f"head of the demo, {s.frequency_hz / 1e6:g} MHz, −6 dB width {truths[0]['width_x_6'] * mm:.3f} mm, window"
        f" {simulated.WINDOW_M * mm:g} mm,\nsensor of {simulated.SENSOR_RADIUS_M * mm:g} mm radius with a rippled"
        f" response, three dead points;\nnoise of the record as stored, white up to {0.5e-6 / s.plane_dt_s:g} MHz;"
        f" seed {SEED}"
    )
    grown, names, missed = [], [], 0
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        for across in (DESIGN_ACROSS,) if asked.quick else ACROSS:
            runs = [[] for _ in SNRS_DB]
            places = ACROSS[across]
            for number, (shift, expected) in enumerate(zip(moved[:places], truths)):
                held = simulated.Held(across, shift)
                for j, snr in enumerate(SNRS_DB):
                    design = across == DESIGN_ACROSS and snr == DESIGN_DB
                    if design or not asked.quick:
                        seeds = asked.seeds if design else RUNS // places
                        runs[j].append(measured(folder, held, expected, snr, seeds, number))
            if across == DESIGN_ACROSS:
                missed = at_the_design(np.stack(runs[SNRS_DB.index(DESIGN_DB)]))
            names.append(held.across)
            grown.append([np.concatenate(found) if found else None for found in runs])
    if not asked.quick:
        as_they_grow(grown, names)
    print(f"\n{time.time() - started:.0f} s")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())

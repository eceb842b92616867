"""Whether the stated 95 % intervals hold the truth, and how wide they are.

    python coverage.py [--long] [--seed N]

200 repeats of a simulated measurement, 2,000 with --long, each with its own errors of table, gain, drive,
stage, thermometer, clock and noise (tests/reference/repeats.py). Ends with status 1 when a share lies
outside 93 to 97 %, with 200 outside what chance allows. $FOCALSHEET names the built program.
"""

import argparse
import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "reference"))

import repeats  # noqa: E402

SEED = 20260513


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--long", action="store_true", help="2,000 repeats")
    parser.add_argument("--seed", type=int, default=SEED)
    asked = parser.parse_args()
    count = 2000 if asked.long else 200
    started = time.time()
    found = repeats.run(asked.seed, count)
    low, high = (0.93, 0.97) if asked.long else repeats.chance(count)
    print(f"{count} repeats, seed {asked.seed}; percent of the truth; asked for: {100 * low:.1f} to {100 * high:.1f} %")
    print(
        f"{'quantity':18} {'held':>7} {'bias':>7} {'scatter':>8} {'1.96 scatter':>13} {'mean half-width':>16}"
        f" {'ratio':>6}"
    )
    missed = 0
    for c in repeats.coverages(found, repeats.truth()):
        good = low <= c.share <= high and not np.isnan(c.half_width)
        missed += not good
        wide = 1.96 * c.scatter
        print(
            f"{c.name:18} {100 * c.share:>7.2f} {100 * c.bias:>+7.3f} {100 * c.scatter:>8.3f} {100 * wide:>13.3f}"
            f" {100 * c.half_width:>16.3f} {c.half_width / wide:>6.3f}  {'' if good else 'MISSED'}"
        )
    print(f"{time.time() - started:.0f} s")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())

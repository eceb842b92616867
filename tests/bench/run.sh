#!/usr/bin/env bash
# The benchmark: native, page and a numpy/scipy script on the same synthetic scan, in one sitting.
#
#     bash tests/bench/run.sh [--full] [--formats] [--huge] [--runs N]
#     bash tests/bench/run.sh accuracy [--seeds N] [--quick]
#     bash tests/bench/run.sh coverage [--long] [--seed N]
#     bash tests/bench/run.sh edits [RUNS]
#     bash tests/bench/run.sh first [RUNS]
#
# 101 × 101 × 2048 float32 (84 MB); --full adds 201 × 201 × 1500 (242 MB). --formats puts the plane
# through the page in every format, --huge one of 201 × 201 × 12500 (2 GB) in three: time, MB/s, memory
# of all engines, how fast cancelling is. Everything it makes lies in
# target/bench/. Ends with status 1 when the results disagree, never because of a time.
#
# accuracy: simulated scans against their noiseless truth, at the design's conditions and as noise and
# steps grow. coverage: how often the stated 95 % intervals hold the truth of repeated measurements.
# Neither needs a browser; $FOCALSHEET names the built program, else it is built here.
#
# edits: from a blank handed in to the changed sheet on screen, example and demo. first: from asking for
# the example to its sheet, and the page's weight. Both need the built page and no Python.
#
# Python: tests/.venv, else $PYTHON, else python3; numpy, scipy and h5py as in
# tests/reference/requirements.txt. $FOCALSHEET_NATIVE names a built native bench, $FOCALSHEET_PAGE a
# built page; without them both are built here.
set -euo pipefail
cd "$(dirname "$0")/../.."
here=tests/bench
out=target/bench
export PYTHONDONTWRITEBYTECODE=1

page() {
  [ -d tests/node_modules/playwright-core ] || (cd tests && npm ci --no-audit --no-fund)
  if [ -z "${FOCALSHEET_PAGE:-}" ]; then
    echo "building the page …"
    cargo run --release --quiet -- page
  fi
}
case "${1:-}" in edits | first) page; exec node "$here/$1.mjs" "${@:2}" ;; esac

only=
case "${1:-}" in accuracy | coverage) only="$1"; shift ;; esac
if [ -n "$only" ]; then rest=("$@"); set --; fi

full=no
formats=no
huge=no
runs=3
while [ $# -gt 0 ]; do
  case "$1" in
    --full) full=yes ;;
    --formats) formats=yes ;;
    --huge) huge=yes ;;
    --runs) runs="${2:?--runs needs a number}"; shift ;;
    *) echo "run.sh: unknown option $1; known: accuracy, coverage, edits, first, --full, --formats, --huge, --runs N" >&2; exit 2 ;;
  esac
  shift
done

python="${PYTHON:-python3}"
[ -x tests/.venv/bin/python ] && python=tests/.venv/bin/python
[ -x tests/.venv/Scripts/python.exe ] && python=tests/.venv/Scripts/python.exe
# Tuning set for other work must not slow the peer's matrix products.
python() { env -u OPENBLAS_CORETYPE -u OPENBLAS_L2_SIZE "$python" "$@"; }
if ! python -c 'import h5py, numpy, scipy' 2>/dev/null; then
  echo "run.sh: $python lacks numpy, scipy or h5py: run tests/run.sh once, or set PYTHON" >&2
  exit 2
fi
if [ -n "$only" ]; then
  if [ -z "${FOCALSHEET:-}" ]; then
    cargo build --release --quiet
    export FOCALSHEET=target/release/focalsheet
  fi
  python "$here/$only.py" "${rest[@]}"
  exit
fi
# All building before all measuring.
native() { "${FOCALSHEET_NATIVE}" "$@"; }
if [ -z "${FOCALSHEET_NATIVE:-}" ]; then
  echo "building the native bench …"
  cargo bench --bench native --no-run
  native() { cargo bench --quiet --bench native -- "$@"; }
fi
page

status=0
measure() { # NAME POINTS SAMPLES
  local folder="$PWD/$out/$1"
  echo
  echo "== $2 × $2 × $3 float32 =="
  rm -rf "$folder"
  python "$here/make_scan.py" "$folder" "$2" "$3"
  cat "$folder"/* > /dev/null # into the system's cache, for all alike
  native "$folder" "$runs"
  python "$here/peer.py" "$folder" --workers 1 --runs "$runs"
  python "$here/peer.py" "$folder" --workers 2 --runs "$runs"
  node "$here/page.mjs" "$folder" "$runs"
  python "$here/table.py" "$folder" || status=1
}

# The same plane in several formats. NAME POINTS SAMPLES KIND…
in_formats() {
  local folder="$PWD/$out/$1"
  echo
  echo "== $2 × $2 × $3 float32, format by format =="
  rm -rf "$folder"
  python "$here/make_scan.py" "$folder" "$2" "$3"
  python "$here/make_formats.py" "$folder" --only "${@:4}"
  node "$here/formats.mjs" "$folder" "${@:4}" || status=1
}

measure plane-101 101 2048
[ "$full" = yes ] && measure plane-201 201 1500
[ "$formats" = yes ] && in_formats formats 101 2048 hdf5 hdf5-gzip hdf5-time-first npy npz-stored npz-deflated mat mat-packed text
[ "$huge" = yes ] && in_formats huge 201 12500 hdf5 npy hdf5-time-first
exit "$status"

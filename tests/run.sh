#!/usr/bin/env bash
# All tests: installs what they need, runs them, prints what each step took.
#
#   bash tests/run.sh           everything that CI runs
#   bash tests/run.sh --quick   without the browser
#   bash tests/run.sh --long    with the benchmark
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

quick=no
long=no
for word in "$@"; do
  case "$word" in
    --quick) quick=yes ;;
    --long) long=yes ;;
    *) echo "tests/run.sh: unknown option $word (known: --quick, --long)" >&2; exit 2 ;;
  esac
done

export CARGO_TERM_COLOR=never DEBIAN_FRONTEND=noninteractive PIP_DISABLE_PIP_VERSION_CHECK=1
unset RUSTFLAGS CARGO_ENCODED_RUSTFLAGS CARGO_TARGET_DIR
venv=tests/.venv
python="$venv/bin/python"
logs=target/test-logs
mkdir -p "$logs"
names=()
seconds=()
results=()
passed=0
failed=0

# step NAME COMMAND…: runs it, keeps its output, shows the end of it when it fails.
step() {
  local name="$1" log start end
  shift
  log="$logs/${name// /-}.log"
  echo "== $name … (output: $log)"
  start=$(date +%s)
  if "$@" >"$log" 2>&1; then
    results+=("passed")
    passed=$((passed + 1))
  else
    results+=("FAILED")
    failed=$((failed + 1))
    echo "-- $name failed; the end of $log:"
    tail -n 80 "$log"
  fi
  end=$(date +%s)
  grep -E '^(test result:|[0-9]+ (passed|failed)|Ran [0-9]+ tests|# (tests|pass|fail|page|time))|^ℹ (tests|pass|fail)' "$log" | sort -u | head -n 40
  names+=("$name")
  seconds+=("$((end - start))")
}

as_root() {
  if [ "$(id -u)" -eq 0 ]; then "$@"; else sudo -n "$@"; fi
}

install_packages() {
  as_root apt-get update && as_root apt-get install -y --no-install-recommends "$@"
}

install_browser() {
  command -v chromium >/dev/null && command -v pdftoppm >/dev/null && fc-list 2>/dev/null | grep -qi dejavu && return 0
  install_packages chromium poppler-utils fontconfig fonts-dejavu-core || return 1
  # A second engine where it can be had; the tests do without it.
  command -v firefox-esr >/dev/null || as_root apt-get install -y --no-install-recommends firefox-esr || true
}

install_wasm_target() {
  rustup target list --installed | grep -qx wasm32-unknown-unknown || rustup target add wasm32-unknown-unknown
}

install_python() {
  if [ ! -x "$python" ]; then
    python3 -m venv "$venv" || { install_packages python3 python3-venv && python3 -m venv --clear "$venv"; } || return 1
  fi
  "$python" -m pip install -q -r tests/reference/requirements.txt &&
    "$python" -m pip install -q --no-deps -r tests/reference/requirements-data.txt
}

install_driver() {
  command -v npm >/dev/null || install_packages nodejs npm || return 1
  node -e 'if (parseInt(process.versions.node) < 20) { console.error(`Node.js 20 or newer is needed, found ${process.version}.`); process.exit(1); }' || return 1
  (cd tests && npm ci --no-audit --no-fund)
}

rust_tests() {
  cargo test --release --locked
}

build_page() {
  cargo run --release --locked -- demo
}

reference_checks() {
  FOCALSHEET=target/release/focalsheet "$python" -m unittest discover -v -s tests/reference -p 'test_*.py'
}

# For the browser tests: the measured record as scan, table and record; the demo's plane in other files.
reference_scans() {
  "$python" tests/reference/make_pydynamic_scan.py target/reference &&
    "$python" tests/reference/make_foreign_scans.py target/foreign
}

browser_tests() {
  local root="$PWD"
  (cd tests && FOCALSHEET_REFERENCE="$root/target/reference" FOCALSHEET_FOREIGN="$root/target/foreign" npm test)
}

lints() {
  cargo clippy --release --locked --all-targets -- -D warnings && cargo fmt --check
}

step "install python references" install_python
step "install wasm target" install_wasm_target
if [ "$quick" = no ]; then
  step "install browser" install_browser
  step "install browser driver" install_driver
fi
step "rust tests" rust_tests
step "build page and demo" build_page
step "scans for the page" reference_scans
step "reference checks" reference_checks
if [ "$quick" = no ]; then
  step "browser tests" browser_tests
fi
if cargo clippy --version >/dev/null 2>&1 && cargo fmt --version >/dev/null 2>&1; then
  step "lints and format" lints
fi
if [ "$long" = yes ]; then
  step "benchmark" bash tests/bench/run.sh
  cat "$logs/benchmark.log"
fi

echo
printf '%-28s %8s  %s\n' step seconds result
for i in "${!names[@]}"; do
  printf '%-28s %8s  %s\n' "${names[$i]}" "${seconds[$i]}" "${results[$i]}"
done
echo
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]

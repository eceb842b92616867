"""Runs the built program on files, and reads what it writes."""

import json
import os
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = Path(os.environ.get("FOCALSHEET", ROOT / "target/release/focalsheet")).resolve()
DEMO = Path(os.environ.get("FOCALSHEET_DEMO", ROOT / "demo-data"))
# No run of the tests takes longer than a few seconds; a hang is a failure.
LONGEST_S = 120


class Run:
    """What a run of the program said and left."""

    def __init__(self, *arguments):
        done = subprocess.run(
            [str(PROGRAM), *map(str, arguments)],
            stdin=subprocess.DEVNULL,
            capture_output=True,
            timeout=LONGEST_S,
            check=False,
        )
        self.status = done.returncode
        self.said = done.stdout.decode("utf-8")
        self.complained = done.stderr.decode("utf-8")


class Sheet:
    """A `sheet.json`."""

    def __init__(self, path):
        self.bytes = Path(path).read_bytes()
        self.data = json.loads(self.bytes, parse_constant=_no_constant)
        self.conditions = self.data["conditions"]
        self.findings = self.data["findings"]

    def quantity(self, scan, name, time_base=None):
        """The one quantity of that scan, id and time base."""
        found = [
            q
            for q in self.data["quantities"]
            if q["scan"] == scan and q["id"] == name and time_base in (None, q["time_base"])
        ]
        if len(found) != 1:
            raise AssertionError(f"{scan} {name} {time_base}: {len(found)} quantities")
        return found[0]

    def value(self, scan, name, time_base=None):
        """The value in SI, which must be there."""
        quantity = self.quantity(scan, name, time_base)
        if quantity["value"] is None:
            raise AssertionError(f"{scan} {name}: no value: {quantity['reason']}")
        return quantity["value"]

    def measured(self, scan, name, time_base=None):
        """The value before the corrections that the references lack: for what noise adds to a peak, and for
        the averaging over the sensor's face."""
        value = self.value(scan, name, time_base)
        for correction in self.quantity(scan, name, time_base)["corrections"]:
            if correction["name"] in ("noise-bias", "spatial-averaging"):
                value /= correction["factor"]
        return value

    def scan(self, name):
        return next(s for s in self.data["scans"] if s["id"] == name)

    def waveform(self, name):
        """Uncertainty of a scan's waveform, its features by id."""
        found = self.scan(name)["waveform_uncertainty"]
        return found, {feature["id"]: feature for feature in found["features"]}

    def codes(self, scan=None):
        return [f["code"] for f in self.findings if scan in (None, f["place"].get("scan"))]


def _no_constant(name):
    raise AssertionError(f"sheet.json holds {name}, which is not JSON")


def report(record_path, out):
    """Evaluates a record, which must succeed; returns the sheet."""
    run = Run("report", record_path, "--out", out)
    if run.status not in (0, 1):
        raise AssertionError(f"status {run.status}: {run.complained}")
    return Sheet(Path(out) / "sheet.json")

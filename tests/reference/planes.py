"""The measured plane of the demo, cut so that its axes differ; what a sheet says of the same plane in
another file must be the same."""

import dataclasses
import json
import shutil
import tempfile
import unittest
from pathlib import Path

import h5py
import numpy as np

import program

SCAN = "focal-plane"
# Least differences that count, by the beginning of the id: m, rad, re the fundamental.
# Quantities that need the z of the plane.
NEED_Z = ("axis_offset_x", "axis_offset_y")
LEAST = {"x_peak": 1e-9, "y_peak": 1e-9, "tilt_": 1e-7, "axis_": 1e-5, "h": 1e-8, "thd": 1e-8}


@dataclasses.dataclass(frozen=True)
class Plane:
    """Counts (y, x, time) of a digitiser, SI."""

    counts: np.ndarray
    x_m: np.ndarray
    y_m: np.ndarray
    z_m: float
    dt_s: float
    t0_s: float
    volts_per_count: float

    @classmethod
    def of_demo(cls, rows=slice(2, 39), columns=slice(None)):
        """By default 37 rows and 41 columns."""
        with h5py.File(program.DEMO / "focal-plane.h5") as f:
            return cls(
                counts=f["waveforms"][rows, columns],
                x_m=f["x_m"][columns],
                y_m=f["y_m"][rows],
                z_m=float(np.squeeze(f["z_m"])),
                dt_s=float(np.squeeze(f["dt_s"])),
                t0_s=float(np.squeeze(f["t0_s"])),
                volts_per_count=float(f["waveforms"].attrs["volts_per_count"]),
            )

    @property
    def t_s(self):
        return self.t0_s + self.dt_s * np.arange(self.counts.shape[-1])

    @property
    def volts(self):
        return self.counts * self.volts_per_count

    def write(self, path, **storage):
        """As a file that describes itself (docs/formats.md)."""
        with h5py.File(path, "w") as f:
            f.create_dataset("waveforms", data=self.counts, **storage).attrs["volts_per_count"] = self.volts_per_count
            for name in ("x_m", "y_m", "z_m", "dt_s", "t0_s"):
                f[name] = getattr(self, name)


def write_record(folder, file, layout=None, change=None):
    """The demo's record with this one scan; without stated values, which name other scans."""
    record = json.loads((program.DEMO / "record.json").read_text("utf-8"))
    del record["stated"]
    (scan,) = [scan for scan in record["scans"] if scan["id"] == SCAN]
    scan["file"] = file
    if layout is not None:
        scan["layout"] = layout
    record["scans"] = [scan]
    if change:
        change(record)
    shutil.copy(program.DEMO / "sensitivity.csv", folder)
    path = folder / "record.json"
    path.write_text(json.dumps(record), "utf-8")
    return path


def quantities(sheet, scan=SCAN):
    """Value, or why there is none, by quantity and time base; not `isal`, whose reason depends on whether
    the file states z."""
    return {
        (q["id"], q["time_base"]): q["value"] if q["reason"] is None else q["reason"]
        for q in sheet.data["quantities"]
        if q["scan"] == scan and q["id"] != "isal"
    }


PLANE = Plane.of_demo()
SMALL = Plane.of_demo(slice(14, 27), slice(15, 26))
MM = 1e3


class Layouts(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        temporary = tempfile.TemporaryDirectory()
        cls.addClassCleanup(temporary.cleanup)
        folder = Path(temporary.name)
        cls.truths = {}
        for plane in (PLANE, SMALL):
            plane.write(folder / "truth.h5")
            sheet = program.report(write_record(folder, "truth.h5"), folder / "truth")
            cls.truths[id(plane)] = quantities(sheet)

    def setUp(self):
        temporary = tempfile.TemporaryDirectory()
        self.addCleanup(temporary.cleanup)
        self.folder = Path(temporary.name)

    def report(self, file, layout=None, change=None):
        return program.report(write_record(self.folder, file, layout, change), self.folder / "sheet")

    def refused(self, file, layout=None):
        """Status 2; the message."""
        run = program.Run("report", write_record(self.folder, file, layout), "--out", self.folder / "sheet")
        self.assertEqual(run.status, 2, run.said + run.complained)
        self.assertNotIn("panicked", run.complained)
        self.assertIn(file, run.complained)
        return run.complained

    def same(self, sheet, plane=PLANE, scan=SCAN, relative=1e-6):
        """All quantities as of the self-described file."""
        truth, found = self.truths[id(plane)], quantities(sheet, scan)
        self.assertEqual(truth.keys(), found.keys())
        self.assertGreater(sum(isinstance(v, float) for v in truth.values()), 20)
        for name, expected in truth.items():
            if name[0] in NEED_Z and not isinstance(found[name], float):
                # Foreign files of a plane seldom hold its z.
                self.assertEqual(found[name], "the record does not state it: the distance of the plane from the head", name)
            elif isinstance(expected, float):
                # Positions lie near zero, and so may angles; harmonics far below the fundamental carry the
                # rounding of single precision.
                least = next((v for k, v in LEAST.items() if name[0].startswith(k)), 0.0)
                nearness = max(least, relative * abs(expected))
                self.assertIsInstance(found[name], float, f"{name}: {found[name]}")
                self.assertLessEqual(
                    abs(found[name] - expected), nearness, f"{name}: {found[name]}, expected {expected}"
                )
            else:
                self.assertEqual(found[name], expected, name)

    def proposed(self, file, plane=PLANE, **parts):
        """The layout is proposed, told, kept in the record of the sheet, and gives the same quantities;
        `parts` are parts of it that must be so. Gives the sheet."""
        sheet = self.report(file)
        self.assertIn("layout-proposed", sheet.codes(SCAN))
        (scan,) = sheet.data["record"]["scans"]
        self.assertIn("layout", scan)
        for name, value in parts.items():
            self.assertEqual(scan["layout"].get(name), value, scan["layout"])
        self.same(sheet, plane)
        # The record that the sheet carries gives the sheet again, without a proposal.
        again = self.report(file, scan["layout"])
        self.assertNotIn("layout-proposed", again.codes())
        self.same(again, plane)
        return sheet

    def described(self, file):
        sheet = self.report(file)
        self.assertNotIn("layout-proposed", sheet.codes())
        self.assertNotIn("layout", sheet.data["record"]["scans"][0])
        self.same(sheet)

    def hdf5(self, **arrays):
        """Arrays, or (array, attributes)."""
        with h5py.File(self.folder / "scan.h5", "w") as f:
            for name, value in arrays.items():
                value, attributes = value if isinstance(value, tuple) else (value, {})
                f[name] = value
                f[name].attrs.update(attributes)
        return "scan.h5"

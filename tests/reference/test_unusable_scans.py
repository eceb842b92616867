"""Sound files whose numbers cannot be a scan: refused, all problems at once; and such whose numbers can be
used in part: with a finding.

The files are written by h5py, xarray and NumPy.
"""

import unittest

import numpy as np
import xarray

import program
import scans
from hostile import SMALL, Hostile, npy, run
from planes import SCAN, write_record


class UnusableScans(Hostile):

    def test_axes_that_turn_back(self):
        x, y = SMALL.x_m.copy(), SMALL.y_m.copy()
        x[5], y[7] = x[3], y[6]
        # Both at once.
        self.refused(self.plane(x_m=x, y_m=y), "/x_m[5]", "/y_m[7]")
        np.savez(self.folder / "plane.npz", signal_V=SMALL.volts, x_mm=x * 1e3, y_mm=y * 1e3, t_us=SMALL.t_s * 1e6)
        self.refused("plane.npz", "/x_mm[5]", "/y_mm[7]")

    def test_sample_intervals(self):
        for interval in (0.0, -2e-8, np.nan, np.inf):
            self.refused(self.plane(dt_s=interval), "dt_s")
        axes = {"x_mm": SMALL.x_m * 1e3, "y_mm": SMALL.y_m * 1e3}
        for name, value in (("sample_rate_MHz", 0.0), ("sample_rate_MHz", -50.0), ("dt_us", 0.0), ("dt_us", -0.02)):
            with self.subTest(name=name, value=value):
                np.savez(self.folder / "plane.npz", signal_V=SMALL.volts, **axes, **{name: value})
                self.refused("plane.npz")
        falling = SMALL.t_s[::-1] * 1e6
        np.savez(self.folder / "plane.npz", signal_V=SMALL.volts, **axes, t_us=falling)
        self.refused("plane.npz", "/t_us")
        uneven = SMALL.t_s * 1e6
        uneven[400:] += 0.01
        np.savez(self.folder / "plane.npz", signal_V=SMALL.volts, **axes, t_us=uneven)
        self.refused("plane.npz", "/t_us[")

    def test_samples_that_are_no_numbers(self):
        """Counted and located: three points, one of them without a number at all."""
        volts = SMALL.volts.astype("f4")
        volts[1, 2, 100:103] = np.nan
        volts[3, 0, 7] = np.inf
        volts[12, 10] = np.nan
        sheet = self.report(self.plane(waveforms=volts, change=lambda f: f["waveforms"].attrs.pop("volts_per_count")))
        (found,) = [f for f in sheet.findings if f["code"] == "samples-not-finite"]
        self.assertIn(3, found["args"].values(), found)
        self.assertLessEqual({1 * 11 + 2, 3 * 11, 12 * 11 + 10}, set(sheet.scan(SCAN)["excluded_points"]))
        self.assertTrue(all(np.isfinite(q["value"]) for q in sheet.data["quantities"] if q["value"] is not None))

    def test_values_marked_as_missing(self):
        """_FillValue of packed netCDF data (CF conventions): not a number, never −32768 counts."""
        volts = SMALL.volts.copy()
        volts[1, 2, 100:103] = np.nan
        axes = {
            "y": ("y", SMALL.y_m, {"units": "m"}),
            "x": ("x", SMALL.x_m, {"units": "m"}),
            "t": ("t", SMALL.t_s, {"units": "s"}),
        }
        packing = {"dtype": "i2", "scale_factor": SMALL.volts_per_count, "_FillValue": -32768}
        array = xarray.DataArray(volts, dims=("y", "x", "t"), coords=axes, attrs={"units": "V"})
        array.to_dataset(name="signal").to_netcdf(self.folder / "plane.nc", encoding={"signal": packing})
        sheet = self.report("plane.nc")
        self.assertIn("samples-not-finite", sheet.codes(SCAN))
        self.assertIn(1 * 11 + 2, sheet.scan(SCAN)["excluded_points"])

    def test_coordinates_that_are_no_numbers(self):
        x, y = SMALL.x_m.copy(), SMALL.y_m.copy()
        x[4], y[2] = np.nan, -np.inf
        self.refused(self.plane(x_m=x, y_m=y), "/x_m[4]", "/y_m[2]")

    def test_counts_beyond_the_full_scale(self):
        """The record states ±0.5 V; the file goes on to far more: the scan is unfit, the peak a bound."""
        counts = SMALL.counts.astype("i4")
        counts[6, 5] *= 4
        sheet = self.report(self.plane(waveforms=counts.astype("i2")))
        self.assertTrue(
            {"clipped-at-peak", "clipped-away", "beyond-full-scale"} & set(sheet.codes(SCAN)), sheet.codes()
        )
        self.assertEqual(sheet.scan(SCAN)["fitness"], "unfit")

    def test_a_position_twice(self):
        y, x = (a.ravel().copy() for a in np.meshgrid(SMALL.y_m, SMALL.x_m, indexing="ij"))
        x[40], y[40] = x[25], y[25]
        waves = SMALL.counts.reshape(len(x), -1)
        message = self.refused(self.plane(waveforms=waves, x_m=x, y_m=y))
        # Counted from 1.
        self.assertRegex(message, r"\b26\b.*\b41\b")

    def test_points_on_no_grid(self):
        random = np.random.default_rng(4)
        x, y = random.uniform(-1e-3, 1e-3, (2, SMALL.counts[..., 0].size))
        self.refused(self.plane(waveforms=SMALL.counts.reshape(len(x), -1), x_m=x, y_m=y), "143")

    def test_too_many_scans_and_samples(self):
        """A leading axis of 5000 is no list of repeats; 5 numbers are no waveform."""
        np.save(self.folder / "many.npy", np.zeros((5000, 2, 2, 20), "i2"))
        layout = {
            "waveforms": "/array",
            "axes": ["repeat", "y", "x", "t"],
            "x": {"start": 0, "step": 1e-3},
            "y": {"start": 0, "step": 1e-3},
            "time": {"dt": 2e-8},
            "volts": {"scale": 1e-3},
        }
        self.refused("many.npy", "/array", "5000", layout=layout)
        np.save(self.folder / "short.npy", np.zeros((5, 5, 1), "i2"))
        self.refused("short.npy", layout=layout | {"axes": ["y", "x", "t"]})

    def test_all_problems_at_once(self):
        """An axis that does not fit, one that turns back, no interval, no scale; and a second file."""

        def spoil(f):
            del f["waveforms"].attrs["volts_per_count"]

        x = SMALL.x_m.copy()
        x[2] = x[1]
        name = self.plane(spoil, x_m=x, y_m=np.arange(12.0), dt_s=-1.0)

        def more(record):
            record["scans"].append({"id": "other", "role": "point", "file": "other.npy"})

        self.path("other.npy", npy((10**12,)))
        record = write_record(self.folder, name, None, more)
        status, _, complained = run("report", record, "--out", self.folder / "sheet")
        self.assertEqual(status, 2)
        for word in ("/y_m", "12", "13", "/dt_s", "volts", "other.npy"):
            self.assertIn(word, complained)

    def test_numbers_beyond_all_bounds(self):
        """Volts near the largest double overflow nothing silently: refused or without values."""
        t = np.arange(400) * 2e-8
        scans.write_point(self.folder / "wave.csv", t, np.where(t > 4e-6, 1e300, -1e300))
        record = write_record(self.folder, "wave.csv", None, lambda r: r["scans"][0].update(role="point"))
        status, said, complained = run("report", record, "--out", self.folder / "sheet")
        self.assertIn(status, (1, 2), said + complained)
        if status == 1:
            program.Sheet(self.folder / "sheet" / "sheet.json")


if __name__ == "__main__":
    unittest.main()

"""The demo's focal plane in layouts foreign to the project gives the same sheet, and what cannot be decided
is asked.

The files are written by h5py and NumPy; the truth is the sheet of the self-described HDF5 file of the same
numbers.
"""

import json
import re
import unittest

import numpy as np

from planes import MM, PLANE, SCAN, Layouts, Plane, quantities


class Foreign(Layouts):
    def test_time_first(self):
        arrays = {"record": PLANE.volts.transpose(2, 0, 1), "t": PLANE.t_s, "y": PLANE.y_m, "x": PLANE.x_m}
        units = {"record": "V", "t": "s", "y": "m", "x": "m"}
        self.proposed(self.hdf5(**{k: (v, {"units": units[k]}) for k, v in arrays.items()}), axes=["t", "y", "x"])

    def test_x_before_y_falling_millimetres_and_millivolts(self):
        waves = (PLANE.volts * 1e3).transpose(1, 0, 2)[::-1, ::-1].astype("f4")
        file = self.hdf5(
            traces=(waves, {"units": "mV"}),
            xPos=(PLANE.x_m[::-1] * MM, {"units": "mm"}),
            yPos=(PLANE.y_m[::-1] * MM, {"units": "mm"}),
            time_us=PLANE.t_s * 1e6,
        )
        self.proposed(file, axes=["x", "y", "t"])

    def test_listed_points_in_serpentine_order(self):
        order = np.arange(PLANE.counts[..., 0].size).reshape(PLANE.counts.shape[:2])
        order[1::2] = order[1::2, ::-1]
        order = order.ravel()
        y, x = (a.ravel()[order] for a in np.meshgrid(PLANE.y_m, PLANE.x_m, indexing="ij"))
        waves = PLANE.counts.reshape(len(x), -1)[order]
        file = self.hdf5(
            data=(waves, {"volts_per_count": PLANE.volts_per_count}),
            x_mm=x * MM,
            y_mm=y * MM,
            dt_s=PLANE.dt_s,
            t0_s=PLANE.t0_s,
        )
        self.proposed(file, axes=["point", "t"])

    def test_serpentine_order_without_positions(self):
        """Only the layout says so."""
        waves = PLANE.counts.copy()
        waves[1::2] = waves[1::2, ::-1]
        np.save(self.folder / "scan.npy", waves)
        layout = {
            "waveforms": "/array",
            "axes": ["y", "x", "t"],
            "x": {"start": PLANE.x_m[0], "step": 2e-4},
            "y": {"start": PLANE.y_m[0], "step": 2e-4},
            "time": {"dt": PLANE.dt_s, "t0": PLANE.t0_s},
            "volts": {"scale": PLANE.volts_per_count},
        }
        with self.assertRaises(AssertionError):
            self.same(self.report("scan.npy", layout))
        self.same(self.report("scan.npy", layout | {"serpentine": True}))

    def test_scattered_positions(self):
        """A stage that misses its grid by up to 4 µm of 200: told, put on the grid, and little changes."""
        random = np.random.default_rng(3)
        y, x = (
            a.ravel() + random.uniform(-4e-6, 4e-6, a.size) for a in np.meshgrid(PLANE.y_m, PLANE.x_m, indexing="ij")
        )
        waves = PLANE.counts.reshape(len(x), -1)
        file = self.hdf5(
            data=(waves, {"volts_per_count": PLANE.volts_per_count}), x_m=x, y_m=y, dt_s=PLANE.dt_s, t0_s=PLANE.t0_s
        )
        sheet = self.report(file)
        self.assertIn("points-gridded", sheet.codes(SCAN))
        truth, found = self.truths[id(PLANE)], quantities(sheet)
        for name in ("pc", "pr", "ppsi", "width_x_6", "width_y_6", "area_6"):
            self.assertAlmostEqual(found[name, None] / truth[name, None], 1.0, delta=5e-3)
        self.assertAlmostEqual(found["x_peak", None], truth["x_peak", None], delta=2e-6)

    def test_points_left_out(self):
        """Corners not measured: told; what the middle decides is the same. The noise floor is a median over
        the points, and the power gets what is around the missing ones, so that both may move a little."""
        y, x = (a.ravel() for a in np.meshgrid(PLANE.y_m, PLANE.x_m, indexing="ij"))
        taken = x**2 + y**2 < 4.9e-3**2
        left_out = int((~taken).sum())
        self.assertGreater(left_out, 30)
        waves = PLANE.counts.reshape(len(x), -1)[taken]
        file = self.hdf5(
            data=(waves, {"volts_per_count": PLANE.volts_per_count}),
            x_m=x[taken],
            y_m=y[taken],
            dt_s=PLANE.dt_s,
            t0_s=PLANE.t0_s,
        )
        sheet = self.report(file)
        (missing,) = [f for f in sheet.findings if f["code"] == "points-missing"]
        self.assertEqual((missing["args"]["points"], missing["args"]["all"]), (left_out, x.size))
        truth, found = self.truths[id(PLANE)], quantities(sheet)
        for name in ("ppsi", "width_x_6", "width_y_6", "area_6", "td"):
            self.assertAlmostEqual(found[name, None] / truth[name, None], 1.0, delta=1e-5, msg=name)
        # Corrected for what noise adds, and the part in which noise is measured has moved.
        for name in ("pc", "pr"):
            self.assertAlmostEqual(found[name, None] / truth[name, None], 1.0, delta=2e-4, msg=name)
        for axis in "xy":
            self.assertAlmostEqual(found[f"{axis}_peak", None], truth[f"{axis}_peak", None], delta=1e-9)
        power = ("power_on_plane_wave", "on")
        self.assertAlmostEqual(found[power] / truth[power], 1.0, delta=1e-3)

    def test_chunks_across_waveforms(self):
        for chunks in ((37, 41, 20), (5, 41, 64), (1, 1, 7)):
            with self.subTest(chunks=chunks):
                PLANE.write(self.folder / "scan.h5", chunks=chunks, compression="gzip", shuffle=True)
                self.described("scan.h5")

    def test_units_by_plausibility(self):
        """No unit anywhere: steps of 0.2 are millimetres, 0.02 microseconds; told as an assumption."""
        file = self.hdf5(signal=PLANE.volts, x=PLANE.x_m * MM, y=PLANE.y_m * MM, t=PLANE.t_s * 1e6)
        sheet = self.proposed(file, axes=["y", "x", "t"])
        assumed = [f["args"].get("axis") for f in sheet.findings if f["code"] == "layout-unit-plausible"]
        self.assertEqual(sorted(a for a in assumed if a), ["t", "x", "y"])
        self.assertIn('"unit":"mm"', json.dumps(sheet.data["record"]["scans"][0]["layout"], separators=(",", ":")))

    def test_counts_with_a_scale_and_a_sampling_rate(self):
        file = self.hdf5(
            adc=(PLANE.counts, {"mV_per_div": 50.0, "lsb_mV": PLANE.volts_per_count * 1e3}),
            x_mm=PLANE.x_m * MM,
            y_mm=PLANE.y_m * MM,
            sample_rate=(50.0, {"units": "MHz"}),
            t0=(25.4, {"units": "us"}),
        )
        self.proposed(file, axes=["y", "x", "t"])

    def test_levels_and_repeats(self):
        """Leading axes make several scans; each is evaluated by itself."""
        weak = np.rint(PLANE.counts * 0.5).astype("i2")
        scale = {"volts_per_count": PLANE.volts_per_count}
        axes = {"x_mm": PLANE.x_m * MM, "y_mm": PLANE.y_m * MM, "dt_s": PLANE.dt_s, "t0_s": PLANE.t0_s}
        self.hdf5(data=(np.stack([weak, PLANE.counts]), scale), drive=np.array([45.0, 90.0]), **axes)
        sheet = self.report("scan.h5")
        self.same(sheet, scan=f"{SCAN}-level-2")
        self.assertEqual([s["level"] for s in sheet.data["scans"]], [45.0, 90.0])
        low, high = (quantities(sheet, f"{SCAN}-level-{n}")["pc", None] for n in (1, 2))
        self.assertAlmostEqual(low / high, 0.5, delta=5e-3)

        self.hdf5(data=(np.stack([PLANE.counts, PLANE.counts, weak]), scale), shot=np.arange(3), **axes)
        sheet = self.report("scan.h5")
        for n in (1, 2):
            self.same(sheet, scan=f"{SCAN}-repeat-{n}")
        # Levels outside, repeats inside.
        stack = np.stack([[weak, weak], [weak, PLANE.counts]])
        self.hdf5(data=(stack, scale), drive=np.array([45.0, 90.0]), repeat=np.arange(2), **axes)
        layout = {
            "waveforms": "/data",
            "axes": ["level", "repeat", "y", "x", "t"],
            "x": {"array": "/x_mm", "unit": "mm"},
            "y": {"array": "/y_mm", "unit": "mm"},
            "level": {"array": "/drive"},
            "time": {"dt": 20, "t0": 25400, "unit": "ns"},
            "volts": {"scale": PLANE.volts_per_count},
        }
        sheet = self.report("scan.h5", layout)
        self.assertEqual(len(sheet.data["scans"]), 4)
        (last,) = [s["id"] for s in sheet.data["scans"] if "level-2" in s["id"] and "repeat-2" in s["id"]]
        self.same(sheet, scan=last)


class Undecided(Layouts):
    def snippets(self, message):
        found = re.findall(r'"layout": (\{.*\})', message)
        self.assertTrue(found, message)
        return [json.loads(snippet) for snippet in found]

    def test_a_square_grid(self):
        """Nothing tells x from y: both ways are shown, none is taken; either one runs when pasted."""
        square = Plane.of_demo(slice(2, 39), slice(2, 39))
        self.hdf5(signal_V=square.volts, x_mm=square.x_m * MM, y_mm=square.y_m * MM, t_us=square.t_s * 1e6)
        layouts = self.snippets(self.refused("scan.h5"))
        self.assertEqual(sorted(layout["axes"] for layout in layouts), [["x", "y", "t"], ["y", "x", "t"]])
        one, other = (quantities(self.report("scan.h5", layout)) for layout in sorted(layouts, key=lambda l: l["axes"]))
        square.write(self.folder / "truth.h5")
        truth = quantities(self.report("truth.h5"))
        self.assertAlmostEqual(other["x_peak", None], truth["x_peak", None], delta=1e-9)
        self.assertAlmostEqual(one["x_peak", None], truth["y_peak", None], delta=1e-9)

    def test_two_arrays_of_waveforms(self):
        axes = {"x_mm": PLANE.x_m * MM, "y_mm": PLANE.y_m * MM, "t_us": PLANE.t_s * 1e6}
        self.hdf5(ch1=(PLANE.volts, {"units": "V"}), ch2=(PLANE.volts * 0.1, {"units": "V"}), **axes)
        layouts = self.snippets(self.refused("scan.h5"))
        self.assertEqual([layout["waveforms"] for layout in layouts], ["/ch1", "/ch2"])
        self.same(self.report("scan.h5", layouts[0]))

    def test_what_is_lacking_is_said_and_can_be_typed(self):
        """Counts without a scale, no sample interval, no positions: all at once."""
        self.hdf5(data=PLANE.counts)
        message = self.refused("scan.h5")
        (layout,) = self.snippets(message)
        for word in ("volts", "37 × 41", "dt"):
            self.assertIn(word, message)
        self.assertEqual(layout["axes"], ["y", "x", "t"])
        # As it stands it is refused again, saying what is missing.
        again = self.refused("scan.h5", layout)
        self.assertIn("scan.h5", again)
        layout["x"] = {"start": PLANE.x_m[0] * MM, "step": 0.2, "unit": "mm"}
        layout["y"] = {"start": PLANE.y_m[0] * MM, "step": 0.2, "unit": "mm"}
        layout["time"] = {"dt": PLANE.dt_s, "t0": PLANE.t0_s}
        layout["volts"] = {"scale": PLANE.volts_per_count}
        self.same(self.report("scan.h5", layout))

    def test_a_layout_that_does_not_fit(self):
        """All that does not fit is told at once, with where, expected and found."""
        self.hdf5(data=(PLANE.counts, {"volts_per_count": PLANE.volts_per_count}), x_m=PLANE.x_m)
        layout = {"waveforms": "/date", "axes": ["y", "x", "t"]}
        self.assertIn("/data", self.refused("scan.h5", layout))
        layout = {"waveforms": "/data", "axes": ["y", "t"], "x": {"array": "/x_m"}}
        self.assertIn("37 × 41 × 1080", self.refused("scan.h5", layout))
        layout = {"waveforms": "/data", "axes": ["x", "y", "t"], "x": {"array": "/x_m"}, "y": {"array": "/ypsilon"}}
        self.assertIn("/ypsilon", self.refused("scan.h5", layout))
        layout["y"] = {"start": 0, "step": 2e-4}
        message = self.refused("scan.h5", layout)
        for word in ("/x_m", "37", "41"):
            self.assertIn(word, message)


if __name__ == "__main__":
    unittest.main()

"""The demo's focal plane stored in every format gives the same sheet.

The files are written by xarray, SciPy, h5py, NumPy and Python's own formatting; the truth is the sheet of
the self-described HDF5 file of the same numbers.
"""

import unittest

import h5py
import numpy as np
import scipy.io
import xarray

from planes import MM, PLANE, SMALL, Layouts


class Formats(Layouts):
    def test_net_cdf(self):
        volts = xarray.DataArray(
            PLANE.volts,
            dims=("y", "x", "time"),
            coords={
                "y": ("y", PLANE.y_m, {"units": "m"}),
                "x": ("x", PLANE.x_m * MM, {"units": "mm"}),
                "time": ("time", PLANE.t_s * 1e6, {"units": "us"}),
                "z": ((), PLANE.z_m, {"units": "m"}),
            },
            attrs={"units": "V"},
        )
        packing = {"dtype": "i2", "scale_factor": PLANE.volts_per_count, "_FillValue": -32768, "zlib": True}
        # In bytes 37 × 41 × 1080 in chunks of the library's own choice.
        volts.to_dataset(name="signal").to_netcdf(self.folder / "scan.nc", encoding={"signal": packing})
        self.proposed("scan.nc", axes=["y", "x", "t"])

    def test_mat_5(self):
        for packed in (False, True):
            with self.subTest(compressed=packed):
                variables = {
                    "signal": PLANE.counts,
                    "x": PLANE.x_m * MM,
                    "y": PLANE.y_m * MM,
                    "dt": 20.0,
                    "t0": 25400.0,
                }
                variables |= {"volts_per_count": PLANE.volts_per_count, "z_mm": PLANE.z_m * MM, "dt_units": "ns"}
                scipy.io.savemat(self.folder / "scan.mat", variables, do_compression=packed)
                self.proposed("scan.mat", axes=["y", "x", "t"])

    def test_mat_5_struct(self):
        scan = {"x_mm": PLANE.x_m * MM, "y_mm": PLANE.y_m * MM, "z_mm": PLANE.z_m * MM, "time_us": PLANE.t_s * 1e6}
        scipy.io.savemat(self.folder / "scan.mat", {"scan": scan | {"signal_mV": np.asfortranarray(PLANE.volts * 1e3)}})
        self.proposed("scan.mat", axes=["y", "x", "t"])

    def test_mat_7_3(self):
        """Dimensions in reverse, a user block and attributes of the class, as MATLAB writes them
        (conventions seen in such files)."""
        path = self.folder / "scan.mat"
        with h5py.File(path, "w", userblock_size=512) as f:

            def put(name, values, kind):
                f[name] = np.atleast_2d(values).T
                f[name].attrs["MATLAB_class"] = np.bytes_(kind)

            put("signal", PLANE.counts, "int16")
            put("x", PLANE.x_m * MM, "double")
            put("y", PLANE.y_m * MM, "double")
            put("z_mm", PLANE.z_m * MM, "double")
            put("fs_MHz", 50.0, "double")
            put("t0_us", 25.4, "double")
            put("volts_per_count", PLANE.volts_per_count, "double")
            put("operator", [ord(c) for c in "M. K."], "char")
            f["operator"].attrs["MATLAB_int_decode"] = np.int32(2)
        text = b"MATLAB 7.3 MAT-file, Platform: GLNXA64, Created on: Mon May 04 09:12:00 2026 HDF5 schema 1.00 ."
        with open(path, "r+b") as f:
            f.write(text.ljust(116) + bytes(8) + b"\x00\x02IM")
        self.proposed("scan.mat", axes=["y", "x", "t"])

    def test_npz(self):
        arrays = {name: getattr(PLANE, name) for name in ("x_m", "y_m", "z_m", "dt_s", "t0_s", "volts_per_count")}
        for save in (np.savez, np.savez_compressed):
            with self.subTest(save=save.__name__):
                save(self.folder / "scan.npz", waveforms=PLANE.counts, **arrays)
                self.described("scan.npz")
                save(
                    self.folder / "scan.npz",
                    signal_mV=PLANE.volts * 1e3,
                    x=PLANE.x_m * MM,
                    y=PLANE.y_m * MM,
                    z_m=PLANE.z_m,
                    t_us=PLANE.t_s * 1e6,
                )
                self.proposed("scan.npz", axes=["y", "x", "t"])

    def test_npy_with_a_typed_layout(self):
        layout = {
            "waveforms": "/array",
            "axes": ["y", "x", "t"],
            "x": {"start": PLANE.x_m[0] * MM, "step": 0.2, "unit": "mm"},
            "y": {"start": PLANE.y_m[0] * MM, "step": 0.2, "count": 37, "unit": "mm"},
            "z": {"start": PLANE.z_m, "step": 1.0, "count": 1},
            "time": {"dt": 20.0, "t0": 25400.0, "unit": "ns"},
            "volts": {"scale": PLANE.volts_per_count},
        }
        np.save(self.folder / "scan.npy", PLANE.counts)
        self.same(self.report("scan.npy", layout))
        np.save(self.folder / "scan.npy", np.asfortranarray(PLANE.counts).astype(">i2"))
        self.same(self.report("scan.npy", layout))
        # Offset binary of an unsigned digitiser.
        np.save(self.folder / "scan.npy", (PLANE.counts.astype(int) + 2048).astype("u2"))
        layout["volts"]["offset"] = -2048 * PLANE.volts_per_count
        self.same(self.report("scan.npy", layout))

    def test_wide_table(self):
        """A point a row; semicolons and decimal commas."""
        y, x = (a.ravel() for a in np.meshgrid(PLANE.y_m * MM, PLANE.x_m * MM, indexing="ij"))
        waves = PLANE.counts.reshape(len(x), -1)
        with open(self.folder / "scan.csv", "w", encoding="utf-8") as f:
            f.write(
                f"# z_mm = 44,4\n# dt_ns = 20\n# t0_ns = 25400\n# volts_per_count = {str(PLANE.volts_per_count).replace('.', ',')}\n"
            )
            f.write("x (mm);y (mm);" + ";".join(f"v_{i}" for i in range(waves.shape[1])) + "\n")
            for at, row in zip(zip(x, y), waves.tolist()):
                f.write(f"{at[0]:.4f};{at[1]:.4f};".replace(".", ",") + ";".join(map(str, row)) + "\n")
        self.proposed("scan.csv", axes=["point", "t"])

    def test_long_table(self):
        """A sample a row, time fast."""
        grid = np.meshgrid(SMALL.y_m * MM, SMALL.x_m * MM, SMALL.t_s * 1e6, indexing="ij")
        table = np.column_stack([a.ravel() for a in (*grid, SMALL.volts * MM)])
        np.savetxt(self.folder / "scan.txt", table, "%.10g", "\t", header="y (mm)\tx (mm)\tt (us)\tu (mV)", comments="")
        self.proposed("scan.txt", SMALL)


if __name__ == "__main__":
    unittest.main()

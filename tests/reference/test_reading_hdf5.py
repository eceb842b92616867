"""Files written by other libraries are read back number for number: HDF5 by h5py, netCDF by
netCDF4 and xarray.

The numbers compared with are those that were handed to the library that wrote the file.
"""

import unittest

import h5py
import netCDF4
import numpy as np
import xarray

from listing import KINDS, Listing, Reading, numbers


class Hdf5(Reading):
    """h5py 3 (HDF5 library)."""

    def write(self, write, **options):
        path = self.folder / "file.h5"
        with h5py.File(path, "w", **options) as f:
            arrays = write(f)
        return path, arrays

    def test_kinds_of_numbers(self):
        for version in ("earliest", "latest"):
            with self.subTest(libver=version):

                def write(f):
                    arrays = {f"/{kind.replace('<', 'l').replace('>', 'b')}": numbers(kind, (3, 5)) for kind in KINDS}
                    for name, values in arrays.items():
                        f.create_dataset(name, data=values)
                    return arrays

                self.check(*self.write(write, libver=version))

    def test_storage(self):
        """Contiguous, compact, chunked with every usual filter; edges that cut chunks."""
        filters = {
            "plain": {},
            "gzip": {"compression": "gzip"},
            "shuffled": {"compression": "gzip", "compression_opts": 9, "shuffle": True},
            "checked": {"compression": "gzip", "shuffle": True, "fletcher32": True},
            "only_checked": {"fletcher32": True},
            "lzf": {"compression": "lzf"},
            "lzf_shuffled": {"compression": "lzf", "shuffle": True, "fletcher32": True},
            "scale_offset": {"scaleoffset": 0},
        }
        for version in ("earliest", "latest"):
            for chunks in ((4, 5, 6), (1, 7, 64), (7, 1, 1), (7, 11, 64)):

                def write(f):
                    values = numbers("i2", (7, 11, 64))
                    arrays = {"/contiguous": values}
                    f["contiguous"] = values
                    compact = h5py.h5p.create(h5py.h5p.DATASET_CREATE)
                    compact.set_layout(h5py.h5d.COMPACT)
                    space = h5py.h5s.create_simple((5, 6))
                    small = h5py.h5d.create(f.id, b"compact", h5py.h5t.NATIVE_INT16, space, compact)
                    arrays["/compact"] = values[0, :5, :6].copy()
                    small.write(h5py.h5s.ALL, h5py.h5s.ALL, arrays["/compact"])
                    for name, options in filters.items():
                        f.create_dataset(name, data=values, chunks=chunks, **options)
                        arrays[f"/{name}"] = values
                    return arrays

                with self.subTest(libver=version, chunks=chunks):
                    self.check(*self.write(write, libver=version))

    def test_chunk_indexes(self):
        """One chunk, fixed, growing along one axis and along two (fixed array, extensible array and
        B-tree of version 2 under libver latest), grown after it was made, and with chunks never written."""
        for version in ("earliest", "latest"):

            def write(f):
                values = numbers("f4", (40, 30))
                arrays = {}
                for name, limit, options in [
                    ("one", None, {"chunks": (40, 30)}),
                    ("fixed", None, {"chunks": (3, 4)}),
                    ("one_way", (None, 30), {"chunks": (3, 4)}),
                    ("two_ways", (None, None), {"chunks": (3, 4), "compression": "gzip"}),
                ]:
                    f.create_dataset(name, data=values, maxshape=limit, **options)
                    arrays[f"/{name}"] = values
                grown = f.create_dataset("grown", data=values[:10], maxshape=(None, 30), chunks=(3, 4))
                grown.resize(40, axis=0)
                grown[10:] = values[10:]
                arrays["/grown"] = values
                holes = f.create_dataset("holes", (40, 30), "f4", chunks=(3, 4), fillvalue=-7.5)
                holes[5:8, 9:20] = values[5:8, 9:20]
                arrays["/holes"] = np.full((40, 30), -7.5, "f4")
                arrays["/holes"][5:8, 9:20] = values[5:8, 9:20]
                many = f.create_dataset("many", (1200, 3), "i4", chunks=(1, 1), maxshape=(None, 3))
                arrays["/many"] = np.arange(3600, dtype="i4").reshape(1200, 3)
                many[...] = arrays["/many"]
                return arrays

            with self.subTest(libver=version):
                self.check(*self.write(write, libver=version))

    def test_what_is_not_plain_numbers(self):
        """Truth values count as 0 and 1, complex numbers are two arrays, records an array a field."""

        def write(f):
            record = np.array([(1, 2.5), (3, -4.5)], dtype=[("n", "i4"), ("value", "f8")])
            f["truth"] = np.array([True, False, True])
            f["complex"] = np.array([[1 + 2j, 3 - 4j]])
            f["record"] = record
            f["one"] = 3.25
            return {
                "/truth": np.array([1, 0, 1]),
                "/complex": np.array([[1 + 2j, 3 - 4j]]),
                "/record/n": record["n"],
                "/record/value": record["value"],
                "/one": np.float64(3.25),
            }

        self.check(*self.write(write))

    def test_texts(self):
        """Texts of one element and attributes, fixed and of variable length."""

        def write(f):
            f["note"] = "Tank 2, µm"
            f["fixed"] = np.bytes_("ascii")
            f["list"] = ["a", "bc"]
            f["x"] = np.arange(20.0)
            f["x"].attrs["units"] = "µm"
            f["x"].attrs["other"] = np.bytes_("mm")
            f["x"].attrs["scale"] = np.float32(0.25)
            f.attrs["operator"] = "M. K."
            return {"/x": np.arange(20.0)}

        said = self.check(*self.write(write)).run.said
        for text in (
            "note = Tank 2, µm",
            "fixed = ascii",
            "units = µm",
            "other = mm",
            "scale = 0.25",
            "operator = M. K.",
        ):
            self.assertIn(text, said)

    def test_groups_and_links(self):
        """Old and new groups with many members, hard, soft and broken links."""
        for version in ("earliest", "latest"):

            def write(f):
                arrays = {}
                for i in range(150):
                    arrays[f"/many/a{i:03}"] = np.array([i, i + 0.5])
                deep = np.arange(6.0).reshape(2, 3)
                arrays["/one/two/three/deep"] = deep
                for name, values in arrays.items():
                    f[name] = values
                f["soft"] = h5py.SoftLink("/one/two/three/deep")
                f["one/relative"] = h5py.SoftLink("two/three/deep")
                f["hard"] = f["one/two/three/deep"]
                f["lost"] = h5py.SoftLink("/nowhere")
                f["elsewhere"] = h5py.ExternalLink("other.h5", "/x")
                # A hard link is a second name of one array: it may be listed under either.
                return arrays | {"/soft": deep, "/one/relative": deep}

            with self.subTest(libver=version):
                listing = self.check(*self.write(write, libver=version))
                self.assertNotIn("/lost", listing.arrays)
                np.testing.assert_array_equal(listing.values("/hard"), np.arange(6.0))

    def test_dimension_scales(self):
        """Scales say which axis is which, where lengths do not: a cube."""
        waves = numbers("i2", (16, 16, 16))

        def write(f):
            f["record"] = waves
            f["record"].attrs["volts_per_count"] = 1e-3
            for axis, (name, values, unit) in enumerate(
                [
                    ("samples_at", np.arange(16) * 0.02, "us"),
                    ("column", np.arange(16) * 0.3, "mm"),
                    ("row", np.arange(16) * 0.2, "mm"),
                ]
            ):
                f[name] = values
                f[name].attrs["units"] = unit
                f[name].make_scale(name)
                f["record"].dims[axis].attach_scale(f[name])
            f["column"].attrs["axis"], f["row"].attrs["axis"] = "X", "Y"
            return {"/record": waves}

        listing = self.check(*self.write(write))
        self.assertEqual(len(listing.layouts()), 1, listing.run.said)
        self.assertIn('"axes":["t","x","y"]', listing.layouts()[0])

    def test_user_block(self):
        self.check(*self.write(lambda f: f.update({"x": np.arange(4)}) or {"/x": np.arange(4)}, userblock_size=1024))


class NetCdf(Reading):
    """netCDF4-python and xarray (netCDF-C, HDF5 library)."""

    def test_kinds_and_storage(self):
        path = self.folder / "file.nc"
        arrays = {}
        with netCDF4.Dataset(path, "w") as f:
            f.createDimension("row", 6)
            f.createDimension("column", 5)
            f.createDimension("growing", None)
            for kind in KINDS:
                if kind.endswith("f2"):
                    continue
                name = kind.replace("<", "l").replace(">", "b")
                # No fill value: the numbers may hold it.
                options = {
                    "zlib": len(arrays) % 2 == 0,
                    "shuffle": len(arrays) % 4 == 0,
                    "fletcher32": len(arrays) % 3 == 0,
                }
                endian = {"<": "little", ">": "big"}.get(kind[0], "native")
                variable = f.createVariable(
                    name, np.dtype(kind), ("row", "column"), endian=endian, fill_value=False, **options
                )
                arrays[f"/{name}"] = variable[:] = numbers(kind, (6, 5))
            grown = f.createVariable("grown", "i2", ("growing", "column"), fill_value=False)
            arrays["/grown"] = numbers("i2", (9, 5))
            grown[:] = arrays["/grown"]
            inner = f.createGroup("inner").createVariable("x", "f4", ("row",), fill_value=False)
            arrays["/inner/x"] = np.arange(6, dtype="f4")
            inner[:] = arrays["/inner/x"]
        listing = self.check(path, arrays)
        # A dimension without coordinates is no array.
        self.assertEqual(set(listing.arrays), set(arrays))

    def test_classic_formats_are_refused(self):
        """netCDF before version 4 is another format: refused with its name, not misread."""
        for version in ("NETCDF3_CLASSIC", "NETCDF3_64BIT_OFFSET"):
            path = self.folder / f"{version}.nc"
            with netCDF4.Dataset(path, "w", format=version) as f:
                f.createDimension("x", 4)
                f.createVariable("x", "f8", ("x",))[:] = np.arange(4.0)
            run = Listing(path).run
            self.assertEqual(run.status, 2)
            self.assertIn(path.name, run.complained)

    def test_packed(self):
        """scale_factor and add_offset (CF conventions, packed data): stored numbers are listed as stored;
        coordinates and volts that come from them are unpacked (test_layouts.py)."""
        path = self.folder / "packed.nc"
        volts = xarray.DataArray(
            np.linspace(-0.2, 0.3, 4 * 3 * 64).reshape(4, 3, 64),
            dims=("y", "x", "time"),
            coords={
                "y": ("y", np.arange(4) * 0.2, {"units": "mm"}),
                "x": ("x", np.arange(3) * 0.3, {"units": "mm"}),
                "time": ("time", np.arange(64) * 2e-8, {"units": "s"}),
            },
            attrs={"units": "V"},
        )
        packing = {"dtype": "i2", "scale_factor": 1e-5, "add_offset": 0.05, "_FillValue": -32768, "zlib": True}
        volts.to_dataset(name="signal").to_netcdf(path, encoding={"signal": packing, "time": {"dtype": "f8"}})
        with netCDF4.Dataset(path) as f:
            f.set_auto_maskandscale(False)
            stored = {f"/{name}": f[name][:] for name in ("signal", "x", "y", "time")}
        listing = self.check(path, stored)
        unpacked = listing.values("/signal") * 1e-5 + 0.05
        np.testing.assert_allclose(unpacked, volts.values.ravel(), atol=0.51e-5)
        for text in ("scale_factor = 0.00001", "add_offset = 0.05", "units = V", "units = mm"):
            self.assertIn(text, listing.run.said)
        (layout,) = listing.layouts()
        self.assertIn('"axes":["y","x","t"]', layout)


if __name__ == "__main__":
    unittest.main()

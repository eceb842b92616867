"""Files written by other libraries are read back number for number: MAT by SciPy, NPY and NPZ by
NumPy, tables by NumPy's savetxt.

The numbers compared with are those that were handed to the library that wrote the file.
"""

import unittest

import numpy as np
import scipy.io
from scipy import sparse

from listing import KINDS, RANDOM, Listing, Reading, check_equal, numbers


class Matlab(Reading):
    """SciPy's MAT 5 writer, with and without compression. Numbers are listed in storage order: the first
    index runs fastest."""

    def write(self, **variables):
        for packed in (False, True):
            path = self.folder / f"file-{packed}.mat"
            scipy.io.savemat(path, variables, do_compression=packed, oned_as="column", long_field_names=True)
            yield path

    def test_kinds_of_numbers(self):
        variables = {
            kind: numbers(kind, (4, 3, 5)) for kind in ("i1", "u1", "i2", "u2", "i4", "u4", "i8", "u8", "f4", "f8")
        }
        variables["truth"] = np.array([[True, False], [False, False]])
        variables["double_complex"] = 2.0 + 1j * RANDOM.standard_normal((3, 7))
        variables["single_complex"] = numbers("f4", (3, 7)).astype("c8")
        variables["empty"] = np.zeros((0, 3))
        variables["one"] = np.array([[2.5]])
        for path in self.write(**variables):
            self.check(path, {f"/{name}": values for name, values in variables.items()}, order="F")

    def test_structs_and_texts(self):
        inner = {"values": np.arange(6.0).reshape(2, 3), "name": "deep"}
        several = np.array([(1, 2.5), (3, 4.5)], dtype=[("n", "i4"), ("value", "f8")])
        for path in self.write(
            s={"a": np.arange(3.0)[:, None], "inner": inner, "unit": "µm"}, several=several, note="Becken 2, °C"
        ):
            listing = self.check(
                path,
                {
                    "/s/a": np.arange(3.0)[:, None],
                    "/s/inner/values": inner["values"],
                    "/several(1)/n": np.array([[1]]),
                    "/several(2)/value": np.array([[4.5]]),
                },
                order="F",
            )
            self.assertIn("note = Becken 2, °C", listing.run.said)

    def test_what_is_passed_over_is_said(self):
        """Cells and sparse matrices are named; what stands beside them is read."""
        cells = np.empty(2, object)
        cells[:] = ["a", np.arange(3)]
        for path in self.write(cells=cells, sparse=sparse.eye(4, format="csc"), x=np.arange(4.0)[:, None]):
            said = self.check(path, {"/x": np.arange(4.0)[:, None]}, order="F").run.said
            self.assertIn("/cells", said)
            self.assertIn("/sparse", said)


class Numpy(Reading):
    """NumPy's NPY and NPZ writers."""

    def test_kinds_of_numbers(self):
        for kind in KINDS:
            path = self.folder / "file.npy"
            np.save(path, numbers(kind, (3, 2, 5)))
            self.check(path, {"/array": np.load(path)})

    def test_complex_and_truth(self):
        for kind in ("<c8", ">c8", "<c16", ">c16", "?"):
            path = self.folder / "file.npy"
            values = np.array([[1 + 2j, 0], [-4.25j, 5]]).astype(kind) if kind != "?" else np.array([[True], [False]])
            np.save(path, values)
            self.check(path, {"/array": values})

    def test_versions(self):
        for version in ((1, 0), (2, 0), (3, 0)):
            path = self.folder / "file.npy"
            values = numbers("f4", (4, 6))
            with open(path, "wb") as f:
                np.lib.format.write_array(f, values, version=version)
            self.check(path, {"/array": values})

    def test_orders(self):
        """Column-major: numbers in storage order, dimensions as NumPy shows them; views are stored whole."""
        values = numbers("i2", (3, 4, 5))
        path = self.folder / "file.npy"
        np.save(path, np.asfortranarray(values))
        self.check(path, {"/array": values}, order="F")
        np.save(path, values[::-1, ::2, 1:])
        self.check(path, {"/array": values[::-1, ::2, 1:]})
        np.save(path, np.float64(2.5))
        self.check(path, {"/array": np.float64(2.5)})
        np.save(path, np.zeros((0, 4)))
        self.check(path, {"/array": np.zeros((0, 4))})

    def test_archives(self):
        arrays = {
            "waves": numbers("i2", (9, 100)),
            "turned": np.asfortranarray(numbers("f4", (20, 30))),
            "big": numbers(">f8", (40,)),
            "half": numbers("f2", (11,)),
            "complex": np.array([1 + 2j, -3j]),
            "one": np.array(7),
        }
        for save in (np.savez, np.savez_compressed):
            path = self.folder / "file.npz"
            save(path, note="Tank 2, µm", words=np.array(["a", "b"]), **arrays)
            listing = Listing(path)
            for name, values in arrays.items():
                check_equal(self, listing, f"/{name}", values, "F" if name == "turned" else "C")
            self.assertIn("note = Tank 2, µm", listing.run.said)


class Tables(Reading):
    """NumPy's savetxt. Compared with the numbers as printed: Python's reading of each cell."""

    def save(self, values, header="", form="%.9g", newline="\n", bom=False, **options):
        path = self.folder / "table.txt"
        np.savetxt(path, values, fmt=form, header=header, comments="", newline=newline, encoding="utf-8", **options)
        if bom:
            path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes())
        printed = np.array([float(form % v) for v in np.ravel(values)]).reshape(np.shape(values))
        return path, printed

    def with_decimal_comma(self, path):
        path.write_text(path.read_text("utf-8").replace(".", ","), "utf-8")

    def test_separators_and_ends_of_lines(self):
        values = RANDOM.standard_normal((30, 3))
        for delimiter in (",", ";", "\t", " ", "  ", ", "):
            for newline in ("\n", "\r\n", "\r"):
                for bom in (False, True):
                    with self.subTest(delimiter=delimiter, newline=newline, bom=bom):
                        path, printed = self.save(
                            values,
                            delimiter.join(("first", "second", "third")),
                            delimiter=delimiter,
                            newline=newline,
                            bom=bom,
                        )
                        self.check(path, dict(zip(("/first", "/second", "/third"), printed.T)))

    def test_decimal_comma(self):
        values = RANDOM.standard_normal((30, 3))
        for delimiter in (";", "\t", " "):
            path, printed = self.save(values, delimiter.join(("first", "second", "third")), delimiter=delimiter)
            self.with_decimal_comma(path)
            self.check(path, dict(zip(("/first", "/second", "/third"), printed.T)))

    def test_ways_to_print_a_number(self):
        """C's printf: %e, %g with any number of digits, %f; all digits of a double."""
        values = RANDOM.standard_normal((50, 2)) * 10.0 ** RANDOM.integers(-30, 30, (50, 2))
        for form in ("%.3e", "%.17g", "%+.6E", "%g", "%.20e", "%25.18e"):
            path, printed = self.save(values, "a,b", form, delimiter=",")
            self.check(path, {"/a": printed[:, 0], "/b": printed[:, 1]})

    def test_without_header(self):
        """Many columns are one array, a few are arrays of their own."""
        path, printed = self.save(RANDOM.standard_normal((30, 12)), delimiter=",")
        self.check(path, {"/table": printed})
        path, printed = self.save(RANDOM.standard_normal((30, 2)), delimiter=",")
        self.check(path, {"/column_1": printed[:, 0], "/column_2": printed[:, 1]})

    def test_units_in_headers(self):
        values = np.column_stack([np.arange(40) * 0.02, RANDOM.standard_normal(40)])
        for header, names, units in [
            ("t (us),u (mV)", ("/t", "/u"), ("us", "mV")),
            ("Zeit [µs];Spannung [V]", ("/Zeit", "/Spannung"), ("µs", "V")),
            ("time/ns,signal/V", ("/time", "/signal"), ("ns", "V")),
            ("time,signal\ns,V", ("/time", "/signal"), ("s", "V")),
        ]:
            delimiter = ";" if ";" in header else ","
            path, printed = self.save(values, header, delimiter=delimiter)
            if delimiter == ";":
                self.with_decimal_comma(path)
            listing = self.check(path, dict(zip(names, printed.T)))
            for unit in units:
                self.assertIn(f"units = {unit}", listing.run.said)

    def test_remarks_and_attributes(self):
        values = np.column_stack([np.arange(30) * 2e-8, RANDOM.standard_normal(30)])
        header = "# Tank 2\n# operator = M. K.\n# gain_db = 12.5\n\nt_s,u"
        path, printed = self.save(values, header, delimiter=",")
        said = self.check(path, {"/t_s": printed[:, 0], "/u": printed[:, 1]}).run.said
        self.assertIn("operator = M. K.", said)
        self.assertIn("gain_db = 12.5", said)

    def test_wide(self):
        """A point a row, samples side by side."""
        x, waves = np.arange(12) * 0.25, RANDOM.standard_normal((12, 40))
        for names in ("waveforms[{}]", "v_{}", "s{}", "{}"):
            path, printed = self.save(
                np.column_stack([x, waves]), "x_mm," + ",".join(names.format(i) for i in range(40)), delimiter=","
            )
            name = {"{}": "/values", "v_{}": "/v", "s{}": "/s"}.get(names, "/waveforms")
            self.check(path, {"/x_mm": printed[:, 0], name: printed[:, 1:]})

    def test_long(self):
        """A sample a row: folded to points and samples by the numbers, time fast or slow."""
        x, t = np.arange(9) * 0.25, np.arange(60) * 0.02
        waves = RANDOM.standard_normal((9, 60))
        for slow in (False, True):
            grid = np.meshgrid(x, t, indexing="ij")
            columns = [a.T.ravel() if slow else a.ravel() for a in (*grid, waves)]
            path, printed = self.save(np.column_stack(columns), "x_mm,t_us,u_mV", delimiter=",")
            folded = printed[:, 2].reshape((60, 9) if slow else (9, 60))
            listing = self.check(path, {"/u_mV": folded})
            np.testing.assert_array_equal(np.sort(listing.values("/x_mm")), x)
            np.testing.assert_allclose(listing.values("/t_us"), t, rtol=1e-9)

    def test_one_waveform(self):
        t = np.arange(500) * 2e-8
        waves = RANDOM.standard_normal(500)
        path, printed = self.save(np.column_stack([t, waves]), "time (s)\tsignal (V)", "%.12e", delimiter="\t")
        listing = self.check(path, {"/time": printed[:, 0], "/signal": printed[:, 1]})
        self.assertEqual(len(listing.layouts()), 1, listing.run.said)


if __name__ == "__main__":
    unittest.main()

"""What the program finds in a file: `focalsheet look`, read back."""

import re
import tempfile
import unittest
from pathlib import Path

import numpy as np

import program

# `  /path    41 × 61 × 1500  int16  3.000 2.000 …`: path, dimensions, kind or that it is no number.
_ARRAY = re.compile(r"^  (/.*?) +(\d+(?: × \d+)*)  (\S.*?)(?:  .*)?$")


class Listing:
    """The arrays of a file by path: dimensions as the program that wrote the file shows them, and kind."""

    def __init__(self, path):
        self.path = path
        self.run = program.Run("look", path)
        if "panicked" in self.run.complained or self.run.status not in (0, 2):
            raise AssertionError(f"{path}: status {self.run.status}: {self.run.complained}")
        self.arrays = {}
        for line in self.run.said.split("\n\n")[0].splitlines():
            found = _ARRAY.match(line)
            if found:
                name, shape, kind = found.groups()
                self.arrays[name] = (tuple(int(n) for n in shape.split(" × ")), kind)

    def values(self, name):
        """All numbers of an array as the program reads them, storage order."""
        run = program.Run("look", self.path, "--values", name)
        if run.status != 0:
            raise AssertionError(f"{self.path} {name}: status {run.status}: {run.complained}")
        return np.array(run.said.split(), dtype=float)

    def layouts(self):
        """Layouts as proposed, in order."""
        return re.findall(r'^  "layout": (\{.*\})$', self.run.said, re.MULTILINE)


def parts(name, values):
    """Path and numbers of an array as it is listed: complex numbers are two arrays."""
    values = np.asarray(values)
    if values.dtype.kind == "c":
        return [(f"{name}/real", values.real), (f"{name}/imag", values.imag)]
    return [(name, values)]


def check_equal(test, listing, name, values, order="C"):
    """The array is listed with its dimensions and holds exactly these numbers, in storage order.
    Integers beyond 2^53 count as the nearest double (IEEE 754)."""
    for path, part in parts(name, values):
        test.assertIn(path, listing.arrays, f"{listing.path}: {listing.run.said}")
        test.assertEqual(listing.arrays[path][0], part.shape or (1,), path)
        expected = part.astype(float).ravel(order=order)
        np.testing.assert_array_equal(listing.values(path), expected, err_msg=f"{listing.path} {path}")


RANDOM = np.random.default_rng(2024)
# Every kind of number that is read, either byte order.
KINDS = ["i1", "u1"] + [
    order + kind for order in "<>" for kind in ("i2", "u2", "i4", "u4", "i8", "u8", "f2", "f4", "f8")
]


def numbers(kind, shape):
    """Numbers over the range of a kind, its ends included; NaN and infinities among floats."""
    kind = np.dtype(kind)
    count = int(np.prod(shape))
    if kind.kind in "iu":
        ends = np.iinfo(kind)
        values = RANDOM.integers(ends.min, ends.max, count, dtype=kind.newbyteorder("="), endpoint=True)
        values[:2] = ends.min, ends.max
    else:
        values = (RANDOM.standard_normal(count) * 10.0 ** RANDOM.integers(-3, 4, count)).astype(kind)
        values[:5] = np.finfo(kind).max, np.finfo(kind).tiny, np.nan, np.inf, -0.0
    return values.astype(kind).reshape(shape)


class Reading(unittest.TestCase):
    def setUp(self):
        temporary = tempfile.TemporaryDirectory()
        self.addCleanup(temporary.cleanup)
        self.folder = Path(temporary.name)

    def check(self, path, arrays, order="C"):
        """Each of these arrays is listed and holds these numbers."""
        listing = Listing(path)
        for name, values in arrays.items():
            with self.subTest(file=path.name, array=name):
                check_equal(self, listing, name, values, order)
        return listing

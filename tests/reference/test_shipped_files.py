"""Every NPY, NPZ and MAT file that ships with NumPy and SciPy: read as those libraries read it, or refused
with a message that names the file. Most of the MAT files were written by MATLAB itself, versions 4.2 to 8.
"""

import unittest
import warnings
from collections import Counter
from pathlib import Path

import h5py
import numpy as np
import scipy.io
from scipy import sparse

from listing import Listing, check_equal, parts

PACKAGES = [Path(np.__file__).parent, Path(scipy.__file__).parent]
# Fewest files of each format that are listed, and fewest arrays that are compared, in the pinned versions.
EXPECTED = {"npy": (11, 7), "npz": (22, 400), "mat": (88, 44)}
# Refused by design: files of level 4 have another structure; names that stand twice are not guessed at.
BY_DESIGN = {"level 4": "MAT file of level 4", "twice": "stands more than once"}
# Spoiled on purpose, as their names say; SciPy refuses them too.
SPOILED = {"bad_miuint32.mat", "corrupted_zlib_checksum.mat", "corrupted_zlib_data.mat", "malformed1.mat"}


def files(ending):
    return sorted(file for package in PACKAGES for file in package.rglob(f"*.{ending}"))


def leaves(name, value):
    """Numeric arrays of up to 64 bits a number, also inside structs: `/s/field`, in arrays of several
    structs `/s(2)/field`. Cells, objects, functions and sparse matrices are passed over."""
    if sparse.issparse(value) or type(value) is not np.ndarray:
        return
    if value.dtype.names:
        for number, element in enumerate(value.ravel(order="F")):
            place = name if value.size == 1 else f"{name}({number + 1})"
            for field in value.dtype.names:
                yield from leaves(f"{place}/{field}", element[field])
    elif (
        value.dtype.kind in "iufb"
        and value.dtype.itemsize <= 8
        or value.dtype.kind == "c"
        and value.dtype.itemsize <= 16
    ):
        yield name, value


def load_npy(path):
    return {"/array": np.load(path, allow_pickle=True)}


def load_npz(path):
    with np.load(path, allow_pickle=True) as archive:
        return {f"/{name}": archive[name] for name in archive.files}


def load_mat(path):
    if h5py.is_hdf5(path):
        # Stored column-major: the axes in reverse.
        with h5py.File(path) as f:
            return {f"/{name}": f[name][()].T for name in f if isinstance(f[name], h5py.Dataset)}
    variables = scipy.io.loadmat(path, struct_as_record=True, squeeze_me=False)
    return {f"/{name}": value for name, value in variables.items() if not name.startswith("__")}


class Shipped(unittest.TestCase):
    maxDiff = None

    def walk(self, ending, load):
        read, compared, refused = 0, 0, Counter()
        for path in files(ending):
            with self.subTest(file=path.name), warnings.catch_warnings():
                warnings.simplefilter("ignore")
                listing = Listing(path)
                if listing.run.status == 2:
                    self.assertIn(path.name, listing.run.complained)
                    reason = next((k for k, text in BY_DESIGN.items() if text in listing.run.complained), "spoiled")
                    refused[reason] += 1
                    if reason == "spoiled":
                        self.assertIn(path.name, SPOILED, listing.run.complained)
                    continue
                self.assertNotIn(path.name, SPOILED)
                read += 1
                try:
                    loaded = load(path)
                except Exception:  # noqa: BLE001 – objects pickled by Python 2, a name that is not ASCII
                    continue
                arrays = dict(leaf for name, value in loaded.items() for leaf in leaves(name, value))
                for name, values in arrays.items():
                    compared += 1
                    fortran = ending == "mat" or not values.flags.c_contiguous
                    check_equal(self, listing, name, values, "F" if fortran else "C")
                # Nothing else is passed off as numbers.
                known = {path for name, values in arrays.items() for path, _ in parts(name, values)}
                other = {name: kind for name, (_, kind) in listing.arrays.items() if name not in known}
                self.assertEqual(set(other.values()) - {"no number"}, set(), other)
        refusals = ", ".join(f"{n} {reason}" for reason, n in sorted(refused.items())) or "none"
        print(f"{ending}: {read} of {len(files(ending))} files read, {compared} arrays equal; refused: {refusals}")
        least_files, least_arrays = EXPECTED[ending]
        self.assertGreaterEqual(read, least_files)
        self.assertGreaterEqual(compared, least_arrays)

    def test_npy(self):
        self.walk("npy", load_npy)

    def test_npz(self):
        self.walk("npz", load_npz)

    def test_mat(self):
        self.walk("mat", load_mat)


if __name__ == "__main__":
    unittest.main()

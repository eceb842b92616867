"""Files that are broken, lie about themselves, or want more than there is: refused with clear messages, or
listed; never a crash, and within bounds of time and memory.

The files are written by h5py, NumPy, SciPy and Python's zipfile, zlib and struct, then spoiled.
"""

import io
import json
import os
import struct
import subprocess
import unittest
import zipfile
import zlib

import h5py
import numpy as np
import scipy.io

import program
from hostile import LONGEST_S, Hostile, npy, run


class HostileFiles(Hostile):
    def whole_files(self):
        """A sound file of each format."""
        waves = np.arange(12000, dtype="i2").reshape(60, 200)
        arrays = {"signal": waves, "x": np.arange(60) * 0.5, "dt": 2e-8}
        files = {}
        for name, options in (("packed.mat", {"do_compression": True}), ("plain.mat", {})):
            scipy.io.savemat(self.folder / name, arrays, **options)
        np.savez(self.folder / "stored.npz", **arrays)
        np.savez_compressed(self.folder / "packed.npz", **arrays)
        np.save(self.folder / "one.npy", waves)
        for version in ("earliest", "latest"):
            with h5py.File(self.folder / f"{version}.h5", "w", libver=version) as f:
                f.create_dataset("signal", data=waves, chunks=(7, 50), compression="gzip")
                f["x"] = arrays["x"]
        for path in sorted(self.folder.iterdir()):
            files[path.name] = path.read_bytes()
        return files

    def test_cut_short(self):
        """At any place: refused, with the name. (A table that ends early is a table.)"""
        for name, whole in self.whole_files().items():
            self.look(self.path(name), 0)
            for part in (1, 9, 100, 130, 200, len(whole) // 3, len(whole) - 1000, len(whole) - 7, len(whole) - 1):
                with self.subTest(file=name, bytes=part):
                    self.look(self.path(name, whole[:part]), 2)

    def test_spoiled_bytes(self):
        """Any byte may be wrong: listed or refused."""
        random = np.random.default_rng(7)
        for name, whole in self.whole_files().items():
            for _ in range(12):
                spoiled = bytearray(whole)
                # Structure stands at both ends of an archive.
                for at in random.integers(0, min(len(whole), 700), 4):
                    spoiled[at] = random.integers(0, 256)
                    spoiled[-1 - int(at) % 400] ^= int(random.integers(0, 256))
                self.look(self.path(name, bytes(spoiled)))

    def test_mislabelled(self):
        """The content says what a file is, never its name."""
        files = self.whole_files()
        for name, whole in files.items():
            self.assertIn("/signal" if name != "one.npy" else "/array", self.look(self.path("scan.csv", whole), 0))
        for name in ("scan.h5", "scan.mat", "scan.npz"):
            self.assertIn("/u", self.look(self.path(name, b"t,u\n" + b"1,2\n2,3\n" * 20), 0))
        with io.BytesIO() as archive:
            with zipfile.ZipFile(archive, "w") as z:
                z.writestr("word/document.xml", "<xml/>")
            others = {"archive.npz": archive.getvalue()}
        others |= {
            "picture.h5": b"\x89PNG\r\n\x1a\n" + bytes(200),
            "page.csv": b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n" + bytes(200),
            "packed.csv": b"\x1f\x8b\x08\0" + bytes(200),
            "old.nc": b"CDF\x01" + bytes(200),
            "noise.npy": np.random.default_rng(1).bytes(4000),
            "zeros.mat": bytes(4000),
            "empty.npz": b"",
            "words.csv": b"no numbers here\nand none here\n",
            "markup.csv": b"<html><body>Error 404</body></html>\n",
            "pointer.csv": json.dumps({"a": [1, 2, 3]}).encode(),
        }
        for name, content in others.items():
            with self.subTest(file=name):
                self.look(self.path(name, content), 2)

    def test_declared_sizes(self):
        """Sizes in headers are believed only as far as there are bytes."""
        shapes = [
            (10**6, 10**6),
            (10**12,),
            (2**32, 2**32),
            (2**63,),
            (10**30,),
            (2**62, 4),
            (-3,),
            (3, -1),
            (2**31, 2**31, 4),
        ]
        for shape in shapes:
            with self.subTest(npy=shape):
                self.look(self.path("huge.npy", npy(shape, bytes(600))), 2)
        with self.subTest("0 × 10^12 are no numbers"):
            self.look(self.path("none.npy", npy((0, 10**12))), 0)
        long = b"\x93NUMPY\x02\x00" + struct.pack("<I", 2**32 - 1) + b"{'descr': '<i2'"
        self.look(self.path("head.npy", long), 2)
        sound = self.folder / "sound.mat"
        scipy.io.savemat(sound, {"signal": np.zeros((20, 30))})
        whole = sound.read_bytes()
        for at in (132, 148, 164, 168, 172):
            for size in (2**31 - 8, 2**32 - 1):
                with self.subTest(mat=at, size=size):
                    self.look(self.path("huge.mat", whole[:at] + struct.pack("<I", size) + whole[at + 4 :]))

    def test_declared_zip_bomb(self):
        """The directory declares 4 GiB less one, and in 64 bits 10^15, for a few packed bytes."""
        for size, wide in ((2**32 - 2, b""), (2**32 - 1, struct.pack("<HHQ", 1, 8, 10**15))):
            packed = zlib.compress(npy((size // 2,), bytes(900)))[2:-4]
            name = b"bomb.npy"
            common = struct.pack("<HHHIIII", 0, 8, 0, 0, 0, len(packed), size)
            local = b"PK\x03\x04\x2d\x00" + common + struct.pack("<HH", len(name), 0) + name + packed
            entry = b"PK\x01\x02\x2d\x00\x2d\x00" + common
            entry += struct.pack("<HHHHHII", len(name), len(wide), 0, 0, 0, 0, 0) + name + wide
            end = b"PK\x05\x06" + struct.pack("<HHHHIIH", 0, 0, 1, 1, len(entry), len(local), 0)
            said = self.look(self.path("bomb.npz", local + entry + end), 2)
            self.assertIn("bomb", said)

    def test_real_zip_bomb(self):
        """A thousandfold: listed without unpacking all of it into memory, and not printed whole."""
        with zipfile.ZipFile(self.folder / "bomb.npz", "w", zipfile.ZIP_DEFLATED, compresslevel=1) as z:
            with z.open("signal.npy", "w", force_zip64=True) as f:
                f.write(npy((1000, 350_000)))
                for _ in range(100):
                    f.write(bytes(7_000_000))
        self.assertLess((self.folder / "bomb.npz").stat().st_size, 8_000_000)
        self.look(self.folder / "bomb.npz", 0)
        status, _, complained = run("look", self.folder / "bomb.npz", "--values", "/signal")
        self.assertEqual(status, 2)
        self.check_messages("bomb.npz", complained)
        self.refused("bomb.npz", "/signal")

    def test_real_mat_bomb(self):
        """One packed array of 700 MB of zeros."""
        dimensions = struct.pack("<II", 5, 8) + struct.pack("<ii", 350_000, 1000)
        head = struct.pack("<II", 6, 8) + struct.pack("<II", 10, 0) + dimensions + struct.pack("<HH4s", 1, 3, b"sig\0")
        size = 700_000_000
        packer = zlib.compressobj(1)
        packed = packer.compress(struct.pack("<II", 14, len(head) + 8 + size) + head + struct.pack("<II", 3, size))
        packed += b"".join(packer.compress(bytes(7_000_000)) for _ in range(100)) + packer.flush()
        text = b"MATLAB 5.0 MAT-file".ljust(116) + bytes(8) + struct.pack("<H", 0x100) + b"IM"
        path = self.path("bomb.mat", text + struct.pack("<II", 15, len(packed)) + packed)
        self.assertIn("/sig", self.look(path, 0))
        self.refused("bomb.mat", "/sig")

    def test_hdf5_of_a_million_million_elements(self):
        """Declared, never written: no memory is taken for it, and it is refused or told."""
        with h5py.File(self.folder / "huge.h5", "w") as f:
            f.create_dataset("waveforms", (10**4, 10**4, 10**4), "i2", chunks=(1, 1, 10**4))
            f["waveforms"].attrs["volts_per_count"] = 1e-3
            f["x_m"] = f["y_m"] = np.arange(10**4) * 1e-5
            f["dt_s"] = 2e-8
        self.look(self.folder / "huge.h5", 0)
        self.refused("huge.h5", "/waveforms")
        # Products that pass 64 bits: of all dimensions, of some of them, beside one of 0.
        layout = {
            "waveforms": "/w",
            "axes": ["y", "x", "t"],
            "x": {"start": 0, "step": 1e-3},
            "y": {"start": 0, "step": 1e-3},
            "time": {"dt": 2e-8},
            "volts": {"scale": 1},
        }
        for shape in ((2**33, 2**33, 16), (2**20, 2**12, 16), (2**40, 2**40, 0), (3, 3, 2**40)):
            with self.subTest(shape=shape):
                with h5py.File(self.folder / "wide.h5", "w") as f:
                    f.create_dataset("w", shape, "i2", chunks=(1, 1, 16), maxshape=(None, None, None))
                self.look(self.folder / "wide.h5")
                self.refused("wide.h5", "/w", layout=layout)
        with h5py.File(self.folder / "line.h5", "w") as f:
            f.create_dataset("waveforms", (2, 10**12), "i2", chunks=(1, 10**6))
        self.look(self.folder / "line.h5", 0)
        status, _, complained = run("look", self.folder / "line.h5", "--values", "/waveforms")
        self.assertEqual(status, 2)
        self.check_messages("line.h5", complained)

    def test_groups(self):
        """Deep ones, ones that contain themselves, links that go round, far too many."""
        with h5py.File(self.folder / "deep.h5", "w") as f:
            group = f
            for _ in range(1000):
                group = group.create_group("g")
            group["x"] = np.arange(5)
        self.look(self.folder / "deep.h5", 2)
        with h5py.File(self.folder / "round.h5", "w") as f:
            f["a/b/signal"] = np.arange(40.0)
            f["a/b/up"] = f["a"]
            f["a/root"] = f["/"]
            f["one"] = h5py.SoftLink("/two")
            f["two"] = h5py.SoftLink("/one")
            f["self"] = h5py.SoftLink("/self")
            for i in range(12):
                f[f"a/again{i}"] = f["a"]
        self.assertEqual(self.look(self.folder / "round.h5", 0).count("/a/b/signal  "), 1)
        with h5py.File(self.folder / "many.h5", "w") as f:
            for i in range(5000):
                f[f"x{i}"] = i
        self.look(self.folder / "many.h5", 2)

    def test_names_that_steer_the_terminal(self):
        """Control characters in names and texts are not passed on (ECMA-48, escape sequences)."""
        with h5py.File(self.folder / "names.h5", "w") as f:
            f["red\x1b[31m\nwaveforms"] = np.arange(64.0).reshape(2, 32)
            f["again\x1b[31m"] = np.arange(64.0).reshape(2, 32)
            f["cells\x1b[2J"] = h5py.SoftLink("/no\x1bwhere")
            f.attrs["key\x1b[1m"] = "value\x1b[0m\r"
        said = self.look(self.folder / "names.h5", 0)
        self.assertFalse([c for c in said if ord(c) < 32 and c != "\n"], said)
        self.refused("names.h5")

    def test_a_reader_that_has_seen_enough(self):
        """`focalsheet look FILE | head -1`: an end of the pipe is no crash (POSIX, EPIPE)."""
        np.save(self.folder / "long.npy", np.arange(100_000))
        for arguments in (["look", "--help"], ["look", self.folder / "long.npy", "--values", "/array"]):
            read, write = os.pipe()
            os.close(read)
            with os.fdopen(write, "wb") as closed:
                done = subprocess.run(
                    [str(program.PROGRAM), *map(str, arguments)],
                    stdout=closed,
                    stderr=subprocess.PIPE,
                    timeout=LONGEST_S,
                    check=False,
                )
            self.assertNotIn(b"panicked", done.stderr)
            self.assertNotEqual(done.returncode, 101)

    def test_tables(self):
        """Endless lines, a million columns, ragged rows; all broken cells of a table at once."""
        self.look(self.path("line.csv", b"1" * 30_000_000))
        self.look(
            self.path("wide.csv", b",".join(b"c%d" % i for i in range(1_000_000)) + b"\n" + b"0," * 999_999 + b"0\n"), 2
        )
        self.look(self.path("quotes.csv", b't,u\n1,"2\n' + b"3,4\n" * 100_000))
        self.look(self.path("nul.csv", b"t,u\n1,2\n\0\0\0\n" + b"3,4\n" * 50), 2)
        rows = [b"%d,%d" % (i, i) for i in range(60)]
        rows[10], rows[20], rows[30] = b"10,abc", b"20", b"30,1,2"
        said = self.look(self.path("ragged.csv", b"t,u\n" + b"\n".join(rows)), 2)
        for word in ("line 12", "abc", "line 22", "line 32"):
            self.assertIn(word, said)


if __name__ == "__main__":
    unittest.main()

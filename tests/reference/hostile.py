"""Runs the program on files that mean no good, within bounds of time and memory, and judges what it says."""

import re
import resource
import struct
import subprocess
import tempfile
import unittest
from pathlib import Path

import h5py

import program
from planes import Plane, write_record

# Each run; common practice, no source.
LONGEST_S = 10
MOST_BYTES = 600 << 20
SMALL = Plane.of_demo(slice(14, 27), slice(15, 26))


def run(*arguments):
    """Status, output and messages of the program within the bounds."""
    done = subprocess.run(
        [str(program.PROGRAM), *map(str, arguments)],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        timeout=LONGEST_S,
        check=False,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES)),
    )
    return done.returncode, done.stdout.decode(), done.stderr.decode()


def npy(header_shape, data=b"", descr="<i2"):
    """An NPY file of version 1.0 with any shape in its header."""
    head = repr({"descr": descr, "fortran_order": False, "shape": header_shape}).encode()
    head += b" " * (-(len(head) + 11) % 64) + b"\n"
    return b"\x93NUMPY\x01\x00" + struct.pack("<H", len(head)) + head + data


class Hostile(unittest.TestCase):
    def setUp(self):
        temporary = tempfile.TemporaryDirectory()
        self.addCleanup(temporary.cleanup)
        self.folder = Path(temporary.name)

    def path(self, name, content=None):
        path = self.folder / name
        if content is not None:
            path.write_bytes(content)
        return path

    def check_messages(self, name, message):
        """Every problem names the file and says what to do in a line of its own."""
        # What a file calls its arrays must not steer the terminal.
        self.assertFalse([c for c in message if ord(c) < 32 and c != "\n" or 127 <= ord(c) < 160], message)
        problems = re.split(r"\n(?=\S)", message.strip())
        self.assertTrue(problems[0], "a message")
        for problem in problems:
            first, *hint = problem.split("\n")
            self.assertTrue(first.startswith(name), problem)
            self.assertTrue(
                hint and hint[0].startswith("  ") and len(hint[0]) > 12, f"no word on what to do: {problem}"
            )
            self.assertNotRegex(problem, r"\bNone\b|Some\(|Err\(|\{\}|panicked|RUST_BACKTRACE")

    def look(self, path, *expected):
        """Status 0, or 2 with a message, when looked at; one of `expected` if given."""
        status, said, complained = run("look", path)
        self.assertIn(status, expected or (0, 2), f"{path.name}: {said} {complained}")
        if status == 2:
            self.check_messages(path.name, complained)
        return said + complained

    def refused(self, name, *words, layout=None, change=None):
        """Status 2 from a report, all the words in the messages, no sheet; the messages."""
        record = write_record(self.folder, name, layout, change)
        status, said, complained = run("report", record, "--out", self.folder / "sheet")
        self.assertEqual(status, 2, f"not refused: {said} {complained}")
        self.assertFalse((self.folder / "sheet").exists())
        self.check_messages(name, complained)
        for word in words:
            self.assertIn(word, complained)
        return complained

    def report(self, name, layout=None, change=None):
        """Status 0 or 1; the sheet."""
        record = write_record(self.folder, name, layout, change)
        status, said, complained = run("report", record, "--out", self.folder / "sheet")
        self.assertIn(status, (0, 1), said + complained)
        return program.Sheet(self.folder / "sheet" / "sheet.json")

    def plane(self, change=None, **arrays):
        """The small plane, self-described, with other arrays in places of its own."""
        with h5py.File(self.folder / "plane.h5", "w") as f:
            values = {name: getattr(SMALL, name) for name in ("x_m", "y_m", "z_m", "dt_s", "t0_s")}
            for name, value in (values | {"waveforms": SMALL.counts} | arrays).items():
                if value is not None:
                    f[name] = value
            f["waveforms"].attrs["volts_per_count"] = SMALL.volts_per_count
            if change:
                change(f)
        return "plane.h5"

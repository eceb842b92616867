"""Inputs and results of the numerics, as `cargo test` (tests/dsp_cases.rs) left them."""

import json
import os
import re
import unittest

import numpy as np

import program

PATH = program.Path(os.environ.get("FOCALSHEET_DSP_CASES", program.ROOT / "target/dsp-cases.json"))
SOURCES = program.ROOT / "src/dsp"


class Missing(AssertionError):
    """The file of cases is not there."""


_read = None


def all_cases():
    """All cases, read once."""
    global _read
    if _read is None:
        if not PATH.is_file():
            raise Missing(f"{PATH} is missing: run `cargo test --release --test dsp_cases` first, which writes it.")
        _read = json.loads(PATH.read_bytes())
    return _read


class Cases(unittest.TestCase):
    """A test that goes through the cases of a routine."""

    def each(self, file, routine, check):
        """Calls `check` with every case as its input, the lists as arrays, and its result; each in a
        subtest of its own."""
        found = [c for c in all_cases() if (c["file"], c["routine"]) == (file, routine)]
        self.assertTrue(found, f"no case of {file}::{routine}")
        for case in found:
            with self.subTest(routine=routine, case=case["name"]):
                check(Input(case), case["out"])

    def one(self, file, routine, name):
        """Input and result of the case of that name."""
        found = [c for c in all_cases() if (c["file"], c["routine"], c["name"]) == (file, routine, name)]
        self.assertEqual(len(found), 1, f"{file}::{routine}, {name}")
        return Input(found[0]), found[0]["out"]

    def near(self, found, expected, tolerance, message=""):
        """Every element within `tolerance`, absolute."""
        found, expected = np.asarray(found), np.asarray(expected)
        self.assertEqual(found.shape, expected.shape, message)
        off = np.abs(found - expected).max(initial=0.0)
        self.assertLessEqual(off, tolerance, f"{message} off by {off:.3g}")


class Input:
    """Arguments of a call as attributes, and the name of the case."""

    def __init__(self, case):
        self.name = case["name"]
        for name, value in case["in"].items():
            setattr(self, name, np.asarray(value, dtype=float) if _is_numbers(value) else value)


def _is_numbers(value):
    return isinstance(value, list) and all(isinstance(v, (int, float)) for v in value)


def as_complex(pair):
    """An array of complex numbers from its two lists."""
    return np.asarray(pair["re"], dtype=float) + 1j * np.asarray(pair["im"], dtype=float)


def public_modules():
    """Names of the source files that are public modules."""
    return re.findall(r"^pub mod (\w+);", (SOURCES / "mod.rs").read_text(encoding="utf-8"), re.MULTILINE)


def public_routines(file):
    """Names of the public functions of a source file, without constructors and tests."""
    text = (SOURCES / f"{file}.rs").read_text(encoding="utf-8").split("#[cfg(test)]")[0]
    return set(re.findall(r"^\s*pub fn (\w+)", text, re.MULTILINE)) - {"new"}

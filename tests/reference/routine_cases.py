"""Inputs and results of the routines of a folder of `src/`, as `cargo test` left them."""

import functools
import json
import os
import re
import unittest

import numpy as np

import program


class Missing(AssertionError):
    """The file of cases is not there."""


@functools.cache
def all_cases(folder):
    """All cases of the routines of `src/<folder>/`, read once; tests/<folder>_cases.rs writes them."""
    given = os.environ.get(f"FOCALSHEET_{folder.upper()}_CASES")
    path = program.Path(given or program.ROOT / f"target/{folder}-cases.json")
    if not path.is_file():
        raise Missing(f"{path} is missing: run `cargo test --release --test {folder}_cases` first, which writes it.")
    return json.loads(path.read_bytes())


class Cases(unittest.TestCase):
    """A test that goes through the cases of a routine of `src/<folder>/`."""

    folder = None

    def each(self, file, routine, check):
        """Calls `check` with every case as its input, the lists as arrays, and its result; each in a
        subtest of its own."""
        found = [c for c in all_cases(self.folder) if (c["file"], c["routine"]) == (file, routine)]
        self.assertTrue(found, f"no case of {file}::{routine}")
        for case in found:
            with self.subTest(routine=routine, case=case["name"]):
                check(Input(case), case["out"])

    def one(self, file, routine, name):
        """Input and result of the case of that name."""
        wanted = (file, routine, name)
        found = [c for c in all_cases(self.folder) if (c["file"], c["routine"], c["name"]) == wanted]
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


def _source(folder, file):
    return (program.ROOT / "src" / folder / f"{file}.rs").read_text(encoding="utf-8")


def public_modules(folder):
    """Names of the source files that are public modules."""
    return re.findall(r"^pub mod (\w+);", _source(folder, "mod"), re.MULTILINE)


def public_routines(folder, file):
    """Names of the public functions of a source file, without constructors and tests."""
    text = _source(folder, file).split("#[cfg(test)]")[0]
    return set(re.findall(r"^\s*pub fn (\w+)", text, re.MULTILINE)) - {"new"}


def routines_without_a_case(folder):
    """Public functions of public modules, as (file, routine)."""
    have = {(c["file"], c["routine"]) for c in all_cases(folder)}
    return {(f, r) for f in public_modules(folder) for r in public_routines(folder, f)} - have

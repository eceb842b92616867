"""Inputs and results of the numerics on waveforms, as `cargo test` (tests/dsp_cases.rs) left them."""

import numpy as np

import routine_cases


class Cases(routine_cases.Cases):
    """A test that goes through the cases of a routine of `src/dsp/`."""

    folder = "dsp"


def as_complex(pair):
    """An array of complex numbers from its two lists."""
    return np.asarray(pair["re"], dtype=float) + 1j * np.asarray(pair["im"], dtype=float)

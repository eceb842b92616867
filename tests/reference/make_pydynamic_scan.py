"""Converts the measured hydrophone record that PyDynamic carries into a scan, a table and a record.

    python make_pydynamic_scan.py OUT

Source: PyDynamic 2.5.1, examples/uncertainty_for_dft (S. Eichstaedt and V. Wilkens, GUM2DFT, Meas.
Sci. Technol. 27 (2016) 055001): 1000 samples at 2 ns of a hydrophone's output, and a calibration of
2049 rows up to 250 MHz. The record's header calls the column a pressure in MPa; it is the voltage,
and the calibration is in V/MPa (so the example's own plot). Its header calls the uncertainty of the
phase one in rad; the example takes it in degrees (times π/180), and only so is it plausible: in rad the
peak's uncertainty would be twice the peak. The example takes the rows as independent. The files are
converted where the tests run and never kept.
"""

import importlib.util
import json
import sys
from pathlib import Path

import numpy as np

FOLDER = "examples/uncertainty_for_dft"
LOWPASS_HZ = 80e6
LOWPASS_ORDER = 2


def data_folder():
    """Where the installed package keeps its data; the package itself is not imported."""
    spec = importlib.util.find_spec("PyDynamic")
    if spec is None or not spec.submodule_search_locations:
        raise SystemExit("PyDynamic is not installed: pip install --no-deps -r requirements-data.txt")
    return Path(spec.submodule_search_locations[0]) / FOLDER


def measured():
    """Time in s and output in V."""
    t_s, volts = np.loadtxt(data_folder() / "DFTdeconv measured_signal.dat", unpack=True)
    return t_s, volts


def calibration():
    """Frequency in Hz, magnitude in V/Pa, phase in rad."""
    f_hz, v_per_mpa, _, phase_rad, _ = np.loadtxt(data_folder() / "DFTdeconv calibration.dat", unpack=True)
    return f_hz, v_per_mpa * 1e-6, phase_rad


def calibration_uncertainty():
    """Standard uncertainties of the rows: of the magnitude in V/Pa, of the phase in rad."""
    _, _, u_v_per_mpa, _, u_phase_deg = np.loadtxt(data_folder() / "DFTdeconv calibration.dat", unpack=True)
    return u_v_per_mpa * 1e-6, np.radians(u_phase_deg)


def reference_pressure():
    """Pressure in Pa of the reference measurement that comes with the record."""
    _, mpa = np.loadtxt(data_folder() / "DFTdeconv reference_signal.dat", unpack=True)
    return mpa * 1e6


def write(out):
    """Writes the scan, the table and the record; returns the record's path."""
    out = Path(out)
    out.mkdir(parents=True, exist_ok=True)
    t_s, volts = measured()
    with open(out / "hydrophone.csv", "w", encoding="utf-8", newline="\n") as f:
        f.write("# note = measured hydrophone record carried by PyDynamic 2.5.1\n# unit = V\nt_s,waveforms\n")
        f.writelines(f"{t:.9e},{v:.17g}\n" for t, v in zip(t_s, volts))
    with open(out / "calibration.csv", "w", encoding="utf-8", newline="\n") as f:
        f.write("# note = calibration carried by PyDynamic 2.5.1; uncertainties are standard\n")
        f.write("frequency_hz,sensitivity_v_per_pa,phase_rad,u_sensitivity_v_per_pa,u_phase_rad\n")
        rows = zip(*calibration(), *calibration_uncertainty())
        f.writelines(",".join(f"{v:.17g}" for v in row) + "\n" for row in rows)
    record = {
        "schema": "focalsheet-record/1",
        "title": "Measured hydrophone record",
        "water": {"temperature_c": 22.0},
        "sensor": {
            "response": {
                "kind": "table",
                "file": "calibration.csv",
                "refers_to": "end-of-cable",
                "frequency_correlation": "independent",
            }
        },
        "analysis": {"lowpass": {"kind": "one-pole", "order": LOWPASS_ORDER, "cutoff_hz": LOWPASS_HZ}},
        "scans": [{"id": "hydrophone", "role": "point", "file": "hydrophone.csv"}],
    }
    path = out / "record.json"
    path.write_text(json.dumps(record, indent=2) + "\n", encoding="utf-8")
    return path


if __name__ == "__main__":
    if len(sys.argv) != 2:
        raise SystemExit(__doc__)
    print(write(sys.argv[1]))

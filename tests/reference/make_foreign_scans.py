"""The plane of the demo in files that must be read by one reader, or with a layout of their own, for
the page's tests: a folder each with record and sensitivity table.

    python make_foreign_scans.py FOLDER
"""

import sys
from pathlib import Path

import h5py
import numpy as np
import scipy.io
from planes import Plane, write_record

MM = 1e3


def named(plane):
    """Foreign names with their units."""
    return {"x_mm": plane.x_m * MM, "y_mm": plane.y_m * MM, "z_mm": plane.z_m * MM, "t_us": plane.t_s * 1e6}


def time_first(plane, path):
    with h5py.File(path, "w") as f:
        f.create_dataset("scan/volts", data=np.moveaxis(plane.volts, 2, 0), chunks=(50, 10, 10), compression="gzip")
        f["scan/volts"].attrs["units"] = "V"
        for name, values in named(plane).items():
            f[f"scan/{name}"] = values


def npz(plane, path):
    np.savez_compressed(path, signal_mV=plane.volts * 1e3, **named(plane))


def mat(plane, path):
    scipy.io.savemat(path, {"scan": {"signal_mV": plane.volts * 1e3, **named(plane)}}, do_compression=True)


def text(plane, path):
    y, x = (a.ravel() for a in np.meshgrid(plane.y_m * MM, plane.x_m * MM, indexing="ij"))
    with open(path, "w", encoding="utf-8") as f:
        f.write(f"# z_mm = {plane.z_m * MM}\n# units = V\n")
        times = ";".join(f"{t:.3f} us" for t in plane.t_s * 1e6).replace(".", ",")
        f.write(f"x (mm);y (mm);{times}\n")
        for a, b, wave in zip(x, y, plane.volts.reshape(len(x), -1)):
            f.write(";".join(f"{v:.9g}" for v in (a, b, *wave)).replace(".", ",") + "\n")


def main():
    out, plane = Path(sys.argv[1]), Plane.of_demo()
    for name, file, write in (
        ("time-first", "scan.h5", time_first),
        ("npz", "scan.npz", npz),
        ("mat", "scan.mat", mat),
        ("text", "scan.csv", text),
    ):
        folder = out / name
        folder.mkdir(parents=True, exist_ok=True)
        write(plane, folder / file)
        write_record(folder, file)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        raise SystemExit(__doc__)
    main()

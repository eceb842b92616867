"""The benchmark's plane in other files: a folder each, with record and sensitivity table.

    python make_formats.py FOLDER [--only NAME…]

FOLDER holds scan.h5, record.json and sensitivity.csv of make_scan.py; the folders are made inside it.
Waveforms go from file to file row by row: none needs the memory of the whole.
"""

import json
import shutil
import sys
import zipfile
from pathlib import Path

import h5py
import numpy as np



class Source:
    def __init__(self, folder):
        self.folder = Path(folder)
        self.file = h5py.File(self.folder / "scan.h5")
        self.waveforms = self.file["waveforms"]
        self.x, self.y = self.file["x_m"][:], self.file["y_m"][:]
        self.z = float(self.file["z_m"][0])
        self.dt, self.t0 = float(self.file["dt_s"][()]), float(self.file["t0_s"][()])
        self.record = json.loads((self.folder / "record.json").read_text(encoding="utf-8"))

    def names(self):
        return {"x_m": self.x, "y_m": self.y, "z_m": np.array([self.z]), "dt_s": np.array(self.dt), "t0_s": np.array(self.t0)}

    def layout(self, axes, waveforms="/array"):
        along = lambda v: {"start": float(v[0]), "step": float((v[-1] - v[0]) / (len(v) - 1)), "unit": "m"}
        time = {"dt": self.dt, "t0": self.t0, "unit": "s"}
        return {"waveforms": waveforms, "axes": axes, "x": along(self.x), "y": along(self.y), "time": time}


def hdf5(source, path, transposed=False, **options):
    n = source.waveforms.shape
    with h5py.File(path, "w") as f:
        shape = (n[2], n[0], n[1]) if transposed else n
        out = f.create_dataset("waveforms", shape, np.float32, **options)
        out.attrs["units"] = "V"
        out.attrs["axes"] = "t y x" if transposed else "y x t"
        if transposed:
            # Rows of the plane together: the target is written in runs, the source read whole rows.
            rows = max(1, (256 << 20) // (4 * n[1] * n[2]))
            for row in range(0, n[0], rows):
                part = source.waveforms[row : row + rows]
                out[:, row : row + rows, :] = np.ascontiguousarray(np.moveaxis(part, 2, 0))
        else:
            for row in range(n[0]):
                out[row] = source.waveforms[row]
        for name, value in source.names().items():
            f[name] = value


def npy(source, path):
    n = source.waveforms.shape
    out = np.lib.format.open_memmap(path, "w+", np.float32, n)
    for row in range(n[0]):
        out[row] = source.waveforms[row]
    out.flush()


def npz(source, path, method):
    with zipfile.ZipFile(path, "w", method, allowZip64=True, compresslevel=1) as archive:
        for name, value in source.names().items():
            with archive.open(f"{name}.npy", "w") as member:
                np.lib.format.write_array(member, value)
        with archive.open("waveforms.npy", "w", force_zip64=True) as member:
            n = source.waveforms.shape
            np.lib.format.write_array_header_1_0(member, {"descr": "<f4", "fortran_order": False, "shape": n})
            for row in range(n[0]):
                member.write(source.waveforms[row].tobytes())


def mat(source, path, compressed):
    from scipy.io import savemat

    # Column-major (samples, x, y) lies in the file as (y, x, samples) does.
    whole = np.asfortranarray(source.waveforms[:].transpose(2, 1, 0))
    names = {name: np.atleast_2d(value) for name, value in source.names().items()}
    savemat(path, {"waveforms": whole, "axes": "t x y", **names}, do_compression=compressed)


def text(source, path):
    n = source.waveforms.shape
    with open(path, "w", encoding="utf-8") as f:
        f.write(f"# dt_s = {source.dt!r}\n# t0_s = {source.t0!r}\n# z_m = {source.z!r}\n")
        f.write("x_m,y_m," + ",".join(f"waveforms[{i}]" for i in range(n[2])) + "\n")
        for row in range(n[0]):
            for column, wave in enumerate(source.waveforms[row]):
                f.write(f"{float(source.x[column])!r},{float(source.y[row])!r}," + ",".join(f"{v:.6g}" for v in wave) + "\n")


KINDS = {
    "hdf5": ("scan.h5", lambda s, p: hdf5(s, p), None),
    "hdf5-gzip": ("scan.h5", lambda s, p: hdf5(s, p, chunks=(1, s.waveforms.shape[1], s.waveforms.shape[2]), compression=1), None),
    "hdf5-time-first": ("scan.h5", lambda s, p: hdf5(s, p, transposed=True), None),
    "npy": ("scan.npy", npy, ["y", "x", "t"]),
    "npz-stored": ("scan.npz", lambda s, p: npz(s, p, zipfile.ZIP_STORED), None),
    "npz-deflated": ("scan.npz", lambda s, p: npz(s, p, zipfile.ZIP_DEFLATED), None),
    "mat": ("scan.mat", lambda s, p: mat(s, p, False), None),
    "mat-packed": ("scan.mat", lambda s, p: mat(s, p, True), None),
    "text": ("scan.csv", text, None),
}


def main():
    source = Source(sys.argv[1])
    wanted = sys.argv[3:] if "--only" in sys.argv[2:3] else list(KINDS)
    for name in wanted:
        file, write, axes = KINDS[name]
        folder = source.folder / name
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir()
        write(source, folder / file)
        record = json.loads(json.dumps(source.record))
        record["scans"][0]["file"] = file
        if axes:
            record["scans"][0]["layout"] = source.layout(axes)
        (folder / "record.json").write_text(json.dumps(record, indent=2) + "\n", encoding="utf-8")
        shutil.copy(source.folder / "sensitivity.csv", folder)
        print(f"{name}: {(folder / file).stat().st_size / 1e6:.0f} MB", flush=True)


if __name__ == "__main__":
    main()

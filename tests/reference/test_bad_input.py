"""Inputs that are wrong: one clear message each, the right exit status, nothing half-written, no panic.

Every case is made from a small sound scan by one change.
"""

import copy
import json
import tempfile
import unittest
from pathlib import Path

import h5py
import numpy as np

import program
import scans

NX, NY, NT = 9, 7, 400
DT_S, F_HZ = 2e-8, 1.5e6


def sound_plane(path, change=None):
    """A small plane in HDF5; `change(file)` spoils it."""
    x = (np.arange(NX) - NX // 2) * 0.4e-3
    y = (np.arange(NY) - NY // 2) * 0.4e-3
    amplitude = 1e6 * np.exp(-(x[None, :] ** 2 + y[:, None] ** 2) / 0.8e-3**2)
    t = np.arange(NT) * DT_S
    p = scans.tone_burst(amplitude, F_HZ, t, 3.5e-6, 4.0, 1.0)
    p += 1e3 * np.random.default_rng(5).standard_normal(p.shape)
    scans.write_scan(path, p, DT_S, 0.0, x_m=x, y_m=y, z_m=0.05)
    if change:
        with h5py.File(path, "r+") as f:
            change(f)


def replaced(f, name, values):
    del f[name]
    f[name] = values


class BadInput(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.addCleanup(self.temporary.cleanup)
        self.folder = Path(self.temporary.name)
        self.out = self.folder / "sheet"
        sound_plane(self.folder / "plane.h5")
        self.record = scans.write_record(
            self.folder,
            [("plane", "plane", "plane.h5")],
            excitation={"frequency_hz": F_HZ, "cycles": 4, "repetition_hz": 100.0, "mode": "burst"},
        )

    def change_record(self, change):
        record = json.loads(self.record.read_text())
        change(record)
        self.record.write_text(json.dumps(record))

    def run_report(self):
        run = program.Run("report", self.record, "--out", self.out)
        self.assertNotIn("panicked", run.complained)
        self.assertNotIn("RUST_BACKTRACE", run.complained)
        self.assertIn(run.status, (0, 1, 2), run.complained)
        # Nothing half-written, whatever happened.
        self.assertFalse(self.out.with_name("sheet.new").exists())
        return run

    def refused(self, *words):
        """Status 2, all the words in the message, no sheet."""
        run = self.run_report()
        self.assertEqual(run.status, 2, f"not refused: {run.said} {run.complained}")
        self.assertFalse(self.out.exists(), "a refused report leaves no sheet")
        for word in words:
            self.assertIn(word, run.complained)
        return run.complained

    def table(self, text):
        (self.folder / "table.csv").write_text(text)

        def use(record):
            record["sensor"]["response"] = {"kind": "table", "file": "table.csv", "refers_to": "end-of-cable"}

        self.change_record(use)

    def test_the_sound_scan_is_taken(self):
        run = self.run_report()
        self.assertEqual(run.status, 0, run.complained)
        for name in ("sheet.html", "sheet.json", "quantities.csv", "figures"):
            self.assertTrue((self.out / name).exists(), name)

    # The record.

    def test_no_record(self):
        self.record.unlink()
        self.refused("record.json")

    def test_a_folder_as_record(self):
        self.record.unlink()
        self.record.mkdir()
        self.refused("record.json")

    def test_empty_record(self):
        self.record.write_text("")
        self.refused("record.json")

    def test_record_that_is_no_json(self):
        self.record.write_text('{"schema": "focalsheet-record/1",,}')
        self.refused("record.json")

    def test_record_that_is_no_text(self):
        self.record.write_bytes(bytes(range(256)))
        self.refused("record.json")

    def test_wrong_key_with_the_nearest_right_one(self):
        self.change_record(lambda r: r["excitation"].update(repetiton_hz=100.0))
        self.refused("repetiton_hz", "repetition_hz", "excitation")

    def test_wrong_kind_of_value(self):
        self.change_record(lambda r: r["excitation"].update(frequency_hz="1.5 MHz"))
        self.refused("excitation.frequency_hz")

    def test_wrong_word(self):
        self.change_record(lambda r: r["scans"][0].update(role="plan"))
        self.refused("scans[0].role", "plane")

    def test_negative_repetition_rate(self):
        self.change_record(lambda r: r["excitation"].update(repetition_hz=-100.0))
        self.refused("excitation.repetition_hz", "100")

    def test_water_that_boils(self):
        self.change_record(lambda r: r["water"].update(temperature_c=210.0))
        self.refused("water.temperature_c", "210")

    def test_sensitivity_of_zero(self):
        self.change_record(lambda r: r["sensor"]["response"].update(v_per_pa=0.0))
        self.refused("v_per_pa")

    def test_all_problems_of_a_record_at_once(self):
        def spoil(record):
            record["titel"] = "x"
            record["excitation"]["repetition_hz"] = -1.0
            record["water"]["temperature_c"] = "warm"
            record["sensor"]["bitz"] = 12

        self.change_record(spoil)
        self.refused("titel", "title", "excitation.repetition_hz", "water.temperature_c", "bitz", "bits")

    def test_no_scans(self):
        self.change_record(lambda r: r.update(scans=[]))
        self.refused("scan")

    def test_two_scans_of_one_name(self):
        self.change_record(lambda r: r["scans"].append(copy.deepcopy(r["scans"][0])))
        self.refused("plane")

    # The files.

    def test_missing_scan_file(self):
        (self.folder / "plane.h5").unlink()
        self.refused("plane.h5")

    def test_all_missing_files_at_once(self):
        (self.folder / "plane.h5").unlink()

        def more(record):
            record["scans"].append({"id": "other", "role": "point", "file": "other.csv"})

        self.change_record(more)
        self.refused("plane.h5", "other.csv")

    def test_empty_scan_file(self):
        (self.folder / "plane.h5").write_bytes(b"")
        self.refused("plane.h5")

    def test_a_folder_as_scan_file(self):
        (self.folder / "plane.h5").unlink()
        (self.folder / "plane.h5").mkdir()
        self.refused("plane.h5")

    def test_truncated_hdf5(self):
        whole = (self.folder / "plane.h5").read_bytes()
        for part in (9, 100, 600, 2000, len(whole) // 2, len(whole) - 100):
            with self.subTest(bytes=part):
                (self.folder / "plane.h5").write_bytes(whole[:part])
                self.refused("plane.h5")

    def test_hdf5_with_spoiled_bytes(self):
        """Any byte may be wrong: refused or computed, but never a crash or a hang."""
        whole = bytearray((self.folder / "plane.h5").read_bytes())
        random = np.random.default_rng(11)
        for _ in range(60):
            spoiled = bytearray(whole)
            for at in random.integers(0, 4096, 8):
                spoiled[at] = random.integers(0, 256)
            (self.folder / "plane.h5").write_bytes(spoiled)
            self.run_report()

    def test_a_file_of_no_known_kind(self):
        (self.folder / "plane.h5").write_bytes(bytes([0, 1, 2, 3]) * 500)
        self.refused("plane.h5")

    def test_axis_that_does_not_fit(self):
        sound_plane(self.folder / "plane.h5", lambda f: replaced(f, "x_m", np.arange(NX + 1) * 1e-3))
        self.refused("plane.h5", "x_m", str(NX), str(NX + 1))

    def test_axis_that_is_missing(self):
        def spoil(f):
            del f["y_m"]

        sound_plane(self.folder / "plane.h5", spoil)
        self.refused("plane.h5", "y_m")

    def test_axis_that_turns_back(self):
        sound_plane(self.folder / "plane.h5", lambda f: replaced(f, "x_m", np.array([0, 1, 2, 3, 2, 5, 6, 7, 8.0])))
        self.refused("plane.h5", "x_m")

    def test_axis_with_nan(self):
        sound_plane(self.folder / "plane.h5", lambda f: replaced(f, "y_m", np.full(NY, np.nan)))
        self.refused("plane.h5", "y_m")

    def test_no_waveforms(self):
        def spoil(f):
            del f["waveforms"]
            f["note"] = "the waveforms went elsewhere"

        sound_plane(self.folder / "plane.h5", spoil)
        self.refused("plane.h5", "waveforms")

    def test_role_that_the_shape_does_not_have(self):
        self.change_record(lambda r: r["scans"][0].update(role="point"))
        self.refused("plane.h5")

    def test_zero_interval(self):
        for interval in (0.0, -2e-8, np.nan):
            with self.subTest(interval=interval):
                sound_plane(self.folder / "plane.h5", lambda f, dt=interval: replaced(f, "dt_s", dt))
                self.refused("plane.h5", "dt_s")

    def test_missing_interval(self):
        def spoil(f):
            del f["dt_s"]

        sound_plane(self.folder / "plane.h5", spoil)
        self.refused("plane.h5", "dt_s")

    def test_counts_without_a_scale(self):
        sound_plane(self.folder / "plane.h5", lambda f: replaced(f, "waveforms", np.zeros((NY, NX, NT), "i2")))
        self.refused("plane.h5", "waveforms")

    def test_csv_with_a_broken_cell(self):
        t = np.arange(400) * DT_S
        scans.write_point(self.folder / "wave.csv", t, scans.tone_burst(1e6, F_HZ, t, 3.5e-6, 4.0, 1.0))
        lines = (self.folder / "wave.csv").read_text().splitlines()
        lines[7] = "1.2e-7,abc"
        lines[9] = "1.6e-7"
        (self.folder / "wave.csv").write_text("\n".join(lines))
        self.change_record(lambda r: r.update(scans=[{"id": "wave", "role": "point", "file": "wave.csv"}]))
        self.refused("wave.csv", "line 8", "abc", "line 10")

    def test_csv_with_uneven_time(self):
        t = np.arange(400) * DT_S
        t[100:] += 3 * DT_S
        scans.write_point(self.folder / "wave.csv", t, np.sin(t * 1e7))
        self.change_record(lambda r: r.update(scans=[{"id": "wave", "role": "point", "file": "wave.csv"}]))
        self.refused("wave.csv", "t_s")

    # The table.

    def test_missing_table(self):
        self.table("")
        (self.folder / "table.csv").unlink()
        self.refused("table.csv")

    def test_empty_table(self):
        self.table("")
        self.refused("table.csv")

    def test_table_without_magnitude(self):
        self.table("frequency_hz,phase_rad\n1e5,0\n3e7,0\n")
        self.refused("table.csv", "sensitivity_v_per_pa")

    def test_table_out_of_order(self):
        self.table("frequency_hz,sensitivity_v_per_pa\n1e6,5e-8\n1e5,5e-8\n3e7,5e-8\n")
        self.refused("table.csv", "frequency")

    def test_table_not_covering_the_band(self):
        """Usable below its end only: a finding (or a refusal), never silence."""
        for rows in ("2e6,5e-8\n3e7,5e-8\n", "1e4,5e-8\n1e6,5e-8\n"):
            with self.subTest(rows=rows):
                self.table(f"frequency_hz,sensitivity_v_per_pa\n{rows}")
                run = self.run_report()
                if run.status == 2:
                    self.assertIn("table.csv", run.complained)
                else:
                    self.assertIn("table-not-covering", program.Sheet(self.out / "sheet.json").codes("plane"))

    # Data that can be used in part.

    def test_nan_samples(self):
        def spoil(f):
            f["waveforms"][1, 1, 100:103] = np.nan

        sound_plane(self.folder / "plane.h5", spoil)
        run = self.run_report()
        self.assertIn(run.status, (0, 1), run.complained)
        sheet = program.Sheet(self.out / "sheet.json")
        self.assertIn("samples-not-finite", sheet.codes("plane"))
        self.assertIn(NX + 1, sheet.scan("plane")["excluded_points"])

    def test_only_nan(self):
        sound_plane(self.folder / "plane.h5", lambda f: f["waveforms"].write_direct(np.full((NY, NX, NT), np.nan, "f4")))
        run = self.run_report()
        self.assertIn(run.status, (1, 2), run.complained)

    def test_only_zeros(self):
        sound_plane(self.folder / "plane.h5", lambda f: f["waveforms"].write_direct(np.zeros((NY, NX, NT), "f4")))
        run = self.run_report()
        self.assertIn(run.status, (1, 2), run.complained)

    def test_clipped_peak_is_unfit(self):
        """Done, but unfit: status 1, and the peak is a lower bound."""
        self.change_record(lambda r: r["sensor"].update(full_scale_v=0.04, bits=12))

        def clip(f):
            f["waveforms"][...] = np.clip(f["waveforms"][...], -0.04, 0.04)

        sound_plane(self.folder / "plane.h5", clip)
        run = self.run_report()
        self.assertEqual(run.status, 1, run.complained)
        sheet = program.Sheet(self.out / "sheet.json")
        self.assertIn("clipped-at-peak", sheet.codes("plane"))
        self.assertTrue(sheet.quantity("plane", "pc")["lower_bound"])
        self.assertIsNone(sheet.quantity("plane", "width_x_6")["value"])

    # The command line.

    def test_a_foreign_folder_is_not_overwritten(self):
        self.out.mkdir()
        (self.out / "mine.txt").write_text("mine")
        run = self.run_report()
        self.assertEqual(run.status, 2)
        self.assertIn("sheet", run.complained)
        self.assertEqual([p.name for p in self.out.iterdir()], ["mine.txt"])

    def test_wrong_commands(self):
        for arguments in (["paint"], ["report"], ["report", self.record], ["report", self.record, "--in", "x"]):
            run = program.Run(*arguments)
            self.assertEqual(run.status, 2, arguments)
            self.assertTrue(run.complained.strip())

    def test_a_record_skeleton_is_a_record(self):
        """`focalsheet record` writes what `focalsheet report` then reads."""
        self.record.unlink()
        run = program.Run("record", self.folder)
        self.assertEqual(run.status, 0, run.complained)
        self.assertEqual(json.loads(self.record.read_text())["scans"][0]["role"], "plane")
        again = program.Run("record", self.folder)
        self.assertEqual(again.status, 2, "an existing record is not overwritten")
        self.assertIn(self.run_report().status, (0, 1))


class SameBytes(unittest.TestCase):
    def test_a_report_twice_gives_the_same_bytes(self):
        with tempfile.TemporaryDirectory() as folder:
            folder = Path(folder)
            for out in ("one", "two"):
                program.report(program.DEMO / "record.json", folder / out)
            names = sorted(p.relative_to(folder / "one") for p in (folder / "one").rglob("*") if p.is_file())
            self.assertGreater(len(names), 5)
            for name in names:
                self.assertEqual((folder / "one" / name).read_bytes(), (folder / "two" / name).read_bytes(), name)


if __name__ == "__main__":
    unittest.main()

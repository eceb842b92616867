"""Where a beam stands to the head: O'Neil's bowls along the axis, a leaning beam in several planes."""

import tempfile
import unittest
from pathlib import Path

import numpy as np

import bowl
import program
import scans
import water

# 1500 m/s (Marczak 1997) and the closed forms' water.
WARM = {"temperature_c": 26.04}


class FocusShift(unittest.TestCase):
    """H. T. O'Neil, J. Acoust. Soc. Am. 21 (1949) 516: peak on the axis re the centre of curvature."""

    def shift(self, source, **frame):
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            zero = {"apex": 0.0, "face": source.depth_m, "focus": source.radius_m}.get(frame.get("z_zero"), 0.0)
            z = source.radius_m + np.arange(-30, 31) * 0.5e-3
            t = 2e-8 * np.arange(2600)
            start = z / source.speed_m_s + 2e-6 - 40e-6
            waves = np.stack(
                [
                    scans.tone_burst(p * np.exp(2j * np.pi * source.f_hz * 40e-6), source.f_hz, t, s, 6, 2.0)
                    for p, s in zip(source.on_axis(z), start)
                ]
            )
            file_z = z - zero - frame.get("z_offset_m", 0.0)
            scans.write_scan(folder / "z.h5", waves, 2e-8, 40e-6, z_m=file_z)
            device = {"radius_of_curvature_m": source.radius_m, "aperture_radius_m": source.aperture_m}
            record = scans.write_record(
                folder,
                [("z", "axial", "z.h5")],
                excitation={"frequency_hz": source.f_hz, "cycles": 6},
                water=WARM,
                device=device,
                frame=frame or None,
            )
            sheet = program.report(record, folder / "sheet")
            self.assertLess(abs(sheet.value("z", "z_peak") + sheet_less(source, frame, zero)), 1e-4)
            return sheet.quantity("z", "focus_shift")

    def test_bowls(self):
        """−2.9495 mm and −0.4329 mm to 0.1 mm: the pulse's peak is that of a band, not of one frequency."""
        for source, shift in [
            (bowl.Bowl(0.1, 0.03, 1.0e6), -2.9495e-3),
            (bowl.Bowl(63.2e-3, 32e-3, 1.1e6), -0.43292e-3),
        ]:
            for frame in [
                {"z_zero": "apex"},
                {"z_zero": "face", "z_offset_m": 0.02},
                {"z_zero": "focus", "z_offset_m": -0.005},
            ]:
                found = self.shift(source, **frame)
                self.assertLess(abs(found["value"] - shift), 1e-4, (frame, found["value"]))

    def test_unknown_zero(self):
        source = bowl.Bowl(63.2e-3, 32e-3, 1.1e6)
        for frame, words in [({}, "begins"), ({"z_zero": "unknown"}, "unknown"), ({"z_zero": "cone"}, "cone")]:
            found = self.shift(source, **frame)
            self.assertIsNone(found["value"])
            self.assertIn(words, found["reason"])


def sheet_less(source, frame, zero):
    """Minus the place of the peak on the file's own axis."""
    fine = np.linspace(0.9 * source.radius_m, 1.02 * source.radius_m, 20001)
    top = fine[np.argmax(np.abs(source.on_axis(fine)))]
    return -(top - zero - frame.get("z_offset_m", 0.0))


class LeaningBeam(unittest.TestCase):
    """A Gaussian beam of plane wave fronts along an axis that leans by known angles."""

    F_HZ = 1.5e6
    SPEED = water.sound_speed(25.0)

    def sheet(self, lean, phase_lean, at=(0.4e-3, -0.3e-3)):
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            x, y = np.arange(-14, 15) * 0.25e-3, np.arange(-14, 15) * 0.25e-3
            t = 2e-8 * np.arange(800)
            names = []
            for k, z in enumerate([40e-3, 43e-3, 46e-3, 49e-3, 52e-3]):
                cx, cy = (a + z * np.tan(l) for a, l in zip(at, lean))
                level = np.exp(-((z - 46e-3) / 20e-3) ** 2)
                dx, dy = x[None, :] - cx, y[:, None] - cy
                amplitude = 1e6 * level * np.exp(-(dx**2 + dy**2) / 1.2e-3**2)
                # A leaning plane front: k (sin a, sin b) across the plane (geometry).
                tx, ty = np.tan(phase_lean[0]), np.tan(phase_lean[1])
                along = (tx * dx + ty * dy) / np.sqrt(1 + tx**2 + ty**2)
                wave = amplitude * np.exp(-2j * np.pi * self.F_HZ * along / self.SPEED)
                scans.write_scan(
                    folder / f"p{k}.h5",
                    scans.tone_burst(wave, self.F_HZ, t, 4e-6, 6, 2.0),
                    2e-8,
                    0.0,
                    x_m=x,
                    y_m=y,
                    z_m=z - 0.01,
                )
                names.append((f"p{k}", "plane", f"p{k}.h5"))
            record = scans.write_record(
                folder,
                names,
                excitation={"frequency_hz": self.F_HZ, "cycles": 6},
                water={"temperature_c": 25.0},
                frame={"z_zero": "apex", "z_offset_m": 0.01},
            )
            return program.report(record, folder / "sheet")

    def test_axis(self):
        lean = (np.radians(1.5), np.radians(-0.8))
        sheet = self.sheet(lean, lean)
        axis = sheet.data["depths"][0]["axis"]
        self.assertEqual(axis["planes"], 5)
        self.assertLess(abs(axis["tilt_x_rad"] - lean[0]), 2e-4)
        self.assertLess(abs(axis["tilt_y_rad"] - lean[1]), 2e-4)
        self.assertLess(abs(axis["offset_x_m"] - 0.4e-3), 1e-5)
        self.assertLess(abs(axis["offset_y_m"] + 0.3e-3), 1e-5)
        # One plane, tilt by phase: an error of the angle of 1 % at 46 mm is 0.012 mm.
        self.assertLess(abs(sheet.value("p2", "axis_offset_x") - 0.4e-3), 2e-5)
        self.assertLess(abs(sheet.value("p2", "axis_offset_y") + 0.3e-3), 2e-5)
        self.assertNotIn("tilts-differ", sheet.codes())

    def test_phase_says_otherwise(self):
        sheet = self.sheet((np.radians(1.5), 0.0), (np.radians(0.2), 0.0))
        self.assertIn("tilts-differ", sheet.codes("p2"))


if __name__ == "__main__":
    unittest.main()

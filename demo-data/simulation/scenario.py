"""The two invented measurements: every number that can be chosen, in one place.

Nothing here describes an existing clinic, person, maker or product.
"""

from dataclasses import dataclass, replace

import numpy as np

from .water import density_kg_per_m3, sound_speed_m_per_s


@dataclass(frozen=True)
class Scenario:
    """One measurement.  SI units, angles in rad."""

    title: str
    folder: str

    # head and water
    frequency_hz: float = 1.5e6
    curvature_m: float = 45.0e-3
    aperture_m: float = 20.0e-3
    temperature_c: float = 21.4

    # drive
    cycles: int = 20
    repetition_hz: float = 100.0
    emission_s: float = 1.2e-6  # half-amplitude point of the rise at the head, after the trigger
    ramp_sigma_s: float = 0.4e-6  # 10 to 90 % in 1.03 us, about 1.5 cycles

    # wave at the centre of curvature
    focal_amplitude_pa: float = 6.0e6
    sigma_ref: float = 0.62
    alpha_rad: float = 0.25 * np.pi

    # pose: the beam axis crosses the scanned plane at (beam_x, beam_y)
    beam_x_m: float = 0.13e-3
    beam_y_m: float = -0.07e-3
    tilt_x_rad: float = np.radians(1.1)
    tilt_y_rad: float = np.radians(-0.6)

    # digitiser
    full_scale_v: float = 0.5
    bits: int = 12
    noise_counts: float = 1.6
    offset_counts: float = 2.7

    # plane
    plane_z_m: float = 44.4e-3
    plane_points: int = 41
    plane_step_m: float = 0.2e-3
    plane_dt_s: float = 20.0e-9
    plane_t0_s: float = 25.4e-6
    plane_samples: int = 1080
    dead_points: tuple = ((5, 33), (22, 2), (36, 9))  # (row in y, column in x)

    # axial line
    axial_start_m: float = 33.0e-3
    axial_step_m: float = 0.4e-3
    axial_points: int = 61
    axial_dt_s: float = 20.0e-9
    axial_samples: int = 1060
    axial_lead_s: float = 5.0e-6  # record starts this long before the burst comes along the axis

    # one waveform at the focus, from before the trigger
    focus_x_m: float = 0.15e-3
    focus_y_m: float = -0.05e-3
    focus_dt_s: float = 10.0e-9
    focus_t0_s: float = -0.5e-6
    focus_samples: int = 5000
    has_focus_point: bool = True

    points_per_s: float = 2.0  # pace of the scanner
    seed: int = 20260504

    @property
    def sound_speed_m_per_s(self):
        return sound_speed_m_per_s(self.temperature_c)

    @property
    def density_kg_per_m3(self):
        return density_kg_per_m3(self.temperature_c)

    @property
    def rho_c(self):
        return self.density_kg_per_m3 * self.sound_speed_m_per_s

    @property
    def volts_per_count(self):
        return self.full_scale_v / 2 ** (self.bits - 1)

    @property
    def burst_s(self):
        """The stated burst, cycles / frequency."""
        return self.cycles / self.frequency_hz

    def plane_axis_m(self):
        """Coordinates of the plane's columns (and rows), m."""
        i = np.arange(self.plane_points) - (self.plane_points - 1) // 2
        return np.round(i * self.plane_step_m, 9)

    def axial_axis_m(self):
        return np.round(self.axial_start_m + self.axial_step_m * np.arange(self.axial_points), 9)


FULL = Scenario(title="Yearly field check of the treatment head", folder=".")

EXAMPLE = replace(
    FULL,
    title="Yearly field check of the treatment head (reduced example)",
    folder="example",
    cycles=8,
    plane_points=21,
    plane_step_m=0.25e-3,
    plane_dt_s=40.0e-9,
    plane_t0_s=25.8e-6,
    plane_samples=330,
    dead_points=((2, 17),),
    axial_step_m=0.8e-3,
    axial_points=31,
    axial_dt_s=40.0e-9,
    axial_samples=330,
    has_focus_point=False,
    seed=20260505,
)

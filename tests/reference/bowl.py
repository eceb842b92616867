"""A focusing bowl with uniform normal velocity: closed forms and the Rayleigh integral.

H. T. O'Neil, Theory of focusing radiators, J. Acoust. Soc. Am. 21 (1949) 516. Time factor exp(+jωt).
"""

from dataclasses import dataclass

import numpy as np
from scipy.special import j1


@dataclass(frozen=True)
class Bowl:
    radius_m: float
    aperture_m: float
    f_hz: float
    velocity_m_s: float = 0.1
    speed_m_s: float = 1500.0
    density: float = 1000.0

    @property
    def wavenumber(self):
        return 2.0 * np.pi * self.f_hz / self.speed_m_s

    @property
    def depth_m(self):
        return self.radius_m - np.sqrt(self.radius_m**2 - self.aperture_m**2)

    @property
    def focal_pa(self):
        """ρ c u0 k h, at the centre of curvature."""
        return self.density * self.speed_m_s * self.velocity_m_s * self.wavenumber * self.depth_m

    def on_axis(self, z_m):
        """Complex pressure on the axis, z from the apex (exact)."""
        z = np.asarray(z_m, float)
        edge = np.sqrt((z - self.depth_m) ** 2 + self.aperture_m**2)
        k, gap = self.wavenumber, 1.0 - z / self.radius_m
        scale = self.density * self.speed_m_s * self.velocity_m_s
        with np.errstate(divide="ignore", invalid="ignore"):
            p = scale / gap * (np.exp(-1j * k * z) - np.exp(-1j * k * edge))
        return np.where(np.abs(gap) < 1e-9, 1j * self.focal_pa * np.exp(-1j * k * self.radius_m), p)

    def in_focal_plane(self, r_m):
        """Complex pressure in the plane of the centre of curvature: 2 J1(x)/x, x = k a r/R, with the
        paraxial phase."""
        r = np.asarray(r_m, float)
        x = self.wavenumber * self.aperture_m * r / self.radius_m
        ratio = np.divide(2.0 * j1(x), x, out=np.ones_like(x), where=x > 1e-12)
        return self.focal_pa * ratio * np.exp(-1j * self.wavenumber * r**2 / (2.0 * self.radius_m))

    def rayleigh(self, r_m, z_m, rings=400, spokes=240):
        """Complex pressure at (r, z) by quadrature of the Rayleigh integral over the cap: Gauss-Legendre
        in the polar angle, equal steps around (converges exponentially)."""
        widest = np.arcsin(self.aperture_m / self.radius_m)
        nodes, weights = np.polynomial.legendre.leggauss(rings)
        polar = 0.5 * widest * (nodes + 1.0)
        area = 0.5 * widest * weights * self.radius_m**2 * np.sin(polar) * (2.0 * np.pi / spokes)
        around = 2.0 * np.pi * np.arange(spokes) / spokes
        sx = self.radius_m * np.outer(np.sin(polar), np.cos(around))
        sy = self.radius_m * np.outer(np.sin(polar), np.sin(around))
        sz = np.repeat(self.radius_m * (1.0 - np.cos(polar))[:, None], spokes, axis=1)
        k = self.wavenumber
        scale = 1j * self.density * self.speed_m_s * k * self.velocity_m_s / (2.0 * np.pi)
        out = []
        for r, z in np.broadcast(np.asarray(r_m, float), np.asarray(z_m, float)):
            distance = np.sqrt((sx - r) ** 2 + sy**2 + (sz - z) ** 2)
            out.append(scale * np.sum(area[:, None] * np.exp(-1j * k * distance) / distance))
        return np.array(out)


# The two cases of the checks: F/1.67 at 1 MHz and F/0.99 at 1.1 MHz.
A = Bowl(radius_m=0.1, aperture_m=0.03, f_hz=1.0e6)
B = Bowl(radius_m=0.0632, aperture_m=0.032, f_hz=1.1e6)

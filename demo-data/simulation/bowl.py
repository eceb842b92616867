"""Linear field of a spherical bowl that moves with uniform normal velocity.

Convention: exp(+j w t).  Coordinates of the head: origin at the apex of the bowl,
z along the beam axis, r the distance from it.
"""

import numpy as np


class Bowl:
    """Spherical cap of radius of curvature R and aperture radius a (both in m)."""

    def __init__(self, curvature_m, aperture_m):
        self.curvature_m = curvature_m
        self.aperture_m = aperture_m
        self.depth_m = curvature_m - np.sqrt(curvature_m**2 - aperture_m**2)
        self.area_m2 = 2.0 * np.pi * curvature_m * self.depth_m

    def rayleigh(self, r_m, z_m, wavenumbers, polar_nodes=28, azimuth_nodes=32):
        """Rayleigh integral over the cap, G(k) = (1/2 pi) int exp(-j k d)/d dS.

        The pressure is p = j k rho c u0 G.  Gauss-Legendre nodes in the polar angle,
        midpoints in the azimuth (half of the cap, doubled by symmetry).

        Parameters
        ----------
        r_m, z_m : array (n,)
        wavenumbers : array (m,), equally spaced, rad/m

        Returns
        -------
        array (n, m), complex, m
        """
        radius = self.curvature_m
        opening = np.arcsin(self.aperture_m / radius)
        x, w = np.polynomial.legendre.leggauss(polar_nodes)
        polar = 0.5 * opening * (x + 1.0)
        azimuth = np.pi * (np.arange(azimuth_nodes) + 0.5) / azimuth_nodes
        ring_area = radius**2 * np.sin(polar) * (0.5 * opening * w) * (2.0 * np.pi / azimuth_nodes)
        area = np.repeat(ring_area, azimuth_nodes)
        source_x = np.outer(radius * np.sin(polar), np.cos(azimuth)).ravel()
        source_y = np.outer(radius * np.sin(polar), np.sin(azimuth)).ravel()
        source_z = np.repeat(radius * (1.0 - np.cos(polar)), azimuth_nodes)

        step = wavenumbers[1] - wavenumbers[0]
        result = np.empty((len(r_m), len(wavenumbers)), complex)
        for start in range(0, len(r_m), 64):
            block = slice(start, start + 64)
            d = np.sqrt(
                (r_m[block, None] - source_x) ** 2
                + source_y**2
                + (z_m[block, None] - source_z) ** 2
            )
            term = area / (2.0 * np.pi * d) * np.exp(-1j * wavenumbers[0] * d)
            turn = np.exp(-1j * step * d)
            for i in range(len(wavenumbers)):
                result[block, i] = term.sum(axis=1)
                term *= turn
        return result

    def gain_on_axis(self, z_m, wavenumber):
        """|p(z)| / (rho c u0) on the axis, in closed form.

        References
        ----------
        H. T. O'Neil, J. Acoust. Soc. Am. 21 (1949) 516.
        """
        z = np.asarray(z_m, float)
        far = np.sqrt((z - self.depth_m) ** 2 + self.aperture_m**2)
        away = np.abs(z - self.curvature_m) > 1e-9
        ratio = np.where(away, 1.0 - z / self.curvature_m, 1.0)
        general = 2.0 * np.abs(np.sin(0.5 * wavenumber * (far - z)) / ratio)
        return np.where(away, general, wavenumber * self.depth_m)

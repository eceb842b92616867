"""Properties of water by published formulas, written here anew."""

import numpy as np


def sound_speed(celsius):
    """W. Marczak, J. Acoust. Soc. Am. 102 (1997) 2776. m/s."""
    return np.polyval([2.787860e-9, -1.398845e-6, 3.287156e-4, -5.799136e-2, 5.038813, 1.402385e3], celsius)


def sound_speed_of_bilaniuk(celsius):
    """N. Bilaniuk and G. S. K. Wong, J. Acoust. Soc. Am. 93 (1993) 1609, 148 points, erratum 1996. m/s."""
    return np.polyval(
        [3.16585020e-9, -1.48259672e-6, 3.34638117e-4, -5.81172916e-2, 5.03836171, 1.40238744e3], celsius
    )


def density(celsius):
    """M. Tanaka et al., Metrologia 38 (2001) 301 (coefficients from memory). kg/m³."""
    t = celsius
    return 999.974950 * (1.0 - (t - 3.983035) ** 2 * (t + 301.797) / (522528.9 * (t + 69.34881)))


def density_of_kell(celsius):
    """G. S. Kell, J. Chem. Eng. Data 20 (1975) 97 (coefficients from memory). kg/m³."""
    t = celsius
    above = np.polyval(
        [-280.54253e-12, 105.56302e-9, -46.170461e-6, -7.9870401e-3, 16.945176, 999.83952], t
    )
    return above / (1.0 + 16.879850e-3 * t)

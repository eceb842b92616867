"""Speed of sound and density of pure water at atmospheric pressure."""


def sound_speed_m_per_s(temperature_c):
    """Speed of sound, t90 in 0 to 95 deg C.

    References
    ----------
    W. Marczak, J. Acoust. Soc. Am. 102 (1997) 2776, fifth-order polynomial.
    """
    coefficients = (1.402385e3, 5.038813, -5.799136e-2, 3.287156e-4, -1.398845e-6, 2.787860e-9)
    return sum(a * temperature_c**i for i, a in enumerate(coefficients))


def density_kg_per_m3(temperature_c):
    """Density, 0 to 40 deg C.

    References
    ----------
    M. Tanaka et al., Metrologia 38 (2001) 301.
    """
    t = temperature_c
    return 999.974950 * (
        1.0 - (t - 3.983035) ** 2 * (t + 301.797) / (522528.9 * (t + 69.34881))
    )

"""The second half of the yardstick: from per-point numbers to the quantities of a plane.

numpy and scipy only; SI. `points` has the columns pc, pr, ppsi, noise, steady mean square, three
harmonic amplitudes, clipped; rows are points in storage order (y, x).
"""

import numpy as np
import scipy.fft
from scipy import ndimage, optimize
from scipy.interpolate import CubicSpline, RectBivariateSpline


def impedance(celsius):
    """ρc of water: Tanaka et al., Metrologia 38 (2001) 301; Marczak, J. Acoust. Soc. Am. 102 (1997) 2776."""
    c = np.polyval([2.787860e-9, -1.398845e-6, 3.287156e-4, -5.799136e-2, 5.038813, 1402.385], celsius)
    d = celsius - 3.983035
    return c * 999.974950 * (1 - d**2 * (celsius + 301.797) / (522528.9 * (celsius + 69.34881)))


def repaired(points, shape, noise_rms):
    """Maps (y, x) of all columns, dead and clipped points replaced by the mean of their neighbours."""
    maps = points.T.reshape(-1, *shape)
    around = lambda m: np.stack([
        np.pad(m, 1, constant_values=np.nan)[1 + a : shape[0] + 1 + a, 1 + b : shape[1] + 1 + b]
        for a in (-1, 0, 1) for b in (-1, 0, 1) if (a, b) != (0, 0)
    ])
    peak = np.maximum(maps[0], maps[1])
    typical = np.nanmedian(around(peak), axis=0)
    dead = (typical > 12 * noise_rms) & ((peak < 0.1 * typical) | ((peak < 6 * noise_rms) & (peak < 0.3 * typical)))
    bad = dead | (maps[-1] > 0)
    if bad.any():
        good = np.where(bad, np.nan, 1.0)
        maps = np.stack([np.where(bad, np.nanmean(around(m * good), axis=0), m) for m in maps])
    return maps


def top(x, y, values, scale):
    """Top of a quadratic in the logarithm over the connected points above −1.5 dB: x, y, value."""
    island, _ = ndimage.label(values >= values.max() * 10 ** (-1.5 / scale))
    row, column = np.unravel_index(values.argmax(), values.shape)
    rows, columns = np.nonzero(island == island[row, column])
    u, v = (x[columns] - x[column]) * 1e3, (y[rows] - y[row]) * 1e3
    design = np.column_stack([np.ones_like(u), u, v, u * u, u * v, v * v])
    c = np.linalg.lstsq(design, np.log(values[rows, columns]), rcond=None)[0]
    at = np.linalg.solve([[2 * c[3], c[4]], [c[4], 2 * c[5]]], -c[1:3])
    return x[column] + at[0] * 1e-3, y[row] + at[1] * 1e-3, np.exp(c[0] + 0.5 * at @ c[1:3])


def width(along, profile, at, level):
    spline = CubicSpline(along, profile - level)
    below = np.flatnonzero(profile < level)
    right, left = below[along[below] > at][0], below[along[below] < at][-1]
    return optimize.brentq(spline, at, along[right]) - optimize.brentq(spline, along[left], at)


def area(x, y, spline, level, at):
    """Area above a level around a position, counted on a grid ten times finer."""
    fx, fy = (np.linspace(a[0], a[-1], 10 * (len(a) - 1) + 1) for a in (x, y))
    island, _ = ndimage.label(spline(fy, fx) >= level)
    mine = island[np.abs(fy - at[1]).argmin(), np.abs(fx - at[0]).argmin()]
    return np.count_nonzero(island == mine) * (fx[1] - fx[0]) * (fy[1] - fy[0])


def of_waveform(scan, pipeline, p, noise):
    """Quantities of the waveform at the peak alone."""
    gate, steady = slice(*pipeline.gate), pipeline.steady
    running = np.cumsum(p[gate] ** 2 - noise)
    t10, t90 = (np.interp(share * running[-1], running, np.arange(len(running))) for share in (0.1, 0.9))
    part = p[steady]
    before = np.flatnonzero(np.signbit(part[1:]) != np.signbit(part[:-1]))
    crossings = before + part[before] / (part[before] - part[before + 1])
    halves = (len(crossings) - 1) & ~1
    n = scipy.fft.next_fast_len(16 * len(p[gate]), real=True)
    spectrum, step = np.abs(scipy.fft.rfft(p[gate], n)), 1 / (n * scan.dt)
    middle = round(scan.f / step)
    near = slice(middle // 2, middle * 3 // 2)
    most = near.start + spectrum[near].argmax()
    level = spectrum[most] * 10 ** (-3 / 20)
    low = most - np.argmax(spectrum[most::-1] < level)
    high = most + np.argmax(spectrum[most:] < level)
    f1 = low + (level - spectrum[low]) / (spectrum[low + 1] - spectrum[low])
    f2 = high - (level - spectrum[high]) / (spectrum[high - 1] - spectrum[high])
    return {
        "td": 1.25 * (t90 - t10) * scan.dt,
        "f_awf_zero": halves / (2 * (crossings[halves] - crossings[0]) * scan.dt),
        "f_awf_mean": 0.5 * (f1 + f2) * step,
        "bandwidth": (f2 - f1) * step,
    }


def quantities(scan, pipeline, points):
    """All quantities by id."""
    x, y, shape = scan.x, scan.y, (len(scan.y), len(scan.x))
    excitation = scan.record["excitation"]
    rho_c = impedance(scan.record["water"]["temperature_c"])
    noise = np.median(points[:, 3])
    pc, pr, ppsi, _, steady, *harmonics, _ = repaired(points, shape, np.sqrt(noise))
    ppsi = ppsi - noise * (pipeline.gate[1] - pipeline.gate[0]) * scan.dt
    steady = steady - noise
    x_peak, y_peak, most = top(x, y, ppsi, 10)
    row, column = np.unravel_index(ppsi.argmax(), shape)
    volts = scan.waveforms[row, column][None].astype(float)
    out = of_waveform(scan, pipeline, pipeline.pressure(volts)[0], points[row * shape[1] + column, 3])
    burst = excitation["cycles"] / excitation["frequency_hz"]
    duty = burst * excitation["repetition_hz"]
    out["pc"], out["pr"], out["ppsi"] = top(x, y, pc, 20)[2], top(x, y, pr, 20)[2], most
    out["pii"], out["i_on"] = most / rho_c, top(x, y, steady, 10)[2] / rho_c
    out["isppa"], out["ispta"] = out["pii"] / out["td"], out["i_on"] * duty
    out["snr_db"] = 10 * np.log10(out["i_on"] * rho_c / points[row * shape[1] + column, 3])
    here = [RectBivariateSpline(y, x, h)(y_peak, x_peak)[0, 0] for h in harmonics]
    out["p1"], out["h2"], out["h3"] = here[0], here[1] / here[0], here[2] / here[0]
    out["x_peak"], out["y_peak"] = x_peak, y_peak
    surface = RectBivariateSpline(y, x, ppsi)
    along_x, along_y = surface(y_peak, x)[0], surface(y, x_peak)[:, 0]
    for db in (3, 6, 12):
        level = most * 10 ** (-db / 10)
        out[f"width_x_{db}"] = width(x, along_x, x_peak, level)
        out[f"width_y_{db}"] = width(y, along_y, y_peak, level)
    out["area_6"] = area(x, y, surface, most * 10**-0.6, (x_peak, y_peak))
    out["power_on_plane_wave"] = ppsi.sum() * (x[1] - x[0]) * (y[1] - y[0]) / rho_c / burst
    out["power_ta_plane_wave"] = out["power_on_plane_wave"] * duty
    return {key: float(value) for key, value in out.items()}

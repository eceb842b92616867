//! `power_on_plane_wave`, `power_ta_plane_wave`: power through the scanned plane.

/// Σ ppsi/(ρc) dA / t_on, W: each point stands for its cell, the width between the middles to its
/// neighbours (a full step at the edges).
///
/// # Shape
/// `ppsi_pa2_s`: (y.len(), x.len()), row-major, noise energy subtracted.
///
/// # References
/// IEC 62127-1 plane-wave relation; not exact for strong focusing (obliquity), see docs/quantities.md.
pub fn on_plane_wave_w(
    x_m: &[f64],
    y_m: &[f64],
    ppsi_pa2_s: &[f64],
    impedance: f64,
    t_on_s: f64,
) -> f64 {
    let (wx, wy) = (cells(x_m), cells(y_m));
    let mut sum = 0.0;
    for (r, dy) in wy.iter().enumerate() {
        let row = &ppsi_pa2_s[r * x_m.len()..(r + 1) * x_m.len()];
        sum += dy * row.iter().zip(&wx).map(|(v, dx)| v * dx).sum::<f64>();
    }
    sum / impedance / t_on_s
}

fn cells(x: &[f64]) -> Vec<f64> {
    let n = x.len();
    (0..n)
        .map(|i| {
            let left = if i > 0 { x[i] - x[i - 1] } else { x.get(1).map_or(0.0, |b| b - x[0]) };
            let right = if i + 1 < n { x[i + 1] - x[i] } else { left };
            0.5 * (left + right)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Gaussian beam: P = I0 π w²/2 (closed form).
    #[test]
    fn gaussian_beam() {
        let w = 1e-3;
        let x: Vec<f64> = (-30..=30).map(|i| f64::from(i) * 0.15e-3).collect();
        let ppsi: Vec<f64> = (0..61 * 61)
            .map(|i| 2e6 * (-2.0 * (x[i % 61].powi(2) + x[i / 61].powi(2)) / (w * w)).exp())
            .collect();
        let power = on_plane_wave_w(&x, &x, &ppsi, 1.5e6, 1e-5);
        let i0 = 2e6 / 1.5e6 / 1e-5;
        assert!((power / (i0 * std::f64::consts::PI * w * w / 2.0) - 1.0).abs() < 1e-6);
    }
}

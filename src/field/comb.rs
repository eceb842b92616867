//! Offset between rows that were scanned forward and rows that were scanned backward.

use crate::dsp::interpolate::cubic;

/// Rows whose largest value is below this fraction of the map's largest are left out.
const FLOOR: f64 = 0.25;
/// Fewest rows with a neighbour on each side.
const FEWEST: usize = 3;
/// Passes of the refinement.
const PASSES: usize = 4;
/// Furthest offset that is looked for, in steps.
const FURTHEST: f64 = 3.0;

/// Offset of every other row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Comb {
    /// How far the odd rows (the second, the fourth …) lie displaced toward +x from the even ones, m:
    /// a feature stands at a larger x in them by this much.
    pub offset_m: f64,
    /// Standard uncertainty, from the scatter of the rows.
    pub u_m: f64,
    /// Rows that took part.
    pub rows: usize,
}

/// Offset between odd and even rows of a plane scanned to and fro without a stop.
///
/// Each row is compared with the mean of its two neighbours, which were scanned the other way; a beam that
/// is oblique, or moves from row to row, cancels in that mean. The displacement is the maximum of their
/// normalised cross-correlation, by a parabola through three lags, first of whole steps, then of a quarter
/// of a step about the best place with both interpolated (four-point Lagrange). Odd and even rows count
/// with opposite signs; the rows are averaged, weighted with their energy. Neighbouring estimates share
/// rows, so that the error of the mean is √(8/3) of that of independent ones.
///
/// `None` with fewer than three rows above a quarter of the largest value that have two neighbours, fewer
/// than five columns; rows displaced by more than three steps are left out.
///
/// # Shape
/// `values`: row-major (y.len() rows, x.len()), an amplitude; coordinates rising.
///
/// # References
/// Common practice, no source.
pub fn comb(x_m: &[f64], values: &[f64]) -> Option<Comb> {
    let columns = x_m.len();
    if columns < 5 || !values.len().is_multiple_of(columns) {
        return None;
    }
    let top = values.iter().copied().fold(0.0, f64::max);
    let rows: Vec<&[f64]> = values.chunks_exact(columns).collect();
    let largest = |row: &[f64]| row.iter().copied().fold(0.0, f64::max);
    let mut found = Vec::new();
    for (i, three) in rows.windows(3).enumerate() {
        if three.iter().any(|row| largest(row) < FLOOR * top || largest(row) <= 0.0) {
            continue;
        }
        let between: Vec<f64> = three[0].iter().zip(three[2]).map(|(a, b)| 0.5 * (a + b)).collect();
        let Some(shift) = displacement(x_m, three[1], &between) else { continue };
        // The middle row is odd when its index i + 1 is.
        let sign = if i % 2 == 0 { 1.0 } else { -1.0 };
        found.push((sign * shift, three[1].iter().map(|v| v * v).sum::<f64>()));
    }
    if found.len() < FEWEST {
        return None;
    }
    let total: f64 = found.iter().map(|f| f.1).sum();
    let offset_m = found.iter().map(|(s, w)| s * w).sum::<f64>() / total;
    let squares: f64 = found.iter().map(|(s, w)| (w / total * (s - offset_m)).powi(2)).sum();
    let n = found.len() as f64;
    let u_m = (squares * n / (n - 1.0) * 8.0 / 3.0).sqrt();
    Some(Comb { offset_m, u_m, rows: found.len() })
}

/// Rows moved toward each other by half of an offset, by four-point interpolation: odd rows toward −x,
/// even rows toward +x for an offset that is positive; beyond a row's end its last value.
///
/// # Shape
/// `values`: row-major (rows, x.len()).
pub fn without_offset(x_m: &[f64], values: &[f64], offset_m: f64) -> Vec<f64> {
    let (Some(first), Some(last)) = (x_m.first(), x_m.last()) else { return values.to_vec() };
    let mut out = Vec::with_capacity(values.len());
    for (r, row) in values.chunks(x_m.len()).enumerate() {
        let shift = if r % 2 == 1 { 0.5 * offset_m } else { -0.5 * offset_m };
        let moved = |(x, own): (&f64, &f64)| {
            cubic(x_m, row, (x + shift).clamp(*first, *last)).unwrap_or(*own)
        };
        out.extend(x_m.iter().zip(row).map(moved));
    }
    out
}

/// How far `row` lies displaced toward +x from `other`.
fn displacement(x: &[f64], row: &[f64], other: &[f64]) -> Option<f64> {
    let step = (x.last()? - x.first()?) / (x.len() - 1) as f64;
    let (mut best, mut lag) = (0.0, step);
    for _ in 0..PASSES {
        // The highest of seven, then the parabola through it and its neighbours.
        let at = |k: i32| agreement(x, row, other, best + f64::from(k) * lag);
        let k = (-3..=3).max_by(|a, b| at(*a).total_cmp(&at(*b)))?;
        let (left, here, right) = (at(k - 1), at(k), at(k + 1));
        let bend = left - 2.0 * here + right;
        let part = if bend < 0.0 { (0.5 * (left - right) / bend).clamp(-1.0, 1.0) } else { 0.0 };
        best += lag * (f64::from(k) + part);
        lag = 0.25 * step;
    }
    (best.abs() <= FURTHEST * step).then_some(best)
}

/// Normalised cross-correlation of two rows, each moved by half of a displacement toward the other, over
/// the stretch where both are known.
fn agreement(x: &[f64], row: &[f64], other: &[f64], shift: f64) -> f64 {
    let (Some(first), Some(last)) = (x.first(), x.last()) else { return 0.0 };
    let margin = 0.5 * shift.abs();
    let (mut product, mut one, mut two) = (0.0, 0.0, 0.0);
    for at in x.iter().filter(|at| **at >= first + margin && **at <= last - margin) {
        let (Some(a), Some(b)) =
            (cubic(x, row, at + 0.5 * shift), cubic(x, other, at - 0.5 * shift))
        else {
            continue;
        };
        product += a * b;
        one += a * a;
        two += b * b;
    }
    if one > 0.0 && two > 0.0 { product / (one * two).sqrt() } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::noise::Noise;

    fn scan(half_offset: f64, oblique: f64, sigma: f64, seed: u64) -> (Vec<f64>, Vec<f64>) {
        let x: Vec<f64> = (-15..=15).map(|i| f64::from(i) * 0.2).collect();
        let mut noise = Noise::new(seed);
        let mut values = Vec::new();
        for r in -15..=15 {
            let y = f64::from(r) * 0.2;
            // Rows −15, −13 … come first, third …: even.
            let moved = if (r + 15) % 2 == 1 { half_offset } else { -half_offset };
            values.extend(x.iter().map(|x| {
                let (dx, dy) = (x - moved - oblique * y - 0.13, y - 0.05);
                (-(dx * dx + dy * dy)).exp() + sigma * noise.next()
            }));
        }
        (x, values)
    }

    /// A Gaussian beam, eight points across −6 dB, its rows displaced by ±δ: 2δ, also when the beam is
    /// oblique to the rows.
    #[test]
    fn displaced_rows() {
        for half in [0.0, 0.02, -0.05, 0.13, -0.25] {
            for oblique in [0.0, 0.4] {
                let (x, values) = scan(half, oblique, 0.0, 1);
                let found = comb(&x, &values).expect("rows");
                assert!((found.offset_m - 2.0 * half).abs() < 1e-3, "{half} {oblique} {found:?}");
            }
        }
    }

    /// With noise of 1 % of the peak the error keeps to its stated uncertainty: of 100 draws, 95 % within
    /// twice.
    #[test]
    fn noise() {
        let mut within = 0;
        for seed in 0..100 {
            let (x, values) = scan(0.03, 0.2, 0.01, seed);
            let found = comb(&x, &values).expect("rows");
            within += i32::from((found.offset_m - 0.06).abs() < 2.0 * found.u_m);
        }
        assert!((85..=100).contains(&within), "{within}");
    }

    /// A Gaussian beam whose rows are displaced by ±δ comes back to the one in its place, to 0.2 % of the
    /// peak (four points, eight steps across −6 dB), and no offset is left.
    #[test]
    fn moved_back() {
        let (x, straight) = scan(0.0, 0.0, 0.0, 1);
        for half in [0.06, -0.15] {
            let (_, values) = scan(half, 0.0, 0.0, 1);
            let found = comb(&x, &values).expect("rows");
            let moved = without_offset(&x, &values, found.offset_m);
            let off = moved.iter().zip(&straight).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            assert!(off < 2e-3, "{half} {off}");
            let left = comb(&x, &moved).expect("rows").offset_m;
            assert!(left.abs() < 1e-3, "{half} {left}");
        }
        assert_eq!(without_offset(&x, &straight, 0.0), straight);
    }

    #[test]
    fn too_little() {
        assert_eq!(comb(&[0.0, 1.0, 2.0], &[1.0; 9]), None);
        let (x, values) = scan(0.0, 0.0, 0.0, 1);
        assert_eq!(comb(&x, &values[..62]), None);
        assert_eq!(comb(&x, &values[..30]), None);
    }
}

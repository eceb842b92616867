//! Phase over a plane without its jumps by whole turns.

use rustfft::num_complex::Complex;

/// Unwrapped phases of the points above `floor` times the largest magnitude that are connected to that
/// point along rows and columns: each follows a known neighbour by the smaller turn, the strongest point
/// at the border next. With their places in the map; `None` when all magnitudes are zero.
///
/// # Shape
/// `phasors`: (rows, columns), row-major.
pub fn unwrapped(
    columns: usize,
    phasors: &[Complex<f64>],
    floor: f64,
) -> Option<Vec<(usize, f64)>> {
    let seed =
        (0..phasors.len()).max_by(|a, b| phasors[*a].norm().total_cmp(&phasors[*b].norm()))?;
    let level = floor * phasors[seed].norm();
    if level.is_nan() || level <= 0.0 {
        return None;
    }
    let mut known = vec![None; phasors.len()];
    let mut border = vec![(seed, phasors[seed].arg())];
    let mut out = Vec::new();
    while let Some(next) = (0..border.len())
        .max_by(|a, b| phasors[border[*a].0].norm().total_cmp(&phasors[border[*b].0].norm()))
    {
        let (i, phase) = border.swap_remove(next);
        if known[i].is_some() {
            continue;
        }
        known[i] = Some(phase);
        out.push((i, phase));
        let column = i % columns;
        let sides = [
            (column > 0).then(|| i.wrapping_sub(1)),
            (column + 1 < columns).then_some(i + 1),
            i.checked_sub(columns),
            (i + columns < phasors.len()).then_some(i + columns),
        ];
        for j in sides.into_iter().flatten() {
            if known[j].is_none() && phasors[j].norm() >= level {
                border.push((j, phase + (phasors[j] * phasors[i].conj()).arg()));
            }
        }
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A bowl-shaped phase of many turns, its steps below half a turn, comes back but for a constant; a
    /// part that is cut off by weak points does not.
    #[test]
    fn a_bowl_of_many_turns() {
        let phase = |i: usize| {
            let (x, y) = ((i % 21) as f64 - 9.0, (i / 21) as f64 - 11.0);
            0.12 * (x * x + y * y) + 0.4 * x
        };
        let phasors: Vec<Complex<f64>> = (0..441)
            .map(|i| {
                let weak = i % 21 == 17;
                Complex::from_polar(if weak { 0.1 } else { 1.0 + 0.01 * (i % 7) as f64 }, phase(i))
            })
            .collect();
        let found = unwrapped(21, &phasors, 0.5).expect("some");
        assert_eq!(found.len(), 17 * 21);
        let offset = found[0].1 - phase(found[0].0);
        assert!(found.iter().all(|(i, p)| i % 21 < 17 && (p - phase(*i) - offset).abs() < 1e-9));
        assert_eq!(unwrapped(21, &[Complex::new(0.0, 0.0); 42], 0.5), None);
        assert_eq!(unwrapped(0, &[], 0.5), None);
    }
}

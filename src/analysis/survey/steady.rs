//! The steady part of a long burst.

use crate::dsp::statistics::median;
use crate::dsp::tone::mean_square;

/// A cycle belongs to the steady part from this fraction of the plateau's rms on.
const STEADY: f64 = 0.97;

/// Whole cycles after ring-up and before `end`, as fractional samples: from the first to the last
/// cycle whose rms reaches 97 % of the plateau, the median rms of the cycles in the middle half.
///
/// `None` when no whole cycle remains.
///
/// # References
/// The rule is this project's (docs/windows.md); common practice, no source.
pub fn whole_cycles(p: &[f64], arrival: usize, end: f64, period: f64) -> Option<(f64, f64)> {
    let start = arrival as f64;
    let count = ((end - start) / period).floor() as usize;
    let rms: Vec<f64> = (0..count)
        .map(|k| {
            let a = start + k as f64 * period;
            mean_square(p, a, a + period).map_or(0.0, f64::sqrt)
        })
        .collect();
    let plateau = median(rms.get(count / 4..(3 * count).div_ceil(4))?)?;
    let first = rms.iter().position(|r| *r >= STEADY * plateau)?;
    let last = rms.iter().rposition(|r| *r >= STEADY * plateau)?;
    (last >= first && plateau > 0.0)
        .then(|| (start + first as f64 * period, start + (last + 1) as f64 * period))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ramps_are_left_out() {
        let period = 20.0;
        let p: Vec<f64> = (0..700)
            .map(|i| {
                let cycle = (f64::from(i) - 100.0) / period;
                let envelope =
                    (cycle / 3.0).clamp(0.0, 1.0) * ((22.0 - cycle) / 2.0).clamp(0.0, 1.0);
                envelope * (2.0 * std::f64::consts::PI * cycle).sin()
            })
            .collect();
        let (a, b) = whole_cycles(&p, 100, 100.0 + 22.0 * period, period).expect("some");
        assert!(((b - a) / period).fract().abs() < 1e-9);
        assert!((140.0..=160.0).contains(&a) && (480.0..=520.0).contains(&b), "{a} {b}");
        assert_eq!(whole_cycles(&p, 100, 110.0, period), None);
    }
}

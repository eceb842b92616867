//! Steepness of the wave's front.

/// Time from 10 % to 90 % of the rise from the trough before the largest peak to that peak, s; lines are
/// straight between samples. `None` without a peak after a trough.
///
/// # Shape
/// Samples of p at `interval_s`, the window as sample indices.
///
/// # Examples
/// A sine of period T takes 0.2952 T, a sawtooth nearly nothing.
pub fn front_rise_s(p: &[f64], window: (usize, usize), interval_s: f64) -> Option<f64> {
    let part = p.get(window.0..window.1.min(p.len()))?;
    let top = (0..part.len()).max_by(|a, b| part[*a].total_cmp(&part[*b]))?;
    let mut trough = top;
    while trough > 0 && part[trough - 1] <= part[trough] {
        trough -= 1;
    }
    let rise = part[top] - part[trough];
    if !(rise > 0.0 && part[top] > 0.0 && part[trough] <= 0.0) {
        return None;
    }
    let crossing = |fraction: f64| {
        let level = part[trough] + fraction * rise;
        let after = (trough + 1..=top).find(|i| part[*i] >= level)?;
        let (a, b) = (part[after - 1], part[after]);
        Some((after - 1) as f64 + (level - a) / (b - a))
    };
    Some((crossing(0.9)? - crossing(0.1)?) * interval_s)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Closed form: a sine rises from −0.8 to 0.8 of its amplitude in 2 arcsin(0.8)/2π periods.
    #[test]
    fn a_sine() {
        let period = 400.0;
        let p: Vec<f64> =
            (0..1600).map(|i| (2.0 * std::f64::consts::PI * f64::from(i) / period).sin()).collect();
        let found = front_rise_s(&p, (200, 1400), 1e-9).expect("a front");
        let expected = 0.8f64.asin() / std::f64::consts::PI * period * 1e-9;
        assert!((found / expected - 1.0).abs() < 1e-4, "{found} {expected}");
    }

    /// A jump within one sample: 0.8 of the interval.
    #[test]
    fn a_sawtooth() {
        let p: Vec<f64> = (0..60).map(|i| 1.0 - f64::from(i % 20) / 9.5).collect();
        let found = front_rise_s(&p, (0, 60), 1.0).expect("a front");
        assert!((found - 0.8).abs() < 1e-12);
    }

    #[test]
    fn none() {
        assert_eq!(front_rise_s(&[1.0, 2.0, 3.0], (0, 3), 1.0), None);
        assert_eq!(front_rise_s(&[0.0; 8], (0, 8), 1.0), None);
        assert_eq!(front_rise_s(&[], (0, 0), 1.0), None);
    }
}

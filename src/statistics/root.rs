//! Zero of an increasing function.

/// More steps than halving alone needs to reach neighbouring numbers.
const MOST_STEPS: u32 = 200;

/// Where a function that increases from below zero at `low` to above zero at `high` is zero; Newton's
/// method from `start`, halving where a step would leave the bracket. `function` gives value and slope.
/// `None` when the bracket does not hold a zero.
pub(super) fn of_increasing(
    (low, start, high): (f64, f64, f64),
    function: impl Fn(f64) -> (f64, f64),
) -> Option<f64> {
    let (mut low, mut high) = (low, high);
    if !(function(low).0 <= 0.0 && function(high).0 >= 0.0) {
        return None;
    }
    let mut x = if low < start && start < high { start } else { 0.5 * (low + high) };
    let mut last_step = f64::INFINITY;
    for _ in 0..MOST_STEPS {
        let (value, slope) = function(x);
        if value == 0.0 {
            return Some(x);
        }
        if value < 0.0 {
            low = x;
        } else {
            high = x;
        }
        let newton = x - value / slope;
        // A step that does not shorten is rounding, or a flat part that halving crosses sooner.
        let trusted = newton > low && newton < high && (newton - x).abs() < 0.9 * last_step;
        let next = if trusted { newton } else { 0.5 * (low + high) };
        last_step = (next - x).abs();
        x = next;
        if last_step <= f64::EPSILON * x.abs() || high - low <= f64::EPSILON * x.abs() {
            break;
        }
    }
    Some(x)
}

#[cfg(test)]
mod tests {
    use super::of_increasing;

    /// Closed forms: √2, the cube root of −5, and the zero of a step that is flat on both sides.
    #[test]
    fn known_zeros() {
        let near = |found: Option<f64>, expected: f64| {
            assert!((found.expect("a zero") - expected).abs() < 1e-14, "{found:?}");
        };
        near(of_increasing((0.0, 1.0, 9.0), |x| (x * x - 2.0, 2.0 * x)), 2f64.sqrt());
        near(of_increasing((-99.0, 0.0, 99.0), |x| (x * x * x + 5.0, 3.0 * x * x)), -5f64.cbrt());
        let step = |x: f64| ((50.0 * (x - 0.3)).tanh(), 50.0 / (50.0 * (x - 0.3)).cosh().powi(2));
        near(of_increasing((-800.0, 2.0, 700.0), step), 0.3);
    }

    #[test]
    fn no_zero_between() {
        assert_eq!(of_increasing((2.0, 3.0, 4.0), |x| (x - 1.0, 1.0)), None);
        assert_eq!(of_increasing((2.0, 3.0, 4.0), |x| (x - 5.0, 1.0)), None);
        assert_eq!(of_increasing((2.0, 3.0, 4.0), |_| (f64::NAN, 1.0)), None);
    }
}

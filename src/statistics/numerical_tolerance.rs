//! Numerical tolerance of a standard uncertainty.

/// With u = c × 10^l, where c is an integer of so many significant digits, δ = ½ × 10^l: the most by
/// which the uncertainty may be off when those digits are to hold.
///
/// # Errors
/// `None` unless u > 0 and finite, and there are 1 to 15 digits.
///
/// # Examples
/// u = 0.00035, two digits: 35 × 10⁻⁵ → 0.5 × 10⁻⁵.
///
/// # References
/// JCGM 101:2008, 7.9.2.
pub fn numerical_tolerance(u: f64, significant_digits: u32) -> Option<f64> {
    if !(u > 0.0 && u.is_finite() && (1..=15).contains(&significant_digits)) {
        return None;
    }
    let digits = significant_digits as i32;
    let mut last = u.log10().floor() as i32 - (digits - 1);
    let integer =
        |last: i32| if last < 0 { u * 10f64.powi(-last) } else { u / 10f64.powi(last) }.round();
    // Rounded up to one digit more, or a logarithm off by its own rounding.
    if integer(last) >= 10f64.powi(digits) {
        last += 1;
    } else if integer(last) < 10f64.powi(digits - 1) {
        last -= 1;
    }
    let unit = if last < 0 { 1.0 / 10f64.powi(-last) } else { 10f64.powi(last) };
    Some(0.5 * unit)
}

#[cfg(test)]
mod tests {
    use super::numerical_tolerance;

    fn near(u: f64, digits: u32, expected: f64) {
        let found = numerical_tolerance(u, digits).expect("a tolerance");
        assert!((found / expected - 1.0).abs() < 1e-14, "{u} {digits} {found}");
    }

    /// JCGM 101:2008, examples of 7.9.2 (values from memory): a mass standard with u = 0.00035 g to two
    /// digits and to one, and u = 2 K.
    #[test]
    fn examples_of_the_guide() {
        near(0.000_35, 2, 0.000_005);
        near(0.000_35, 1, 0.000_05);
        near(2.0, 1, 0.5);
    }

    /// By the definition: where rounding adds a digit, at powers of ten, and far from one.
    #[test]
    fn edges() {
        near(0.000_996, 2, 0.5e-4);
        near(0.000_994, 2, 0.5e-5);
        for power in -20i32..=20 {
            near(10f64.powi(power), 2, 0.5 * 10f64.powi(power - 1));
            near(9.4 * 10f64.powi(power), 1, 0.5 * 10f64.powi(power));
            near(9.6 * 10f64.powi(power), 1, 0.5 * 10f64.powi(power + 1));
        }
    }

    #[test]
    fn none() {
        for u in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(numerical_tolerance(u, 2), None);
        }
        assert_eq!(numerical_tolerance(1.0, 0), None);
        assert_eq!(numerical_tolerance(1.0, 16), None);
    }
}

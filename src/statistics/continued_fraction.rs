//! Value of a continued fraction.

/// More terms than any fraction here needs: convergence is reached long before.
const MOST_TERMS: u32 = 10_000;

/// b₀ + a₁/(b₁ + a₂/(b₂ + …)) to the last digit; `term(m)` gives (a_m, b_m) from m = 1.
///
/// From the front until nothing changes, which tells the number of terms; then from the back, where
/// rounding does not add up.
///
/// # References
/// From the front: the method of Lentz as modified by I. J. Thompson and A. R. Barnett, J. Comput. Phys. 64
/// (1986) 490.
pub(super) fn value(b0: f64, term: impl Fn(f64) -> (f64, f64)) -> f64 {
    // In place of a zero, where the method divides.
    const TINY: f64 = 1e-300;
    let not_zero = |v: f64| if v == 0.0 { TINY } else { v };
    let (mut upper, mut lower) = (not_zero(b0), 0.0);
    let mut terms = 0;
    while terms < MOST_TERMS {
        terms += 1;
        let (a, b) = term(f64::from(terms));
        upper = not_zero(b + a / upper);
        lower = 1.0 / not_zero(b + a * lower);
        if (upper * lower - 1.0).abs() <= f64::EPSILON {
            break;
        }
    }
    let rest = (1..=terms).rev().fold(0.0, |rest, m| {
        let (a, b) = term(f64::from(m));
        a / (b + rest)
    });
    b0 + rest
}

#[cfg(test)]
mod tests {
    use super::value;

    /// Closed forms: 1 + 1/(1 + 1/(1 + …)) is the golden ratio, 1 + 1²/(3 + 2²/(5 + …)) is 4/π.
    #[test]
    fn golden_ratio_and_circle() {
        let golden = value(1.0, |_| (1.0, 1.0));
        assert!((golden - (1.0 + 5f64.sqrt()) / 2.0).abs() < 1e-15, "{golden}");
        let circle = value(1.0, |m| (m * m, 2.0 * m + 1.0));
        assert!((circle - 4.0 / std::f64::consts::PI).abs() < 1e-15, "{circle}");
    }
}

//! What Stirling's formula leaves of ln Γ.

/// δ(x) = ln Γ(x) − (x − ½) ln x + x − ½ ln 2π for x > 0.
///
/// Ratios of gamma functions of large arguments keep their digits when written with δ, since the large
/// parts cancel by hand.
///
/// # References
/// NIST Digital Library of Mathematical Functions, 5.11.1 (series) and 5.5.1 (recurrence).
pub(super) fn remainder(x: f64) -> f64 {
    /// From here on the series below is exact to the last digit.
    const LARGE: f64 = 12.0;
    let (mut at, mut sum) = (x, 0.0);
    while at < LARGE {
        sum += (at + 0.5) * (1.0 / at).ln_1p() - 1.0;
        at += 1.0;
    }
    let square = 1.0 / (at * at);
    // B₂ₖ/(2k (2k − 1)).
    let series = [
        1.0 / 156.0,
        -691.0 / 360_360.0,
        1.0 / 1188.0,
        -1.0 / 1680.0,
        1.0 / 1260.0,
        -1.0 / 360.0,
        1.0 / 12.0,
    ];
    sum + series.iter().fold(0.0, |higher, c| higher * square + c) / at
}

#[cfg(test)]
mod tests {
    use super::remainder;

    fn ln_gamma(x: f64) -> f64 {
        (x - 0.5) * x.ln() - x + 0.5 * std::f64::consts::TAU.ln() + remainder(x)
    }

    /// Closed forms: Γ(½) = √π, Γ(1) = 1, Γ(5) = 24, Γ(21) = 20!, Γ(x) Γ(1 − x) = π/sin πx.
    #[test]
    fn gamma_function() {
        let pi = std::f64::consts::PI;
        let factorial: f64 = (1..=20).map(f64::from).product();
        for (x, expected) in [(0.5, pi.sqrt()), (1.0, 1.0), (5.0, 24.0), (21.0, factorial)] {
            assert!((ln_gamma(x) - expected.ln()).abs() < 1e-13, "{x}");
        }
        for x in [1e-3, 0.1, 0.37, 0.9] {
            let expected = (pi / (pi * x).sin()).ln();
            assert!((ln_gamma(x) + ln_gamma(1.0 - x) - expected).abs() < 1e-13, "{x}");
        }
    }
}

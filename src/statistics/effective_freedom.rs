//! Effective degrees of freedom of a combined uncertainty.

/// Welch–Satterthwaite formula ν = u_c⁴/Σ(uᵢ⁴/νᵢ), with u_c² = Σuᵢ², from components (uᵢ, νᵢ); a
/// component without νᵢ has infinitely many. `None` when so has the whole.
///
/// u_c is not rounded before: with the rounded one of a printed budget the result differs.
///
/// # Shape
/// uᵢ are the independent contributions |cᵢ| u(xᵢ), all in the unit of the result; νᵢ > 0.
///
/// # Examples
/// (1, 4) and (1, none) → (1 + 1)²/(1/4) = 16.
///
/// # References
/// JCGM 100:2008, G.4.1, formula G.2b.
pub fn effective_freedom(components: &[(f64, Option<f64>)]) -> Option<f64> {
    let square: f64 = components.iter().map(|(u, _)| u * u).sum();
    let sum: f64 = components
        .iter()
        .filter(|(u, _)| *u != 0.0)
        .filter_map(|(u, nu)| Some((u * u / square).powi(2) / (*nu)?))
        .sum();
    // Not `sum > 0`: what is not a number stays to be seen.
    if sum == 0.0 { None } else { Some(1.0 / sum) }
}

#[cfg(test)]
mod tests {
    use super::effective_freedom;

    /// JCGM 100:2008, H.1.6 (end gauge): components in nm with their degrees of freedom, printed as 16.7;
    /// from the components themselves 16.76. With u_c rounded to 32 nm it would be 17.47.
    #[test]
    fn end_gauge() {
        let components =
            [(25.0, Some(18.0)), (9.7, Some(25.6)), (2.9, Some(50.0)), (16.6, Some(2.0))];
        let found = effective_freedom(&components).expect("finite");
        assert!((found - 16.764_553_980_917_2).abs() < 1e-11, "{found}");
    }

    /// Formula by hand: one component of 1.2 % with 4 degrees of freedom beside certain ones, 6.3 % in all:
    /// 4 (6.3/1.2)⁴ = 3038.765625.
    #[test]
    fn one_among_certain_ones() {
        let mut components: Vec<(f64, Option<f64>)> =
            [5.0, 3.0, 1.0, 1.0, 1.5].map(|u| (u, None)).to_vec();
        components.push((1.2, Some(4.0)));
        let found = effective_freedom(&components).expect("finite");
        assert!((found / 3_038.765_625 - 1.0).abs() < 1e-14, "{found}");
        // The unit does not matter, however small its numbers.
        let small: Vec<_> = components.iter().map(|(u, nu)| (u * 1e-120, *nu)).collect();
        let same = effective_freedom(&small).expect("finite");
        assert!((same / found - 1.0).abs() < 1e-14, "{same}");
    }

    #[test]
    fn infinite() {
        assert_eq!(effective_freedom(&[(1.0, None), (2.0, None)]), None);
        assert_eq!(effective_freedom(&[(1.0, None), (0.0, Some(3.0))]), None);
        assert_eq!(effective_freedom(&[]), None);
        assert_eq!(effective_freedom(&[(1.0, Some(f64::INFINITY))]), None);
        assert_eq!(effective_freedom(&[(7.0, Some(5.0))]), Some(5.0));
        assert!(effective_freedom(&[(f64::NAN, Some(5.0))]).is_some_and(f64::is_nan));
    }
}

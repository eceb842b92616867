//! Normalised difference between a measured and a stated value.
//!
//! E_n = (y − s)/√(U_y² + U_s²), both expanded with about 95 % coverage; |E_n| ≤ 1 agrees.
//!
//! # References
//! ISO 13528:2022, E_n scores; ISO/IEC 17043 (from memory).

use crate::base::budget::Budget;
use crate::record::Stated;

use super::limits::factor;

/// Coverage factor of the stated uncertainty, and of a measured one with another coverage than 95 %.
const K: f64 = 2.0;

/// Coverage that counts as 95 %.
const ABOUT_95: std::ops::RangeInclusive<f64> = 0.945..=0.956;

/// Normalised difference; `None` where both are certain.
///
/// # Examples
/// y = 9.0, U_y = 0.3, s = 8.5, U_s = 0.4: E_n = 0.5/0.5 = 1.
pub fn e_n(measured: f64, u_measured: f64, stated: f64, u_stated: f64) -> Option<f64> {
    let both = u_measured.hypot(u_stated);
    (both > 0.0).then(|| (measured - stated) / both)
}

/// Expanded uncertainty (k = 2) that the maker states, SI; half-widths are taken for the limits of a
/// rectangle.
pub fn stated_u_expanded(stated: &Stated) -> Option<f64> {
    let typed = stated.uncertainty.as_ref()?;
    Some(K * typed.standard(stated.value) * factor(stated))
}

/// Expanded uncertainty of a measurement at about 95 %.
pub fn u_expanded(budget: &Budget) -> f64 {
    if ABOUT_95.contains(&budget.coverage) { budget.u_expanded } else { K * budget.u_standard }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 3, 4, 5; two certain values have no ratio.
    #[test]
    fn normalised_difference() {
        assert!((e_n(9.0, 0.3, 8.5, 0.4).unwrap() - 1.0).abs() < 1e-12);
        assert!((e_n(8.0, 0.0, 9.0, 0.5).unwrap() + 2.0).abs() < 1e-12);
        assert_eq!(e_n(8.0, 0.0, 9.0, 0.0), None);
    }

    /// By hand: 6 % with k = 3 of 5 MPa is u = 0.1 MPa, so U = 0.2 MPa with k = 2; a half-width of
    /// 0.3 MPa is u = 0.173 MPa.
    #[test]
    fn stated_uncertainty_in_pascals() {
        let of = |u: serde_json::Value| {
            let json = serde_json::json!({"quantity": "pc", "value": 5.0, "unit": "MPa", "uncertainty": u});
            stated_u_expanded(&serde_json::from_value(json).unwrap()).unwrap()
        };
        let expanded =
            of(serde_json::json!({"value": 0.06, "kind": "expanded", "k": 3, "relative": true}));
        assert!((expanded - 0.2e6).abs() < 1e-6);
        let limits = of(serde_json::json!({"value": 0.3, "kind": "half-width"}));
        assert!((limits - 0.6e6 / 3f64.sqrt()).abs() < 1e-6);
    }
}

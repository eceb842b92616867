//! An uncertainty of the record as it is printed, and as it may be typed.

use super::rounding;
use super::wording::Wording;

/// `3 % (k = 2)`, `2 % standard`, `5 % half-width`, of a relative uncertainty.
///
/// From the fraction, the word of its kind, and its coverage factor.
pub fn relative(stated: Option<(f64, &'static str, f64)>, words: &dyn Wording) -> Option<String> {
    let (value, kind, k) = stated?;
    let marks = words.marks();
    let digits = rounding::shortest(value * 100.0, marks);
    let kind = match kind {
        "expanded" => format!("(k = {})", rounding::shortest(k, marks)),
        kind => words.label(&format!("u-kind-{kind}")).unwrap_or(kind).to_owned(),
    };
    Some(format!("{digits}\u{a0}% {kind}"))
}

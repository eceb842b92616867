//! Whether the sign of the samples is likely that of the pressure.

use crate::analysis::assemble::{Evaluated, ScanInput};
use crate::base::finding::{Arg, Finding, Severity};
use crate::base::quantity::Quantity;

/// Rarefactional re compressional peak from which the sign is doubted: a wave that steepens on its way to a
/// focus has the larger compression. Common practice, no source.
const EXCEEDS: f64 = 1.1;

/// By how much the rarefactional peak is the larger one, as a fraction, where that makes the sign doubtful.
pub fn rarefaction_excess(quantities: &[Quantity]) -> Option<f64> {
    let value = |id: &str| {
        let quantity = quantities.iter().find(|q| q.id == id)?;
        quantity.outcome.clone().ok().filter(|_| !quantity.lower_bound)
    };
    let (pc, pr) = (value("pc")?, value("pr")?);
    (pc > 0.0 && pr > EXCEEDS * pc).then(|| pr / pc - 1.0)
}

/// Tells when the rarefactional peak is the larger one.
pub fn doubted(input: &ScanInput<'_>, evaluated: &Evaluated) -> Option<Finding> {
    let excess = rarefaction_excess(&evaluated.quantities)?;
    let finding = input.finding(Severity::Caution, "rarefaction-exceeds");
    Some(finding.with("found", Arg::measure(excess, "%")))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By reading: 12 % larger is told, 8 % is not, and a clipped peak says nothing.
    #[test]
    fn the_sign_is_doubted_from_a_tenth_on() {
        let of = |pc, pr| [Quantity::value("pc", pc), Quantity::value("pr", pr)];
        assert!((rarefaction_excess(&of(1.0e6, 1.12e6)).unwrap() - 0.12).abs() < 1e-12);
        assert_eq!(rarefaction_excess(&of(1.0e6, 1.08e6)), None);
        assert_eq!(rarefaction_excess(&of(1.12e6, 1.0e6)), None);
        let mut clipped = of(1.0e6, 1.5e6);
        clipped[0].lower_bound = true;
        assert_eq!(rarefaction_excess(&clipped), None);
    }
}

//! Whether the sign of the samples is likely that of the pressure.

use crate::analysis::assemble::{Evaluated, ScanInput};
use crate::base::finding::{Arg, Finding, Severity};

/// Rarefactional re compressional peak from which the sign is doubted: a wave that steepens on its way to a
/// focus has the larger compression. Common practice, no source.
const EXCEEDS: f64 = 1.1;

/// Tells when the rarefactional peak is the larger one.
pub fn doubted(input: &ScanInput<'_>, evaluated: &Evaluated) -> Option<Finding> {
    let value = |id: &str| {
        let quantity = evaluated.quantities.iter().find(|q| q.id == id)?;
        quantity.outcome.clone().ok().filter(|_| !quantity.lower_bound)
    };
    let (pc, pr) = (value("pc")?, value("pr")?);
    (pc > 0.0 && pr > EXCEEDS * pc).then(|| {
        input
            .finding(Severity::Caution, "rarefaction-exceeds")
            .with("found", Arg::measure(pr / pc - 1.0, "%"))
    })
}

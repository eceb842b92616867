//! Whether the digitiser's range is used.

use crate::base::finding::{Finding, Severity};

/// Fewest counts from the lowest to the highest sample of the loudest waveform: six bits, which leave
/// a rounding of 1/64 of the swing. Common practice, no source.
const FEWEST_COUNTS: f64 = 64.0;

/// Tells when the loudest waveform spans too few counts.
///
/// # Units
/// `count_v`: volts of one count.
pub fn few_bits(volts: &[f64], count_v: f64, scan: &str) -> Option<Finding> {
    let low = volts.iter().copied().fold(f64::INFINITY, f64::min);
    let high = volts.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let counts = (high - low) / count_v;
    (counts.is_finite() && counts < FEWEST_COUNTS).then(|| {
        Finding::new(Severity::Caution, "few-bits")
            .in_scan(scan)
            .with("found", counts.floor().max(0.0) as usize)
            .with("wanted", FEWEST_COUNTS as usize)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_of_the_swing() {
        let wave = [-0.1, 0.05, 0.2, 0.0];
        assert!(few_bits(&wave, 1e-3, "a").is_none());
        let finding = few_bits(&wave, 0.01, "a").expect("thirty counts");
        assert!(matches!(finding.args["found"], crate::base::finding::Arg::Count(29..=30)));
    }
}

//! What the rows of a sensitivity table must be.

use super::columns::{Column, Gives};
use crate::base::error::{Problem, Problems};

/// Columns that give the same thing twice.
pub fn twice(columns: &[Column], problems: &mut Problems) {
    let mut tell = |quantity: Gives, all: &[Gives]| {
        let found: Vec<String> = columns
            .iter()
            .filter(|c| all.contains(&c.gives))
            .map(|c| c.path.trim_start_matches('/').to_owned())
            .collect();
        problems.push(
            Problem::new("table-column-twice")
                .with("quantity", quantity.key())
                .with("found", found),
        );
    };
    let count = |gives: Gives| columns.iter().filter(|c| c.gives == gives).count();
    let parts = count(Gives::Real) + count(Gives::Imaginary) > 0;
    for gives in [
        Gives::Frequency,
        Gives::Magnitude,
        Gives::Real,
        Gives::Imaginary,
        Gives::Phase,
        Gives::UMagnitude,
        Gives::UPhase,
    ] {
        if count(gives) > 1 {
            tell(gives, &[gives]);
        } else if parts && count(gives) == 1 && matches!(gives, Gives::Magnitude | Gives::Phase) {
            tell(gives, &[gives, Gives::Real, Gives::Imaginary]);
        }
    }
}

/// Columns must be of one length.
pub fn same_length(first: &[f64], other: &[f64], gives: Gives, problems: &mut Problems) {
    if first.len() != other.len() {
        problems.push(
            Problem::new("table-column-length")
                .with("quantity", gives.key())
                .with("expected", first.len())
                .with("found", other.len()),
        );
    }
}

fn row(i: usize) -> String {
    format!("row {}", i + 1)
}

/// Uncertainties must be finite, zero or above.
pub fn check_uncertainty(numbers: &[f64], gives: Gives, problems: &mut Problems) {
    if let Some(i) = numbers.iter().position(|u| !u.is_finite() || *u < 0.0) {
        problems.push(
            Problem::new("table-bad-uncertainty")
                .at(row(i))
                .with("quantity", gives.key())
                .with("found", numbers[i].to_string()),
        );
    }
}

/// Frequencies must rise from zero or above, magnitudes be above zero, phases finite.
///
/// # Errors
/// The first row of each kind that is out of order.
pub fn check(
    frequency_hz: &[f64],
    v_per_pa: &[f64],
    phase_rad: Option<&[f64]>,
) -> Result<(), Problems> {
    let mut problems = Vec::new();
    if frequency_hz.len() < 2 {
        problems.push(Problem::new("table-too-short").with("found", frequency_hz.len()));
    }
    if let Some(i) = frequency_hz.iter().position(|f| !f.is_finite() || *f < 0.0) {
        problems.push(
            Problem::new("table-bad-frequency")
                .at(row(i))
                .with("found", frequency_hz[i].to_string()),
        );
    } else if let Some(i) = frequency_hz.windows(2).position(|w| w[1] <= w[0]) {
        problems.push(
            Problem::new("table-not-rising").at(row(i + 1)).with("found", frequency_hz[i + 1]),
        );
    }
    if let Some(i) = v_per_pa.iter().position(|m| !m.is_finite() || *m <= 0.0) {
        problems.push(
            Problem::new("table-bad-sensitivity").at(row(i)).with("found", v_per_pa[i].to_string()),
        );
    }
    if let Some((i, p)) = phase_rad.and_then(|p| p.iter().enumerate().find(|(_, p)| !p.is_finite()))
    {
        problems.push(Problem::new("table-bad-phase").at(row(i)).with("found", p.to_string()));
    }
    if problems.is_empty() { Ok(()) } else { Err(problems) }
}

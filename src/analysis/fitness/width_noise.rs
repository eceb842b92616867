//! Whether the noise lies well below the levels at which widths are taken.

use crate::analysis::assemble::{Evaluated, ScanInput};
use crate::analysis::results::Picture;
use crate::base::finding::{Finding, Severity};
use crate::base::quantity::{Quantity, entry_of};
use crate::field::Scale;

/// Distance from the noise to a width's level, dB, below which it is told. Common practice, no source.
const CLEAR_DB: f64 = 10.0;

/// Names the widths, lengths and areas at whose level the noise is within 10 dB: the mean energy of the
/// noise in the window re that level of `ppsi`, its mean square re the square of that level of a peak
/// pressure.
pub fn too_little(input: &ScanInput<'_>, evaluated: &Evaluated) -> Option<Finding> {
    let noise_pa2 = input.noise_pa2?;
    let (a, b) = input.plan.windows.pulse;
    let noise_ppsi = noise_pa2 * (b - a) as f64 * input.part.scan.interval_s;
    let peak = peaks(&evaluated.picture)?;
    let names: Vec<String> = evaluated
        .quantities
        .iter()
        .filter(|q| {
            level_db(q).is_some_and(|(of, db)| {
                let noise = if of == Of::Energy { noise_ppsi } else { noise_pa2.sqrt() };
                is_near(noise, peak[of as usize], of.scale(), db)
            })
        })
        .filter_map(|q| entry_of(q.id))
        .map(|entry| entry.symbol.to_owned())
        .collect();
    (!names.is_empty()).then(|| {
        input
            .finding(Severity::Caution, "snr-too-low-for-width")
            .with("widths", names)
            .with("limit", crate::base::finding::Arg::measure(CLEAR_DB, "dB"))
    })
}

/// What a width is taken of.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Of {
    Energy,
    Pc,
    Pr,
}

impl Of {
    fn scale(self) -> Scale {
        if self == Self::Energy { Scale::Energy } else { Scale::Amplitude }
    }
}

/// Whether a noise lies within 10 dB of the level `db` below a peak.
fn is_near(noise: f64, peak: f64, scale: Scale, db: f64) -> bool {
    noise > peak * scale.ratio(db) * scale.ratio(CLEAR_DB)
}

/// Peak values of ppsi, p_c and p_r.
fn peaks(picture: &Picture) -> Option<[f64; 3]> {
    let top = |values: &[f64]| values.iter().copied().fold(0.0, f64::max);
    match picture {
        Picture::Plane(plane) => Some([plane.peak_ppsi, top(&plane.pc_pa), top(&plane.pr_pa)]),
        Picture::Line(line) => Some([line.peak_ppsi, top(&line.pc_pa), top(&line.pr_pa)]),
        Picture::Drive(_) | Picture::None => None,
    }
}

/// What a width, length or area that has a value is taken of, and at which level.
fn level_db(quantity: &Quantity) -> Option<(Of, f64)> {
    let id = quantity.id;
    let extent = ["width_", "length_", "area_"].iter().any(|start| id.starts_with(start));
    if !extent || quantity.outcome.is_err() {
        return None;
    }
    let of = match id {
        id if id.ends_with("_pc") => Of::Pc,
        id if id.ends_with("_pr") => Of::Pr,
        _ => Of::Energy,
    };
    let level = id.split('_').find_map(|part| part.parse::<f64>().ok())?;
    Some((of, level))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Energy: −12 dB less 10 dB is 10^−2.2 = 0.006 310 of the peak; pressure: 10^−1.1 = 0.079 43
    /// (definition of the decibel).
    #[test]
    fn ten_decibels() {
        assert!(is_near(0.006_32, 1.0, Scale::Energy, 12.0));
        assert!(!is_near(0.006_30, 1.0, Scale::Energy, 12.0));
        assert!(is_near(0.079_5, 1.0, Scale::Amplitude, 12.0));
        assert!(!is_near(0.079_4, 1.0, Scale::Amplitude, 12.0));
    }

    #[test]
    fn levels_by_id() {
        let of =
            |id: &'static str| level_db(&Quantity::value(id, 1e-3)).map(|(of, db)| (of as u8, db));
        assert_eq!(of("width_x_12"), Some((0, 12.0)));
        assert_eq!(of("width_y_3_pc"), Some((1, 3.0)));
        assert_eq!(of("area_6_pr"), Some((2, 6.0)));
        assert_eq!(of("length_6"), Some((0, 6.0)));
        assert_eq!(of("width_major_6"), Some((0, 6.0)));
        assert_eq!(of("x_peak"), None);
        let none = Quantity::missing("width_x_6", crate::base::quantity::Reason::new("no-pulse"));
        assert!(level_db(&none).is_none());
    }
}

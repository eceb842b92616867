//! The sources of a scan with their values.

use super::response::ResponseSensitivity;
use crate::analysis::prepare::{Prepared, PreparedScan};
use crate::base::budget::source;
use crate::base::revisits::Revisits;
use crate::base::transfer::TransferSource;
use crate::dsp::statistics::{mean, standard_deviation};
use crate::record::Distribution;
use crate::uncertainty::{Instruments, Origin, Source, Sources, instruments};

/// Sources of a scan: of instruments, of the response or of the check source that gave it, and those
/// that the quantities carry in standard uncertainties. With the drift corrected, what is left of the
/// scatter of the revisits and their number stand for that of the drive.
pub fn sources(
    prepared: &Prepared,
    part: &PreparedScan,
    response: &ResponseSensitivity,
    revisits: &[Revisits],
    corrected: Option<(f64, usize)>,
) -> Sources {
    let revisited = corrected
        .or_else(|| revisits.iter().filter_map(scatter).max_by(|a, b| a.0.total_cmp(&b.0)));
    let record = &prepared.record;
    let mut sources = instruments(record, &part.entry, Instruments { revisited });
    let transferred = prepared
        .transfers
        .iter()
        .filter(|_| part.response.is_transferred())
        .find_map(|transfer| transfer.of_range(part.entry.range.as_deref()));
    match transferred {
        Some(factor) => {
            for share in &factor.sources {
                sources.known.push(Source {
                    id: share.source.as_str().to_owned(),
                    u: share.u_relative,
                    unit: "1",
                    distribution: Distribution::Normal,
                    nu: share.nu,
                    common: share.common,
                    origin: origin_of(share.source),
                    from: "check-source".to_owned(),
                });
            }
        }
        None => of_response(&record.response_path(&part.entry), response, &mut sources),
    }
    for (id, distribution, common, from) in [
        (source::LOW_PASS, Distribution::Rectangular, true, "signal-and-low-pass"),
        (source::NOISE, Distribution::Normal, false, "pre-arrival"),
        (source::NOISE_BIAS, Distribution::Rectangular, false, "added-noise"),
        (source::SPATIAL_AVERAGING, Distribution::Normal, true, "third-of-correction"),
        (source::PEAK_FIT, Distribution::Normal, false, "residual"),
        (source::WINDOW, Distribution::Rectangular, true, "fall-to-the-edge"),
    ] {
        sources.known.push(Source {
            id: id.to_owned(),
            u: 1.0,
            unit: "",
            distribution,
            nu: None,
            common,
            origin: Origin::Data,
            from: from.to_owned(),
        });
    }
    sources
}

/// The scatter of several shots at one place.
pub fn of_shots(used: usize) -> Option<Source> {
    (used > 1).then(|| Source {
        id: source::SHOTS.to_owned(),
        u: 1.0,
        unit: "",
        distribution: Distribution::Normal,
        nu: Some((used - 1) as f64),
        common: false,
        origin: Origin::Data,
        from: "shot-scatter".to_owned(),
    })
}

/// Scatter of the peaks over revisits, relative, with their number.
fn scatter(revisits: &Revisits) -> Option<(f64, usize)> {
    let of = |values: &[f64]| {
        let middle = mean(values).filter(|m| *m > 0.0)?;
        Some(standard_deviation(values)? / middle)
    };
    let largest = of(&revisits.pc_pa)?.max(of(&revisits.pr_pa)?);
    Some((largest, revisits.pc_pa.len()))
}

fn of_response(path: &str, response: &ResponseSensitivity, sources: &mut Sources) {
    let [magnitude, phase] = response.missing();
    let blank = format!("{path}.uncertainty");
    let mut add = |id: &str, unit, u| {
        sources.known.push(Source {
            id: id.to_owned(),
            u,
            unit,
            distribution: Distribution::Normal,
            nu: None,
            common: true,
            origin: Origin::Record,
            from: path.to_owned(),
        });
    };
    if let Some(u) = response.u_magnitude {
        add(source::CALIBRATION, "1", u);
    }
    if let Some(u) = response.u_phase_rad {
        add(source::CALIBRATION_PHASE, "rad", u);
    }
    if let Some(code) = magnitude {
        sources.leave_out(source::CALIBRATION, code, Some(&blank));
    }
    // A flat response has no phase to be uncertain of, and the narrowband method does not use it.
    if let Some(code @ ("not-stated" | "minimum-phase")) = phase {
        sources.leave_out(source::CALIBRATION_PHASE, code, None);
    }
}

fn origin_of(source: TransferSource) -> Origin {
    match source {
        TransferSource::ReferenceCertificate
        | TransferSource::Flatness
        | TransferSource::Linearity
        | TransferSource::Temperature => Origin::Record,
        _ => Origin::Data,
    }
}

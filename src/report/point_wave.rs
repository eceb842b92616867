//! Waveform and spectrum of a point that was pointed at, beside those of the focal point.

use super::drawings::Draughtsman;
use super::model::{CurveStyle, Figure, FigureBody};
use super::plain_symbols;
use super::pointing::WaveAt;
use super::rounding;
use super::wording::Wording;
use crate::analysis::{FocalWave, Results};

/// What is shown of a point's waveform.
pub struct PointWave {
    /// Where: `x 0.40 mm, y −0.20 mm, z 44.4 mm, drive 90 Vpp`.
    pub heading: String,
    /// Its peak pressures: `p_c 5.21 MPa, p_r 4.32 MPa`, without subscripts.
    pub text: String,
    /// Waveform and spectrum.
    pub figures: Vec<Figure>,
}

/// The waveform of a point of a scan, or the one that the scan itself shows. Peaks are those of the waveform as it is, uncorrected.
pub fn point_wave(
    results: &Results,
    at: WaveAt,
    wave: &FocalWave,
    words: &dyn Wording,
) -> Option<PointWave> {
    let scan = results.scans.get(at.scan)?;
    let hand = Draughtsman { results, scan, words };
    let marks = words.marks();
    let mut figures = hand.wave(wave);
    // Beside itself it would say nothing.
    let focal = scan.focal.as_ref().filter(|_| at.cell.is_some());
    let focal = focal.map_or_else(Vec::new, |focal| hand.wave(focal));
    for (figure, own) in figures.iter_mut().zip(focal) {
        let (FigureBody::Curves(data), FigureBody::Curves(own)) = (&mut figure.body, own.body)
        else {
            continue;
        };
        data.curves.iter_mut().for_each(|curve| {
            curve.label = hand.label("point-here");
            // One band would hide the other curve.
            curve.band.clear();
        });
        data.curves.extend(own.curves.into_iter().map(|mut curve| {
            curve.label = hand.label("point-focal");
            curve.style = CurveStyle::Reference;
            curve.band.clear();
            curve
        }));
    }
    let (unit, factor, _) = hand.pressure();
    let placed = |(name, place): (&str, Option<f64>)| {
        Some(format!("{name} {}\u{a0}mm", rounding::fixed(place? * 1e3, 2, marks)))
    };
    let places = ["x", "y", "z"].into_iter().zip(wave.position_m).filter_map(placed);
    let peak = |symbol: &str, value: f64| {
        format!("{symbol} {}\u{a0}{unit}", rounding::plain(value * factor, marks))
    };
    let text = format!("{}, {}", peak("p_{c}", wave.pc.0), peak("p_{r}", wave.pr.0));
    Some(PointWave {
        heading: places.chain(hand.drive()).collect::<Vec<_>>().join(", "),
        text: plain_symbols(&text),
        figures,
    })
}

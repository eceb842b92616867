//! Positions, widths and areas of a plane: of the energy, and of each peak pressure on its own map.

use crate::analysis::results::PressureProfiles;
use crate::base::quantity::{Quantity, Reason};
use crate::field::spatial_peak::SpatialPeak;
use crate::field::{Scale, beam_area, beam_width, spatial_peak};

/// Levels of widths, dB.
const LEVELS_DB: [f64; 3] = [3.0, 6.0, 12.0];

/// Ids of one quantity's positions, widths and area.
pub struct Ids {
    position: [&'static str; 2],
    widths: [[&'static str; 3]; 2],
    area: &'static str,
    methods: [&'static str; 3],
    scale: Scale,
}

/// Of the pulse-pressure-squared integral.
pub const OF_ENERGY: Ids = Ids {
    position: ["x_peak", "y_peak"],
    widths: [["width_x_3", "width_x_6", "width_x_12"], ["width_y_3", "width_y_6", "width_y_12"]],
    area: "area_6",
    methods: ["peak-ppsi", "width-ppsi", "area-contour"],
    scale: Scale::Energy,
};

/// Of the compressional peak.
pub const OF_PC: Ids = Ids {
    position: ["x_peak_pc", "y_peak_pc"],
    widths: [
        ["width_x_3_pc", "width_x_6_pc", "width_x_12_pc"],
        ["width_y_3_pc", "width_y_6_pc", "width_y_12_pc"],
    ],
    area: "area_6_pc",
    methods: ["peak-pc", "width-pc", "area-pc"],
    scale: Scale::Amplitude,
};

/// Of the rarefactional peak.
pub const OF_PR: Ids = Ids {
    position: ["x_peak_pr", "y_peak_pr"],
    widths: [
        ["width_x_3_pr", "width_x_6_pr", "width_x_12_pr"],
        ["width_y_3_pr", "width_y_6_pr", "width_y_12_pr"],
    ],
    area: "area_6_pr",
    methods: ["peak-pr", "width-pr", "area-pr"],
    scale: Scale::Amplitude,
};

/// Geometry of one map.
pub struct Geometry {
    pub quantities: Vec<Quantity>,
    pub profile_x: Vec<f64>,
    pub profile_y: Vec<f64>,
    /// −6 dB limits along x and y, m.
    pub limits: [Option<(f64, f64)>; 2],
    /// Points of the −6 dB level that are not connected with the beam.
    pub islands: usize,
}

/// Positions, widths and area of one map about its own peak; `blocked` is why there are none.
pub fn geometry(
    ids: &Ids,
    (x_m, y_m): (&[f64], &[f64]),
    values: &[f64],
    peak: &SpatialPeak,
    blocked: Option<&Reason>,
) -> Geometry {
    let whole = |outcome: Result<f64, Reason>| match blocked {
        Some(reason) => Err(reason.clone()),
        None => outcome,
    };
    let [of_position, of_width, of_area] = ids.methods;
    let mut quantities = vec![
        Quantity::from_outcome(ids.position[0], whole(Ok(peak.x_m))).by(of_position),
        Quantity::from_outcome(ids.position[1], whole(Ok(peak.y_m))).by(of_position),
    ];
    let profile_x = beam_width::profile_along_x(x_m, y_m, values, peak.y_m).unwrap_or_default();
    let profile_y = beam_width::profile_along_y(x_m, y_m, values, peak.x_m).unwrap_or_default();
    let mut limits = [None; 2];
    let sides = [(x_m, &profile_x, peak.x_m), (y_m, &profile_y, peak.y_m)];
    for ((names, (axis, profile, at)), limit) in ids.widths.iter().zip(sides).zip(&mut limits) {
        for (id, db) in names.iter().zip(LEVELS_DB) {
            let found = beam_width::width_m(axis, profile, at, peak.value, ids.scale, db);
            if db == 6.0 {
                *limit = found;
            }
            let outcome =
                found.map(|(a, b)| b - a).ok_or_else(|| Reason::new("beam-not-within-scan"));
            quantities.push(Quantity::from_outcome(id, whole(outcome)).by(of_width));
        }
    }
    let region = beam_area::beam_area(x_m, y_m, values, peak, ids.scale, 6.0);
    let area = match &region {
        Some(region) if !region.at_edge => Ok(region.area),
        _ => Err(Reason::new("beam-not-within-scan")),
    };
    quantities.push(Quantity::from_outcome(ids.area, whole(area)).by(of_area));
    let islands = region.map_or(0, |region| region.islands);
    Geometry { quantities, profile_x, profile_y, limits, islands }
}

/// Geometry of a peak pressure's map with its peak; why there is none, where it has no peak.
pub fn of_pressure(
    ids: &Ids,
    axes: (&[f64], &[f64]),
    values: &[f64],
    blocked: Option<&Reason>,
) -> (Vec<Quantity>, Option<PressureProfiles>) {
    match spatial_peak::of_plane(axes.0, axes.1, values, ids.scale) {
        Some(peak) => {
            let found = geometry(ids, axes, values, &peak, blocked);
            let profiles = PressureProfiles {
                peak_pa: peak.value,
                peak_m: (peak.x_m, peak.y_m),
                x_pa: found.profile_x,
                y_pa: found.profile_y,
                width_x: found.limits[0],
                width_y: found.limits[1],
            };
            (found.quantities, Some(profiles))
        }
        None => {
            let all = ids.position.iter().chain(ids.widths.iter().flatten()).chain([&ids.area]);
            (all.map(|id| Quantity::missing(id, Reason::new("no-pulse"))).collect(), None)
        }
    }
}

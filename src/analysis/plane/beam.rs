//! The beam as a whole: own axes, side lobes, tilt, spatial averages, radiating area.

use super::maps::{Block, Maps};
use crate::analysis::assemble::ScanInput;
use crate::analysis::focal_wave::Waveform;
use crate::analysis::point::{exposure_duty, tank_duty};
use crate::base::budget::source::{self, CALIBRATION, TEMPERATURE};
use crate::base::finding::{Arg, Finding, Severity};
use crate::base::quantity::{Quantity, Reason, TimeBase};
use crate::base::water;
use crate::field::local_distortion::{Propagation, QUASI_LINEAR, sigma_q};
use crate::field::spatial_peak::SpatialPeak;
use crate::field::{
    Scale, beam_axis, effective_area, head_distance, mean_intensity, principal_axes, side_lobe,
    source_area, spatial_peak, tilt,
};
use crate::record::ZZero;

/// Standard deviations of the noise's energy that a side lobe must reach.
const FLOOR: f64 = 5.0;
/// Tilt from which a finding is made, rad: 3°, at which a width across an oblique beam is 0.14 % too
/// large, and a head is visibly askew. Common practice, no source.
const TILTED: f64 = 0.052;
/// A beam is taken for that of an unfocused head when its −6 dB area is at least this part of the source's.
const UNFOCUSED: f64 = 0.2;

/// A plane with its peak.
pub struct Beam<'a> {
    pub input: &'a ScanInput<'a>,
    pub axes: (&'a [f64], &'a [f64]),
    pub map: &'a Maps,
    pub peak: &'a SpatialPeak,
    pub wave: &'a Waveform,
    pub block: Option<&'a Block>,
    /// −6 dB beam area, m².
    pub area_m2: Option<f64>,
}

impl Beam<'_> {
    fn whole(&self, outcome: Result<f64, Reason>) -> Result<f64, Reason> {
        match self.block {
            Some(block) => Err(block.reason.clone()),
            None => outcome,
        }
    }

    fn quantity(&self, id: &'static str, outcome: Result<f64, Reason>) -> Quantity {
        Quantity::from_outcome(id, self.whole(outcome))
    }

    /// Widths along the beam's own axes.
    pub fn own_axes(&self) -> Vec<Quantity> {
        let (x, y) = self.axes;
        let found =
            principal_axes::principal_axes(x, y, &self.map.ppsi, self.peak, Scale::Energy, 6.0);
        let missing = || Reason::new("beam-not-within-scan");
        let width = |f: fn(&principal_axes::PrincipalAxes) -> f64| {
            found.as_ref().map(f).ok_or_else(missing)
        };
        let angle = match &found {
            Some(axes) => axes.angle_rad.ok_or_else(|| Reason::new("round-beam")),
            None => Err(missing()),
        };
        vec![
            self.quantity("width_major_6", width(|a| a.major_m)).by("width-ppsi"),
            self.quantity("width_minor_6", width(|a| a.minor_m)).by("width-ppsi"),
            self.quantity("axis_angle", angle).by("second-moments"),
        ]
    }

    /// The highest side lobe.
    pub fn side_lobe(&self) -> (Quantity, Option<Finding>) {
        let (x, y) = self.axes;
        let (a, b) = self.input.plan.windows.pulse;
        let duration = (b - a) as f64 * self.input.part.scan.interval_s;
        let noise = self.input.noise_pa2.unwrap_or(0.0);
        let scatter = noise * duration / (self.wave.noise_band_hz * duration).max(1.0).sqrt();
        let found =
            side_lobe::side_lobe(x, y, &self.map.ppsi, self.peak, Scale::Energy, FLOOR * scatter);
        let outcome = found.map(|lobe| lobe.level_db).ok_or_else(|| Reason::new("no-side-lobe"));
        let edge = found.filter(|lobe| lobe.at_edge && self.block.is_none()).map(|lobe| {
            self.input
                .finding(Severity::Caution, "side-lobe-at-edge")
                .on("sidelobe_db")
                .with("found", Arg::measure(lobe.level_db, "dB"))
        });
        (self.quantity("sidelobe_db", outcome).by("of-ppsi"), edge)
    }

    /// Tilt of the beam's axis.
    ///
    /// With it the offsets of the axis at the head, each with the id of the position with which it moves.
    pub fn tilt(&self) -> (Vec<Quantity>, [(Quantity, &'static str); 2], Option<Finding>) {
        let (x, y) = self.axes;
        let at = (self.peak.x_m, self.peak.y_m);
        let speed = self.input.plan.sound_speed_m_per_s;
        let step = self.input.part.scan.grid.largest_lateral_step_m();
        let found = match self.input.plan.frequency_hz {
            None => Err(Reason::new("no-frequency")),
            Some(f) => tilt::tilt_from_phase(x, y, &self.map.phasors[0], f, speed, at)
                .ok_or_else(|| Reason::new("too-few-points"))
                .and_then(|tilt| {
                    let limit = step.map_or(0.0, |step| tilt::largest_angle_rad(step, speed / f));
                    let largest = tilt.x_rad.abs().max(tilt.y_rad.abs());
                    if largest < limit { Ok(tilt) } else { Err(Reason::new("step-too-large")) }
                }),
        };
        let part = |f: fn(&tilt::Tilt) -> f64| found.as_ref().map(f).map_err(Clone::clone);
        let (x_rad, y_rad) = (part(|t| t.x_rad), part(|t| t.y_rad));
        // Near a focus the phase makes the angles too small, by up to as much (Gouy): rectangular.
        let gouy = self
            .input
            .plan
            .frequency_hz
            .zip(self.area_m2)
            .map_or(0.0, |(f, area)| tilt::gouy_share(area, speed / f) / 3f64.sqrt());
        let u = found.as_ref().map_or((0.0, 0.0), |t| {
            (t.u_x_rad.hypot(gouy * t.x_rad), t.u_y_rad.hypot(gouy * t.y_rad))
        });
        let offset = |id: &'static str, at_m: f64, tilt: &Result<f64, Reason>, u_rad: f64| {
            let along = self.along_the_axis();
            let along_m = along.as_ref().map_or(0.0, |(z, head)| head - z);
            let reach = along_m.abs();
            let outcome = along.and_then(|(z_m, head_m)| {
                tilt.clone().map(|tilt| beam_axis::offset_m(at_m, z_m, tilt, head_m))
            });
            let tangent = tilt.as_ref().map_or(0.0, |tilt| tilt.tan());
            let slope = 1.0 + tangent * tangent;
            // All axes have one scale: the depth grows as the angle falls.
            self.quantity(id, outcome)
                .sensitive_to(source::PEAK_FIT, reach * slope * u_rad)
                .sensitive_to(source::AXES, at_m)
                .sensitive_to(TEMPERATURE, along_m * slope * tangent * self.faster())
                .by("peak-and-tilt")
        };
        let offsets = [
            (offset("axis_offset_x", at.0, &x_rad, u.0), "x_peak"),
            (offset("axis_offset_y", at.1, &y_rad, u.1), "y_peak"),
        ];
        let quantities = [("tilt_x", x_rad, u.0), ("tilt_y", y_rad, u.1)]
            .map(|(id, tilt, u)| self.angle(id, tilt, u))
            .to_vec();
        let tilted = found.ok().filter(|_| self.block.is_none()).and_then(|t| {
            let angle = t.x_rad.tan().hypot(t.y_rad.tan()).atan();
            (angle > TILTED).then(|| {
                self.input
                    .finding(Severity::Caution, "beam-tilted")
                    .on("tilt_x")
                    .with("found", Arg::measure(angle, "deg"))
            })
        });
        (quantities, offsets, tilted)
    }

    /// An angle from the slope of the phase, sin θ = slope · c/ω: it falls with the scale of the axes and
    /// rises with the sound speed, both as tan θ.
    fn angle(&self, id: &'static str, tilt: Result<f64, Reason>, u_rad: f64) -> Quantity {
        let tangent = tilt.as_ref().map_or(0.0, |tilt| tilt.tan());
        self.quantity(id, tilt)
            .sensitive_to(source::PEAK_FIT, u_rad)
            .sensitive_to(source::AXES, -tangent)
            .sensitive_to(TEMPERATURE, self.faster() * tangent)
            .by("phase-fit")
    }

    /// Relative change of the sound speed with the temperature, 1/K.
    fn faster(&self) -> f64 {
        let temperature = self.input.setting.temperature_c;
        water::sound_speed_slope(temperature) / water::sound_speed_m_per_s(temperature)
    }

    /// Distances of the plane and of the head from one point, m: the datum of z where both are known from
    /// it, else the head itself, from which the stated distance is counted.
    fn along_the_axis(&self) -> Result<(f64, f64), Reason> {
        let record = self.input.setting.record;
        let head_m = head_distance::head_m(&record.frame, &record.device);
        let stated = self.input.part.entry.distance_m;
        match (self.input.part.scan.grid.z_m(0), head_m, stated) {
            (Some(z_m), Ok(head_m), _) => {
                Ok((head_distance::from_datum_m(&record.frame, z_m), head_m))
            }
            (_, _, Some(distance_m)) => Ok((distance_m, 0.0)),
            (Some(_), Err(reason), None) => Err(reason),
            (None, _, None) => Err(Reason::blank("scans.distance_m")),
        }
    }

    /// Intensities averaged over the beam.
    pub fn averages(&self) -> Vec<Quantity> {
        let (x, y) = self.axes;
        let setting = &self.input.setting;
        let rho_c = water::impedance(setting.temperature_c);
        let slope = -water::impedance_relative_slope(setting.temperature_c);
        let outside = || Reason::new("beam-not-within-scan");
        let no_steady = || Reason::new(setting.no_steady.unwrap_or("no-steady-window"));
        let on: Result<Vec<f64>, Reason> = match (&self.map.steady, self.wave.windows.steady) {
            (Some(steady), Some(_)) => Ok(steady.iter().map(|v| v / rho_c).collect()),
            _ => Err(no_steady()),
        };
        let linear = self.is_linear();
        let isal = linear.and_then(|()| on.clone()).and_then(|on| {
            let peak = spatial_peak::of_plane(x, y, &on, Scale::Energy).ok_or_else(outside)?;
            mean_intensity::isal(x, y, &on, &peak).map(|m| m.mean).ok_or_else(outside)
        });
        let mean = on.and_then(|on| {
            mean_intensity::isata(x, y, &on, &self.map.ppsi, self.peak)
                .map(|m| m.mean)
                .ok_or_else(outside)
        });
        let record = setting.record;
        let tank = tank_duty(record);
        let averaged = |duty: Result<f64, Reason>| match (&mean, duty) {
            (Ok(mean), Ok(duty)) => Ok(mean * duty),
            (Err(reason), _) => Err(reason.clone()),
            (_, Err(reason)) => Err(reason),
        };
        [
            ("isal", isal, TimeBase::On, "half-pressure-contour"),
            ("isata", averaged(tank), TimeBase::Tank, "area-contour"),
            (
                "isata",
                averaged(exposure_duty(record, setting.level)),
                TimeBase::Exposure,
                "area-contour",
            ),
        ]
        .into_iter()
        .map(|(id, outcome, base, method)| {
            let quantity = self.quantity(id, outcome);
            let value = quantity.outcome.clone().unwrap_or(0.0);
            quantity
                .scales_with(CALIBRATION, -2.0)
                .sensitive_to(TEMPERATURE, slope * value)
                .on_base(base)
                .by(method)
        })
        .collect()
    }

    /// Why `isal` cannot be given: a wave that steepens, or no way to tell.
    fn is_linear(&self) -> Result<(), Reason> {
        let setting = &self.input.setting;
        let device = &setting.record.device;
        let source_area_m2 = source_area::source_area_m2(device)
            .ok_or_else(|| Reason::blank("device.source_area_m2"))?;
        let entry = &self.input.part.entry;
        // From the end of a coupling cone the distance of the source is not known.
        let cone = setting.record.frame.z_zero == Some(ZZero::Cone);
        let from_head = || self.along_the_axis().ok().filter(|_| !cone).map(|(z, head)| z - head);
        let distance_m = entry
            .distance_m
            .or_else(from_head)
            .filter(|z| *z > 0.0)
            .ok_or_else(|| Reason::blank("scans.distance_m"))?;
        let frequency_hz = setting.frequency_hz.ok_or_else(|| Reason::new("no-frequency"))?;
        let beam_area_m2 = self.area_m2.ok_or_else(|| Reason::new("beam-not-within-scan"))?;
        let sigma = sigma_q(&Propagation {
            distance_m,
            mean_peak_pa: 0.5 * (self.wave.wave.pc.0 + self.wave.wave.pr.0),
            frequency_hz,
            source_area_m2,
            beam_area_m2,
            density_kg_m3: water::density_kg_per_m3(setting.temperature_c),
            speed_m_s: self.input.plan.sound_speed_m_per_s,
        });
        if sigma <= QUASI_LINEAR { Ok(()) } else { Err(Reason::new("not-linear")) }
    }

    /// Effective radiating area and beam non-uniformity of an unfocused head.
    pub fn radiating_area(&self) -> Vec<Quantity> {
        let (x, y) = self.axes;
        let device = &self.input.setting.record.device;
        let focused = device.radius_of_curvature_m.is_some();
        let found = match (focused, source_area::source_area_m2(device), self.area_m2) {
            (true, ..) => Err(Reason::new("focused-head")),
            (false, None, _) => Err(Reason::blank("device.source_area_m2")),
            (false, Some(source), Some(beam)) if beam < UNFOCUSED * source => {
                Err(Reason::new("focused-head"))
            }
            _ => effective_area::effective_area(x, y, &self.map.ppsi, self.peak.value)
                .filter(|area| !area.at_edge)
                .ok_or_else(|| Reason::new("beam-not-within-scan")),
        };
        let part = |f: fn(&effective_area::EffectiveArea) -> f64| {
            found.as_ref().map(f).map_err(Clone::clone)
        };
        vec![
            self.quantity("era", part(|a| a.era_m2)).by("of-ppsi"),
            self.quantity("bnr", part(|a| a.bnr)).by("of-ppsi"),
        ]
    }
}

//! Field data as figures: printed units, axis words, captions.

use super::model::{
    AxisData, ColourScale, Curve, CurveStyle, CurvesData, Figure, FigureBody, MapData,
};
use super::rounding;
use super::wording::Wording;
use crate::analysis::{FocalWave, LinePicture, PlanePicture, Results, ScanResult};
use crate::base::units;
use crate::base::water;

const LEVELS_DB: [(f64, &str); 3] = [(-3.0, "−3 dB"), (-6.0, "−6 dB"), (-12.0, "−12 dB")];
/// Lowest level of a drawn profile, dB.
const PROFILE_FLOOR_DB: f64 = -40.0;
/// Lowest level of a drawn spectrum, dB.
const SPECTRUM_FLOOR_DB: f64 = -80.0;

/// What all drawings of a scan need.
pub struct Draughtsman<'a> {
    pub results: &'a Results,
    pub scan: &'a ScanResult,
    pub words: &'a dyn Wording,
}

/// The name of a scan as ids of figures begin.
pub fn safe(scan: &str) -> String {
    let sign = |c: char| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
    scan.chars().map(sign).collect()
}

impl Draughtsman<'_> {
    pub(super) fn label(&self, key: &str) -> String {
        self.words.label(key).unwrap_or_default().to_owned()
    }

    pub(super) fn axis(&self, label: &str, unit: &str) -> AxisData {
        AxisData { label: label.to_owned(), unit: unit.to_owned(), limits: None, log: false }
    }

    pub(super) fn id(&self, what: &str) -> String {
        format!("{}-{what}", safe(&self.scan.id))
    }

    /// `Scan focal-plane at z = 44.4 mm, drive 90 Vpp.`
    pub(super) fn story(&self, what: &str, z_m: Option<f64>) -> String {
        let marks = self.words.marks();
        let mut out = format!("{what}. {} {}", self.label("scan"), self.scan.id);
        if let Some(z) = z_m {
            out.push_str(&format!(", z = {}\u{a0}mm", rounding::plain(z * 1e3, marks)));
        }
        if let Some(drive) = self.drive() {
            out.push_str(&format!(", {drive}"));
        }
        out.push('.');
        out
    }

    /// `drive 90 Vpp`, where it is stated.
    pub(super) fn drive(&self) -> Option<String> {
        let level = rounding::digits(self.scan.level?, 3, self.words.marks());
        let unit = self.results.record.excitation.level_unit.as_deref().unwrap_or("");
        Some(format!("{} {level}\u{a0}{unit}", self.label("drive")))
    }

    /// Unit and factor of pressures: MPa, or V where no response is stated.
    pub(super) fn pressure(&self) -> (&'static str, f64, String) {
        if self.scan.calibrated {
            ("MPa", 1.0 / units::PA_PER_MPA, self.label("axis-pressure"))
        } else {
            ("V", 1.0, self.label("axis-voltage"))
        }
    }

    pub(super) fn map(
        &self,
        plane: &PlanePicture,
        values: &[f64],
        factor: f64,
        value: AxisData,
        energy: bool,
    ) -> MapData {
        let mm = |v: &Vec<f64>| v.iter().map(|m| m * 1e3).collect::<Vec<f64>>();
        let peak = values.iter().copied().fold(0.0, f64::max);
        let contours = LEVELS_DB
            .iter()
            .map(|(db, text)| {
                let ratio = 10f64.powf(db / if energy { 10.0 } else { 20.0 });
                (peak * ratio * factor, (*text).to_owned())
            })
            .collect();
        MapData {
            x: self.axis("x", "mm"),
            y: self.axis("y", "mm"),
            x_values: mm(&plane.x_m),
            y_values: mm(&plane.y_m),
            values: values.iter().map(|v| v.is_finite().then(|| (v * factor).max(0.0))).collect(),
            value: AxisData {
                limits: Some((0.0, (peak * factor).max(f64::MIN_POSITIVE))),
                ..value
            },
            scale: ColourScale::Sequential,
            contours,
            peak: Some((plane.peak_m.0 * 1e3, plane.peak_m.1 * 1e3)),
            replaced: plane.replaced.clone(),
        }
    }

    /// Map of the pulse-intensity integral, or of the squared volts relative to the peak.
    fn energy_map(&self, plane: &PlanePicture) -> MapData {
        if self.scan.calibrated {
            let rho_c = water::impedance(self.results.conditions.water_temperature_c);
            let axis = self.axis(&self.label("axis-pii"), "mJ/cm²");
            self.map(plane, &plane.ppsi_pa2_s, 0.1 / rho_c, axis, true)
        } else {
            let axis = self.axis(&self.label("axis-relative-energy"), "");
            self.map(plane, &plane.ppsi_pa2_s, 1.0 / plane.peak_ppsi, axis, true)
        }
    }

    /// Maps of pc, pr and intensity.
    pub fn maps(&self, plane: &PlanePicture) -> Vec<Figure> {
        let (unit, factor, _) = self.pressure();
        let pressure = |key: &str, values: &[f64], what: &str| Figure {
            id: self.id(what),
            caption: self.story(&self.label(&format!("caption-{what}")), plane.z_m),
            alt: self.label(&format!("caption-{what}")),
            body: FigureBody::Map(self.map(plane, values, factor, self.axis(key, unit), false)),
        };
        vec![
            pressure("p_{c}", &plane.pc_pa, "pc"),
            pressure("p_{r}", &plane.pr_pa, "pr"),
            Figure {
                id: self.id("intensity"),
                caption: self.story(&self.label("caption-intensity"), plane.z_m),
                alt: self.label("caption-intensity"),
                body: FigureBody::Map(self.energy_map(plane)),
            },
        ]
    }

    /// Profiles through the peak, dB.
    pub fn profiles(&self, plane: &PlanePicture) -> Vec<Figure> {
        let one = |axis: &str, along: &[f64], profile: &[f64], width: Option<(f64, f64)>| Figure {
            id: self.id(&format!("profile-{axis}")),
            caption: self.story(&self.label(&format!("caption-profile-{axis}")), plane.z_m),
            alt: self.label(&format!("caption-profile-{axis}")),
            body: FigureBody::Curves(self.level_profile(
                axis,
                along,
                profile,
                plane.peak_ppsi,
                width,
            )),
        };
        vec![
            one("x", &plane.x_m, &plane.profile_x, plane.width_x),
            one("y", &plane.y_m, &plane.profile_y, plane.width_y),
        ]
    }

    fn level_profile(
        &self,
        axis: &str,
        along_m: &[f64],
        values: &[f64],
        peak: f64,
        width: Option<(f64, f64)>,
    ) -> CurvesData {
        let db = |v: &f64| {
            (*v > 0.0 && peak > 0.0)
                .then(|| 10.0 * (v / peak).log10())
                .filter(|d| *d >= PROFILE_FLOOR_DB)
        };
        CurvesData {
            x: self.axis(axis, "mm"),
            y: AxisData {
                label: self.label("axis-level"),
                unit: "dB".to_owned(),
                limits: Some((PROFILE_FLOOR_DB, 2.0)),
                log: false,
            },
            curves: vec![Curve {
                label: String::new(),
                x: along_m.iter().map(|m| m * 1e3).collect(),
                y: values.iter().map(db).collect(),
                band: Vec::new(),
                style: CurveStyle::Measured,
            }],
            levels: LEVELS_DB.iter().map(|(db, text)| (*db, (*text).to_owned())).collect(),
            marks: Vec::new(),
            span: None,
            points: Vec::new(),
            width: width.map(|(a, b)| {
                let text =
                    format!("{}\u{a0}mm", rounding::plain((b - a) * 1e3, self.words.marks()));
                (a * 1e3, b * 1e3, -6.0, text)
            }),
        }
    }

    /// A line across the beam or along it: pressures, and the level of the energy with its extent.
    pub fn line(&self, line: &LinePicture) -> Vec<Figure> {
        let (unit, factor, label) = self.pressure();
        let along: Vec<f64> = line.along_m.iter().map(|m| m * 1e3).collect();
        let curve = |label: &str, values: &[f64], style: CurveStyle| Curve {
            label: label.to_owned(),
            x: along.clone(),
            y: values.iter().map(|v| v.is_finite().then_some(v * factor)).collect(),
            band: Vec::new(),
            style,
        };
        let what = if line.axis == "z" { "caption-axial" } else { "caption-line" };
        let pressures = CurvesData {
            x: self.axis(line.axis, "mm"),
            y: self.axis(&label, unit),
            curves: vec![
                curve("p_{c}", &line.pc_pa, CurveStyle::Measured),
                curve("p_{r}", &line.pr_pa, CurveStyle::Reference),
            ],
            levels: Vec::new(),
            marks: Vec::new(),
            span: None,
            points: Vec::new(),
            width: None,
        };
        let level = self.level_profile(
            line.axis,
            &line.along_m,
            &line.ppsi_pa2_s,
            line.peak_ppsi,
            line.extent_6,
        );
        vec![
            Figure {
                id: self.id("pressures"),
                caption: self.story(&self.label(what), None),
                alt: self.label(what),
                body: FigureBody::Curves(pressures),
            },
            Figure {
                id: self.id("level"),
                caption: self.story(&self.label(&format!("{what}-level")), None),
                alt: self.label(&format!("{what}-level")),
                body: FigureBody::Curves(level),
            },
        ]
    }

    fn wave_curves(&self, wave: &FocalWave) -> CurvesData {
        let (unit, factor, label) = self.pressure();
        let length = wave.pulse.stop_s - wave.pulse.start_s;
        let typed = &self.results.record.analysis.window;
        // A stated window may hold less than the pulse: what stands about it is shown.
        let stated = wave.steady.is_none() && (typed.start_s.is_some() || typed.stop_s.is_some());
        let margin = if stated { 0.5 } else { 0.08 } * length;
        let (from, to) = (wave.pulse.start_s - margin, wave.pulse.stop_s + margin);
        let (mut x, mut y, mut band) = (Vec::new(), Vec::new(), Vec::new());
        for (i, p) in wave.p_pa.iter().enumerate() {
            let t = wave.t0_s + i as f64 * wave.interval_s;
            if t >= from && t <= to {
                x.push(t * 1e6);
                y.push(Some(p * factor));
                band.extend(wave.u_at(t).map(|u| ((p - 2.0 * u) * factor, (p + 2.0 * u) * factor)));
            }
        }
        if band.len() != x.len() {
            band.clear();
        }
        CurvesData {
            x: self.axis(&self.label("axis-time"), "µs"),
            y: self.axis(&label, unit),
            curves: vec![Curve { label: String::new(), x, y, band, style: CurveStyle::Measured }],
            levels: Vec::new(),
            marks: Vec::new(),
            span: Some(match wave.steady {
                Some(w) => (w.start_s * 1e6, w.stop_s * 1e6, self.label("steady-window")),
                None => {
                    let w = wave.pulse;
                    (w.start_s * 1e6, w.stop_s * 1e6, self.label("pulse-window"))
                }
            }),
            points: vec![
                (wave.pc.1 * 1e6, wave.pc.0 * factor, "p_{c}".to_owned()),
                (wave.pr.1 * 1e6, -wave.pr.0 * factor, "p_{r}".to_owned()),
            ],
            width: None,
        }
    }

    /// Waveform and spectrum at the peak.
    pub fn wave(&self, wave: &FocalWave) -> Vec<Figure> {
        let z = wave.position_m[2];
        vec![
            Figure {
                id: self.id("waveform"),
                caption: self.story(&self.label("caption-waveform"), z),
                alt: self.label("caption-waveform"),
                body: FigureBody::Curves(self.wave_curves(wave)),
            },
            Figure {
                id: self.id("spectrum"),
                caption: self.story(&self.label("caption-spectrum"), z),
                alt: self.label("caption-spectrum"),
                body: FigureBody::Curves(self.spectrum(wave)),
            },
        ]
    }

    fn spectrum(&self, wave: &FocalWave) -> CurvesData {
        let highest = 1.3 * wave.lowpass_cutoff_hz;
        let count = ((highest / wave.spectrum_step_hz).ceil() as usize).min(wave.spectrum_db.len());
        let f = wave.frequency_hz;
        let harmonics =
            f.map_or(0, |f| (wave.lowpass_cutoff_hz / f).floor().clamp(0.0, 20.0) as u32);
        CurvesData {
            x: self.axis(&self.label("axis-frequency"), "MHz"),
            y: AxisData {
                label: self.label("axis-level"),
                unit: "dB".to_owned(),
                limits: Some((SPECTRUM_FLOOR_DB, 5.0)),
                log: false,
            },
            curves: vec![Curve {
                label: String::new(),
                x: (0..count).map(|k| k as f64 * wave.spectrum_step_hz * 1e-6).collect(),
                y: wave.spectrum_db[..count]
                    .iter()
                    .map(|d| Some(d.max(SPECTRUM_FLOOR_DB)))
                    .collect(),
                band: Vec::new(),
                style: CurveStyle::Measured,
            }],
            levels: Vec::new(),
            marks: f
                .map(|f| {
                    (1..=harmonics).map(|n| (f64::from(n) * f * 1e-6, n.to_string())).collect()
                })
                .unwrap_or_default(),
            span: None,
            points: Vec::new(),
            width: None,
        }
    }

    /// The field at a glance.
    pub fn glance(&self, plane: &PlanePicture, wave: &FocalWave) -> Figure {
        let map = self.energy_map(plane);
        let factor = if self.scan.calibrated {
            0.1 / water::impedance(self.results.conditions.water_temperature_c)
        } else {
            1.0 / plane.peak_ppsi
        };
        let side = |axis: AxisData, along: &[f64], values: &[f64]| CurvesData {
            x: axis,
            y: AxisData {
                limits: Some((0.0, plane.peak_ppsi * factor * 1.05)),
                ..map.value.clone()
            },
            curves: vec![Curve {
                label: String::new(),
                x: along.iter().map(|m| m * 1e3).collect(),
                y: values.iter().map(|v| v.is_finite().then(|| (v * factor).max(0.0))).collect(),
                band: Vec::new(),
                style: CurveStyle::Measured,
            }],
            levels: vec![(plane.peak_ppsi * factor * 10f64.powf(-0.6), "−6 dB".to_owned())],
            marks: Vec::new(),
            span: None,
            points: Vec::new(),
            width: None,
        };
        Figure {
            id: "glance".to_owned(),
            caption: self.story(&self.label("caption-glance"), plane.z_m),
            alt: self.label("caption-glance"),
            body: FigureBody::Glance {
                x_profile: side(map.x.clone(), &plane.x_m, &plane.profile_x),
                y_profile: side(map.y.clone(), &plane.y_m, &plane.profile_y),
                waveform: self.wave_curves(wave),
                map,
            },
        }
    }

    /// The response of the chain with its uncertainty band, the signal's spectrum over it, the cut-off.
    pub fn response(&self) -> Option<Figure> {
        let response = self.scan.response.as_ref()?;
        let highest = 1.5 * response.cutoff_hz;
        let shown: Vec<usize> = (0..response.frequency_hz.len())
            .filter(|i| response.frequency_hz[*i] <= highest)
            .collect();
        if shown.len() < 2 {
            return None;
        }
        let value = |i: usize| response.v_per_pa[i] * 1e9;
        let top = shown.iter().map(|i| value(*i)).fold(0.0, f64::max);
        let mut curves = vec![Curve {
            label: self.label("curve-response"),
            x: shown.iter().map(|i| response.frequency_hz[*i] * 1e-6).collect(),
            y: shown.iter().map(|i| Some(value(*i))).collect(),
            band: response
                .u_relative
                .as_ref()
                .map(|u| {
                    shown
                        .iter()
                        .map(|i| (value(*i) * (1.0 - 2.0 * u[*i]), value(*i) * (1.0 + 2.0 * u[*i])))
                        .collect()
                })
                .unwrap_or_default(),
            style: CurveStyle::Measured,
        }];
        if let Some(wave) = &self.scan.focal {
            let count = ((highest / wave.spectrum_step_hz) as usize).min(wave.spectrum_db.len());
            let span = -SPECTRUM_FLOOR_DB;
            curves.push(Curve {
                label: self.label("curve-signal"),
                x: (0..count).map(|k| k as f64 * wave.spectrum_step_hz * 1e-6).collect(),
                y: wave.spectrum_db[..count]
                    .iter()
                    .map(|d| Some(((d - SPECTRUM_FLOOR_DB).max(0.0) / span) * top))
                    .collect(),
                band: Vec::new(),
                style: CurveStyle::Reference,
            });
        }
        Some(Figure {
            id: self.id("response"),
            caption: self.story(&self.label("caption-response"), None),
            alt: self.label("caption-response"),
            body: FigureBody::Curves(CurvesData {
                x: self.axis(&self.label("axis-frequency"), "MHz"),
                y: AxisData {
                    label: self.label("axis-sensitivity"),
                    unit: "mV/MPa".to_owned(),
                    limits: Some((0.0, 1.15 * top)),
                    log: false,
                },
                curves,
                levels: Vec::new(),
                marks: vec![(response.cutoff_hz * 1e-6, self.label("mark-cutoff"))],
                span: None,
                points: Vec::new(),
                width: None,
            }),
        })
    }
}

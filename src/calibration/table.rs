//! A sensitivity table: complex response against frequency.

use std::sync::Arc;

use rustfft::num_complex::Complex;

use crate::base::error::{Problem, Problems};
use crate::base::units;
use crate::dsp::interpolate;
use crate::formats::container::Container;

/// Most rows of a table.
const MAX_ROWS: u64 = 1 << 20;

/// Turns a number of a column into SI.
type ToSi = fn(f64) -> f64;

/// Response of the sensor chain against frequency, V/Pa, phase of V/P under exp(+jωt).
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    pub frequency_hz: Vec<f64>,
    pub v_per_pa: Vec<f64>,
    /// Unwrapped, rad; `None` where the table has no phase.
    pub phase_rad: Option<Vec<f64>>,
    /// Relative standard uncertainty of the magnitude, where given.
    pub u_relative: Option<Vec<f64>>,
    /// Standard uncertainty of the phase, rad, where given.
    pub u_phase_rad: Option<Vec<f64>>,
}

impl Table {
    /// Reads a table from the columns of a file.
    ///
    /// Columns: `frequency_hz` or `frequency_mhz`; one of `sensitivity_v_per_pa`,
    /// `sensitivity_mv_per_mpa`, `sensitivity_nv_per_pa`, `sensitivity_db_re_1v_per_upa`; optional
    /// `phase_rad` or `phase_deg`, `u_sensitivity_percent`, `u_phase_rad` or `u_phase_deg`
    /// (standard uncertainties).
    ///
    /// # Errors
    /// All that is missing or out of order.
    pub fn read(container: &Arc<dyn Container>) -> Result<Self, Problems> {
        let mut problems = Vec::new();
        let mut column = |names: &[(&str, ToSi)], needed: bool| -> Option<Vec<f64>> {
            for (name, to_si) in names {
                let path = format!("/{name}");
                if container.array(&path).is_some() {
                    return match container.read_numbers(&path, MAX_ROWS) {
                        Ok(numbers) => Some(numbers.into_iter().map(to_si).collect()),
                        Err(problem) => {
                            problems.push(problem);
                            None
                        }
                    };
                }
            }
            if needed {
                let expected: Vec<String> = names.iter().map(|(n, _)| (*n).to_owned()).collect();
                let found: Vec<String> =
                    container.arrays().iter().map(|a| a.name().to_owned()).collect();
                problems.push(
                    Problem::new("table-column-missing")
                        .with("expected", expected)
                        .with("found", found),
                );
            }
            None
        };
        let same: fn(f64) -> f64 = |v| v;
        let degrees: fn(f64) -> f64 = f64::to_radians;
        let frequency = column(&[("frequency_hz", same), ("frequency_mhz", |v| v * 1e6)], true);
        let magnitude = column(
            &[
                ("sensitivity_v_per_pa", same),
                ("sensitivity_mv_per_mpa", |v| v * 1e-9),
                ("sensitivity_nv_per_pa", |v| v * 1e-9),
                ("sensitivity_db_re_1v_per_upa", units::v_per_pa_from_db_re_v_per_upa),
            ],
            true,
        );
        let phase = column(&[("phase_rad", same), ("phase_deg", degrees)], false);
        let u_relative = column(&[("u_sensitivity_percent", |v| v * 0.01)], false);
        let u_phase = column(&[("u_phase_rad", same), ("u_phase_deg", degrees)], false);
        let (Some(frequency_hz), Some(v_per_pa)) = (frequency, magnitude) else {
            return Err(problems);
        };
        if !problems.is_empty() {
            return Err(problems);
        }
        check(&frequency_hz, &v_per_pa)?;
        Ok(Self {
            frequency_hz,
            v_per_pa,
            phase_rad: phase.map(|p| unwrap(&p)),
            u_relative,
            u_phase_rad: u_phase,
        })
    }

    /// Response at a frequency: magnitude and unwrapped phase linear between the rows, the end
    /// values beyond them; conjugate at negative frequencies.
    pub fn at(&self, frequency_hz: f64) -> Complex<f64> {
        let f = frequency_hz.abs();
        let magnitude = interpolate::linear(&self.frequency_hz, &self.v_per_pa, f).unwrap_or(0.0);
        let phase = self
            .phase_rad
            .as_ref()
            .and_then(|phase| interpolate::linear(&self.frequency_hz, phase, f))
            .unwrap_or(0.0);
        Complex::from_polar(magnitude, if frequency_hz < 0.0 { -phase } else { phase })
    }

    /// First and last frequency, Hz.
    pub fn band_hz(&self) -> (f64, f64) {
        let ends = self.frequency_hz.first().zip(self.frequency_hz.last());
        ends.map_or((0.0, 0.0), |(a, b)| (*a, *b))
    }
}

fn check(frequency_hz: &[f64], v_per_pa: &[f64]) -> Result<(), Problems> {
    let mut problems = Vec::new();
    if frequency_hz.len() < 2 {
        problems.push(Problem::new("table-too-short").with("found", frequency_hz.len()));
    }
    let row = |i: usize| format!("row {}", i + 1);
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
    if problems.is_empty() { Ok(()) } else { Err(problems) }
}

/// Adds whole turns so that neighbouring phases differ by at most half a turn.
fn unwrap(phase: &[f64]) -> Vec<f64> {
    const TURN: f64 = 2.0 * std::f64::consts::PI;
    let mut out: Vec<f64> = Vec::with_capacity(phase.len());
    for p in phase {
        let turns = out.last().map_or(0.0, |last| ((last - p) / TURN).round());
        out.push(p + turns * TURN);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formats::{self, source::Memory};

    fn table(text: &str) -> Result<Table, Problems> {
        let container = formats::open("t.csv", Arc::new(Memory(Arc::from(text.as_bytes()))))?;
        Table::read(&container)
    }

    /// 50 nV/Pa is −266.0206 dB re 1 V/µPa and 50 mV/MPa (definition).
    #[test]
    fn units_of_the_header() {
        for text in [
            "frequency_mhz,sensitivity_mv_per_mpa\n1,50\n2,50\n",
            "frequency_hz,sensitivity_nv_per_pa\n1e6,50\n2e6,50\n",
            "frequency_mhz,sensitivity_db_re_1v_per_upa\n1,-266.02059991328\n2,-266.02059991328\n",
        ] {
            let m = table(text).expect("reads").at(1.5e6);
            assert!((m.re - 50e-9).abs() < 1e-18 && m.im == 0.0, "{text}");
        }
    }

    #[test]
    fn phase_is_unwrapped_and_mirrored() {
        let t = table("frequency_mhz,sensitivity_nv_per_pa,phase_deg\n1,40,-170\n2,40,170\n")
            .expect("reads");
        let m = t.at(1.5e6);
        assert!((m.arg().to_degrees().abs() - 180.0).abs() < 1e-9);
        assert!((t.at(-1.0e6) - t.at(1.0e6).conj()).norm() < 1e-20);
    }

    #[test]
    fn broken_tables_are_named() {
        let code = |text| table(text).expect_err("refused")[0].code.clone();
        assert_eq!(code("frequency_mhz,gain\n1,2\n2,3\n"), "table-column-missing");
        assert_eq!(code("frequency_mhz,sensitivity_nv_per_pa\n2,2\n1,3\n"), "table-not-rising");
        assert_eq!(
            code("frequency_mhz,sensitivity_nv_per_pa\n1,2\n2,-3\n"),
            "table-bad-sensitivity"
        );
    }
}

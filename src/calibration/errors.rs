//! What is uncertain about a response: its rows, how well each is known, and how they hang together.

use super::response::Response;
use crate::dsp::correlation::Correlation;
use crate::dsp::interpolate::interval;
use crate::record::FrequencyCorrelation;

/// Standard uncertainties of the rows of a response, of its magnitude or of its phase.
#[derive(Debug, Clone, PartialEq)]
pub struct ErrorRows {
    pub frequency_hz: Vec<f64>,
    /// Relative of the magnitude; in rad of the phase.
    pub u: Vec<f64>,
    pub correlation: Correlation,
}

impl ErrorRows {
    /// Covariance of two values with the derivatives `a` and `b` by the rows' errors, gᵀVg′; the
    /// matrix V is never formed.
    ///
    /// # Shape
    /// One derivative a row.
    pub fn covariance(&self, a: &[f64], b: &[f64]) -> f64 {
        let scaled =
            |g: &[f64]| -> Vec<f64> { g.iter().zip(&self.u).map(|(g, u)| g * u).collect() };
        self.correlation.bilinear(&self.frequency_hz, &scaled(a), &scaled(b))
    }

    /// Σ g u with its sign: what one standard error of all rows together does to a value. Only where
    /// all rows err together is the uncertainty its magnitude.
    pub fn together(&self, derivatives: &[f64]) -> Option<f64> {
        let sum = || derivatives.iter().zip(&self.u).map(|(g, u)| g * u).sum();
        (self.correlation == Correlation::Common || self.u.len() == 1).then(sum)
    }
}

/// Why a part of a response has no uncertainty to propagate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Missing {
    /// None is stated.
    NotStated,
    /// A flat response has no phase.
    Flat,
    /// The phase was computed from the magnitude; its uncertainty is not known.
    MinimumPhase,
    /// The narrowband method does not use the phase.
    Narrowband,
}

impl Missing {
    /// As `sheet.json` calls it.
    pub fn code(self) -> &'static str {
        match self {
            Self::NotStated => "not-stated",
            Self::Flat => "flat-response",
            Self::MinimumPhase => "minimum-phase",
            Self::Narrowband => "narrowband",
        }
    }
}

/// How the errors of two neighbouring rows go into the response at a frequency.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RowWeights {
    /// The lower of the two rows.
    pub first: usize,
    /// Of the relative errors of their magnitudes into that of the magnitude.
    pub magnitude: [f64; 2],
    /// Of the errors of their phases into that of the phase.
    pub phase: [f64; 2],
}

/// The errors of a response as parameters: one of the magnitude and one of the phase for each row.
/// Loading and gain are common factors: they change no relative error, and bring none of their own.
#[derive(Debug, Clone, PartialEq)]
pub struct ResponseErrors {
    pub magnitude: Result<ErrorRows, Missing>,
    pub phase: Result<ErrorRows, Missing>,
    /// Frequencies and magnitudes of the rows between which is interpolated; empty where there is
    /// but one factor.
    rows_hz: Vec<f64>,
    rows_v_per_pa: Vec<f64>,
    narrowband_hz: Option<f64>,
}

impl ResponseErrors {
    /// Of a response, used over all frequencies or at a fixed one.
    pub fn of(response: &Response, narrowband_hz: Option<f64>) -> Self {
        let Some(table) = response.as_table() else {
            let one = |u| ErrorRows {
                frequency_hz: vec![0.0],
                u: vec![u],
                correlation: Correlation::Common,
            };
            return Self {
                magnitude: response.u_flat().map(one).ok_or(Missing::NotStated),
                phase: Err(Missing::Flat),
                rows_hz: Vec::new(),
                rows_v_per_pa: Vec::new(),
                narrowband_hz,
            };
        };
        let rows = |u: &Option<Vec<f64>>| {
            let u = u.clone().ok_or(Missing::NotStated)?;
            let frequency_hz = table.frequency_hz.clone();
            Ok(ErrorRows { frequency_hz, u, correlation: of_record(response) })
        };
        let phase = match narrowband_hz {
            Some(_) => Err(Missing::Narrowband),
            None if table.has_minimum_phase() => Err(Missing::MinimumPhase),
            None => rows(&table.u_phase_rad),
        };
        Self {
            magnitude: rows(&table.u_relative),
            phase,
            rows_hz: table.frequency_hz.clone(),
            rows_v_per_pa: table.v_per_pa.clone(),
            narrowband_hz,
        }
    }

    /// Number of rows.
    pub fn rows(&self) -> usize {
        self.rows_hz.len().max(1)
    }

    /// How the rows go into the response at a frequency: as the table is read there, magnitude and
    /// phase linear between the rows, that of an end beyond it. With the narrowband method the
    /// magnitude at the fixed frequency stands for all.
    pub fn weights_at(&self, frequency_hz: f64) -> RowWeights {
        let f = self.narrowband_hz.unwrap_or(frequency_hz).abs();
        let Some(first) = interval(&self.rows_hz, f) else {
            return RowWeights { first: 0, magnitude: [1.0, 0.0], phase: [1.0, 0.0] };
        };
        let (low, high) = (self.rows_hz[first], self.rows_hz[first + 1]);
        let t = ((f - low) / (high - low)).clamp(0.0, 1.0);
        let (a, b) = (self.rows_v_per_pa[first] * (1.0 - t), self.rows_v_per_pa[first + 1] * t);
        RowWeights { first, magnitude: [a / (a + b), b / (a + b)], phase: [1.0 - t, t] }
    }
}

fn of_record(response: &Response) -> Correlation {
    match response.frequency_correlation() {
        FrequencyCorrelation::INDEPENDENT => Correlation::Independent,
        FrequencyCorrelation::Word(_) => Correlation::Common,
        FrequencyCorrelation::Length(length) => Correlation::Exponential(length.length_hz),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calibration::Table;
    use crate::record::{CorrelationLength, Uncertainty, UncertaintyKind};

    fn table() -> Table {
        let mut table =
            Table::new(vec![1e6, 2e6, 4e6], vec![40e-9, 50e-9, 30e-9], Some(vec![0.0, -0.4, -1.0]))
                .expect("in order");
        table.u_relative = Some(vec![0.02, 0.03, 0.05]);
        table.u_phase_rad = Some(vec![0.01, 0.02, 0.04]);
        table
    }

    /// The weights against what happens to the interpolated response when a row is changed a little,
    /// inside the table, on a row and beyond its ends; gain and mirror change nothing.
    #[test]
    fn weights_are_the_derivatives() {
        const STEP: f64 = 1e-6;
        let errors = ResponseErrors::of(&Response::table(table(), 20.0), None);
        for f in [0.3e6, 1.0e6, 1.2e6, 2.0e6, 3.5e6, 4e6, 9e6, -3.5e6] {
            let weights = errors.weights_at(f);
            let before = table().at(f);
            for row in 0..3 {
                let mut louder = table();
                louder.v_per_pa[row] *= 1.0 + STEP;
                let magnitude = (louder.at(f).norm() / before.norm() - 1.0) / STEP;
                let mut later = table();
                later.phase_rad.as_mut().expect("given")[row] += STEP;
                let phase = (later.at(f.abs()) / table().at(f.abs())).arg() / STEP;
                let of = |pair: [f64; 2]| match row.checked_sub(weights.first) {
                    Some(i @ (0 | 1)) => pair[i],
                    _ => 0.0,
                };
                assert!((of(weights.magnitude) - magnitude).abs() < 1e-6, "{f} {row}");
                assert!((of(weights.phase) - phase).abs() < 1e-6, "{f} {row}");
            }
        }
    }

    #[test]
    fn one_factor_is_one_row() {
        let stated =
            Uncertainty { value: 0.06, kind: UncertaintyKind::Standard, k: None, relative: true };
        let errors = ResponseErrors::of(&Response::flat(5e-8).with_uncertainty(&stated), None);
        assert_eq!((errors.rows(), errors.phase.clone()), (1, Err(Missing::Flat)));
        assert_eq!(errors.weights_at(3e6).magnitude, [1.0, 0.0]);
        assert!((errors.magnitude.expect("stated").u[0] - 0.06).abs() < 1e-15);
        let none = ResponseErrors::of(&Response::flat(5e-8), None);
        assert_eq!(none.magnitude, Err(Missing::NotStated));
    }

    #[test]
    fn what_is_not_known_is_named() {
        let mut blank = table();
        blank.u_phase_rad = None;
        let phase = |response: &Response, fixed| ResponseErrors::of(response, fixed).phase.err();
        assert_eq!(phase(&Response::table(blank, 0.0), None), Some(Missing::NotStated));
        assert_eq!(phase(&Response::table(table(), 0.0), Some(1e6)), Some(Missing::Narrowband));
        let bare = Table::new(vec![1e6, 2e6], vec![1.0, 0.5], None).expect("in order");
        let computed = Response::table(bare.with_minimum_phase(), 0.0);
        assert_eq!(phase(&computed, None), Some(Missing::MinimumPhase));
    }

    /// The narrowband method takes the magnitude at the fixed frequency for all: at 1.5 MHz the rows
    /// count 40 : 50 (by hand).
    #[test]
    fn narrowband_weights() {
        let errors = ResponseErrors::of(&Response::table(table(), 0.0), Some(1.5e6));
        let weights = errors.weights_at(3.7e6);
        assert_eq!(weights.first, 0);
        assert!((weights.magnitude[0] - 4.0 / 9.0).abs() < 1e-15);
        assert!((weights.magnitude[1] - 5.0 / 9.0).abs() < 1e-15);
    }

    /// By hand, with derivatives 1, 2, 3 and u of 2, 3, 5 %: together 0.23, each by itself
    /// √(0.02² + 0.06² + 0.15²).
    #[test]
    fn correlation_as_stated() {
        let u = |correlation| {
            let response = Response::table(table(), 0.0).with_frequency_correlation(correlation);
            let rows = ResponseErrors::of(&response, None).magnitude.expect("stated");
            let g = [1.0, 2.0, 3.0];
            (rows.covariance(&g, &g).sqrt(), rows.together(&g))
        };
        let (common, signed) = u(FrequencyCorrelation::COMMON);
        assert!((common - 0.23).abs() < 1e-15 && signed.is_some_and(|s| (s - 0.23).abs() < 1e-15));
        let (independent, signed) = u(FrequencyCorrelation::INDEPENDENT);
        assert!((independent - 0.0265f64.sqrt()).abs() < 1e-15 && signed.is_none());
        let length = |length_hz| FrequencyCorrelation::Length(CorrelationLength { length_hz });
        let (between, _) = u(length(2e6));
        assert!(between > independent && between < common);
    }
}

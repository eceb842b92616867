//! What a relative error of the response does to a value that rests on several frequencies.

use crate::calibration::{Response, ResponseErrors};

/// A response with its errors, and the frequency as of which its uncertainty is told.
pub struct ResponseSensitivity {
    errors: ResponseErrors,
    /// Relative standard uncertainty at the drive frequency.
    pub u_magnitude: Option<f64>,
    /// Standard uncertainty of the phase there, rad.
    pub u_phase_rad: Option<f64>,
}

impl ResponseSensitivity {
    /// Of a response, as of a frequency.
    pub fn of(response: &Response, narrowband_hz: Option<f64>, frequency_hz: Option<f64>) -> Self {
        let errors = ResponseErrors::of(response, narrowband_hz);
        let at = narrowband_hz.or(frequency_hz).unwrap_or(0.0);
        Self {
            u_magnitude: response.u_relative(at).filter(|u| *u > 0.0),
            u_phase_rad: response.u_phase_rad(at).filter(|u| *u > 0.0),
            errors,
        }
    }

    /// Codes of the reasons for which magnitude and phase have no uncertainty.
    pub fn missing(&self) -> [Option<&'static str>; 2] {
        [&self.errors.magnitude, &self.errors.phase]
            .map(|rows| rows.as_ref().err().map(|missing| missing.code()))
    }

    /// ∂value/∂ε with ε the relative error of the magnitude at the drive frequency, from the parts
    /// ∂value/∂ln|M(f)|: the uncertainty that the rows give, as they hang together, over that at the
    /// drive frequency. Without uncertainties, as if all rows erred alike.
    ///
    /// # Shape
    /// `parts`: (frequency in Hz, derivative).
    pub fn sensitivity(&self, parts: &[(f64, f64)]) -> f64 {
        let plain: f64 = parts.iter().map(|(_, d)| d).sum();
        let (Some(reference), Ok(rows)) = (self.u_magnitude, &self.errors.magnitude) else {
            return plain;
        };
        // Two rows at least: a frequency stands between two.
        let mut derivatives = vec![0.0; rows.u.len().max(2)];
        for (frequency, derivative) in parts {
            let weights = self.errors.weights_at(*frequency);
            for (i, weight) in weights.magnitude.iter().enumerate() {
                if let Some(slot) = derivatives.get_mut(weights.first + i) {
                    *slot += weight * derivative;
                }
            }
        }
        derivatives.truncate(rows.u.len());
        let signed = rows.together(&derivatives);
        let u = signed.unwrap_or_else(|| {
            let sign = if plain < 0.0 { -1.0 } else { 1.0 };
            sign * rows.covariance(&derivatives, &derivatives).max(0.0).sqrt()
        });
        u / reference
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calibration::Table;
    use crate::record::FrequencyCorrelation;

    fn sensitivity(correlation: FrequencyCorrelation) -> ResponseSensitivity {
        let mut table = Table::new(vec![1e6, 2e6, 3e6], vec![5e-8; 3], None).expect("in order");
        table.u_relative = Some(vec![0.06, 0.06, 0.08]);
        let response = Response::table(table, 0.0).with_frequency_correlation(correlation);
        ResponseSensitivity::of(&response, None, Some(1e6))
    }

    /// By hand: a ratio of two harmonics does not inherit what all rows share; rows that err each by
    /// themselves add in squares.
    #[test]
    fn ratios_lose_what_is_common() {
        let ratio = [(2e6, -0.3), (1e6, 0.3)];
        assert!(sensitivity(FrequencyCorrelation::COMMON).sensitivity(&ratio).abs() < 1e-15);
        let apart = sensitivity(FrequencyCorrelation::INDEPENDENT).sensitivity(&ratio);
        assert!((apart.abs() - 0.3 * 2f64.sqrt()).abs() < 1e-12, "{apart}");
        let third = [(3e6, -0.3), (1e6, 0.3)];
        let common = sensitivity(FrequencyCorrelation::COMMON).sensitivity(&third);
        assert!((common + 0.3 * (0.08 - 0.06) / 0.06).abs() < 1e-12, "{common}");
    }

    #[test]
    fn one_factor_is_its_own_sensitivity() {
        let response = Response::transferred(2e-8, 0.05);
        let flat = ResponseSensitivity::of(&response, None, Some(1e6));
        assert!((flat.sensitivity(&[(1e6, -2.0), (2e6, -1.0)]) + 3.0).abs() < 1e-15);
        let bare = ResponseSensitivity::of(&Response::flat(2e-8), None, Some(1e6));
        assert_eq!(bare.sensitivity(&[(1e6, -2.0)]), -2.0);
        assert_eq!(bare.missing(), [Some("not-stated"), Some("flat-response")]);
    }
}

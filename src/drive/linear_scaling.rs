//! From a low level, at which the wave is linear, to what a higher level would give without steepening.

/// Ratio of the acoustic powers of two levels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PowerRatio {
    /// G, the higher power re the lower.
    pub ratio: f64,
    /// Relative standard uncertainty of G.
    pub u: f64,
}

impl PowerRatio {
    /// From two measured powers with their relative standard uncertainties, of which the part `shared` is
    /// the same in both: u² = (u₁ − u₂)² for what is shared, u₁² + u₂² for the rest.
    ///
    /// `None` where a power is not positive.
    ///
    /// # References
    /// JCGM 100:2008, equation 16, correlation coefficient `shared`.
    pub fn of_powers(low: (f64, f64), high: (f64, f64), shared: f64) -> Option<Self> {
        if !(low.0 > 0.0 && high.0 > 0.0) {
            return None;
        }
        let square = low.1 * low.1 + high.1 * high.1 - 2.0 * shared * low.1 * high.1;
        Some(Self { ratio: high.0 / low.0, u: square.max(0.0).sqrt() })
    }

    /// From the squared ratio of two drive amplitudes, each with the relative standard uncertainty
    /// `u_amplitude` of its own: u = 2√2 u_amplitude.
    pub fn of_drive(ratio: f64, u_amplitude: f64) -> Self {
        Self { ratio, u: 8f64.sqrt() * u_amplitude }
    }

    /// Factor of a pressure, √G, with its relative standard uncertainty.
    pub fn of_pressure(&self) -> (f64, f64) {
        (self.ratio.sqrt(), 0.5 * self.u)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 2 W ± 3 % and 32 W ± 4 %: 16 ± 5 % if they err apart, ± 1 % if together.
    #[test]
    fn of_two_powers() {
        let apart = PowerRatio::of_powers((2.0, 0.03), (32.0, 0.04), 0.0).expect("a ratio");
        assert!((apart.ratio - 16.0).abs() < 1e-12 && (apart.u - 0.05).abs() < 1e-12);
        let together = PowerRatio::of_powers((2.0, 0.03), (32.0, 0.04), 1.0).expect("a ratio");
        assert!((together.u - 0.01).abs() < 1e-12);
        let (factor, u) = apart.of_pressure();
        assert!((factor - 4.0).abs() < 1e-12 && (u - 0.025).abs() < 1e-12);
        assert_eq!(PowerRatio::of_powers((0.0, 0.0), (1.0, 0.0), 0.0), None);
        assert!((PowerRatio::of_drive(9.0, 0.01).u - 0.028_284_271_247_461_9).abs() < 1e-15);
    }
}

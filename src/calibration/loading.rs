//! The electrical load on the sensor: what it takes from the open-circuit sensitivity.

use rustfft::num_complex::Complex;

use crate::base::error::{Problem, Problems};
use crate::record::{Load, RefersTo};

/// A resistance and a capacitance in parallel; none of them is an open circuit.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
struct Parallel {
    /// 1/Ω.
    conductance_s: f64,
    /// F.
    capacitance_f: f64,
}

impl Parallel {
    /// `None` if neither is stated.
    fn of(resistance_ohm: Option<f64>, capacitance_f: Option<f64>) -> Option<Self> {
        resistance_ohm.or(capacitance_f)?;
        Some(Self {
            conductance_s: resistance_ohm.map_or(0.0, |r| 1.0 / r),
            capacitance_f: capacitance_f.unwrap_or(0.0),
        })
    }

    fn and(self, other: Self) -> Self {
        Self {
            conductance_s: self.conductance_s + other.conductance_s,
            capacitance_f: self.capacitance_f + other.capacitance_f,
        }
    }

    /// 1/R + jωC, 1/Ω.
    fn admittance_s(self, frequency_hz: f64) -> Complex<f64> {
        let omega = 2.0 * std::f64::consts::PI * frequency_hz;
        Complex::new(self.conductance_s, omega * self.capacitance_f)
    }
}

/// From the plane to which a table refers to the end of the cable under the load in use.
///
/// With the admittances Y = 1/R + jωC of the sensor, of the load under calibration (Y_c) and of the
/// load in use (Y_u), the open-circuit response times Z_L/(Z_L + Z) is that under a load. Hence the
/// factor Y/(Y + Y_u) for a table that refers to the open circuit, and (Y + Y_c)/(Y + Y_u) for one
/// that was calibrated under a load: [Z_u/(Z_u + Z)]/[Z_c/(Z_c + Z)].
///
/// # References
/// IEC 62127-1: end-of-cable loaded and open-circuit sensitivity, M_L = M_C |Z_L/(Z_L + Z)|.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Loading {
    over: Parallel,
    under: Parallel,
}

impl Loading {
    /// The correction that a record asks for; `None` where it asks for none: the table refers to the
    /// end of the cable, and no load is stated.
    ///
    /// # Errors
    /// `response-load-missing` with each blank, `path` being that of the response.
    pub fn stated(
        refers_to: Option<RefersTo>,
        load: Option<&Load>,
        path: &str,
    ) -> Result<Option<Self>, Problems> {
        let open = refers_to == Some(RefersTo::OpenCircuit);
        let none = Load::default();
        let load = match (load, open) {
            (None, false) => return Ok(None),
            (load, _) => load.unwrap_or(&none),
        };
        let mut problems = Problems::new();
        let mut part = |resistance_ohm, capacitance_f, key: &str| {
            Parallel::of(resistance_ohm, capacitance_f).unwrap_or_else(|| {
                problems.push(
                    Problem::new("response-load-missing")
                        .at(format!("{path}.load.{key}"))
                        .with("plane", if open { "open-circuit" } else { "end-of-cable" }),
                );
                Parallel::default()
            })
        };
        let sensor =
            part(load.sensor_resistance_ohm, load.sensor_capacitance_f, "sensor_capacitance_f");
        let calibrated = if open {
            Parallel::default()
        } else {
            part(
                load.calibrated_resistance_ohm,
                load.calibrated_capacitance_f,
                "calibrated_capacitance_f",
            )
        };
        let used = part(load.used_resistance_ohm, load.used_capacitance_f, "used_capacitance_f");
        if problems.is_empty() && sensor == Parallel::default() {
            problems.push(
                Problem::new("response-load-zero").at(format!("{path}.load.sensor_capacitance_f")),
            );
        }
        if !problems.is_empty() {
            return Err(problems);
        }
        Ok(Some(Self { over: sensor.and(calibrated), under: sensor.and(used) }))
    }

    /// The factor at a frequency, complex, on the response of the table.
    pub fn at(&self, frequency_hz: f64) -> Complex<f64> {
        let under = self.under.admittance_s(frequency_hz);
        if under.norm_sqr() > 0.0 {
            return self.over.admittance_s(frequency_hz) / under;
        }
        // Capacitances alone, at zero frequency: the limit.
        Complex::new(self.over.capacitance_f / self.under.capacitance_f, 0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SENSOR_F: f64 = 50e-12;

    fn load(used_ohm: Option<f64>, used_f: Option<f64>) -> Load {
        Load {
            sensor_capacitance_f: Some(SENSOR_F),
            used_resistance_ohm: used_ohm,
            used_capacitance_f: used_f,
            ..Load::default()
        }
    }

    fn open(load: &Load) -> Loading {
        Loading::stated(Some(RefersTo::OpenCircuit), Some(load), "sensor.response")
            .expect("complete")
            .expect("asked for")
    }

    /// M_L = M_C |Z_L/(Z_L + Z)| (IEC 62127-1 and 62127-3), 50 pF, 50 nV/Pa at 1 MHz; the figures by a
    /// separate evaluation of sqrt((Re Z_L² + Im Z_L²)/((Re Z_L + Re Z)² + (Im Z_L + Im Z)²)); capacitive:
    /// C/(C + C_L).
    #[test]
    fn worked_cases() {
        for (ohm, farad, expected) in [
            (Some(1e6), Some(25e-12), 33.333_258_280_858_2),
            (None, Some(25e-12), 100.0 / 3.0),
            (Some(50.0), None, 0.785_301_286_709_977),
            (None, Some(0.0), 50.0),
        ] {
            let factor = open(&load(ohm, farad)).at(1e6);
            assert!((50.0 * factor.norm() - expected).abs() < 1e-10, "{ohm:?} {farad:?} {factor}");
        }
        // Into 50 Ω the sensor differentiates: the phase is π/2 less atan(ωRC).
        let phase = open(&load(Some(50.0), None)).at(1e6).arg();
        let expected = std::f64::consts::FRAC_PI_2
            - (2.0 * std::f64::consts::PI * 1e6 * 50.0 * SENSOR_F).atan();
        assert!((phase - expected).abs() < 1e-12);
    }

    /// From 1 MΩ ∥ 25 pF to 1 MΩ ∥ 15 pF: 1.153 845 293 (same source), and the quotient of the two
    /// factors from the open circuit.
    #[test]
    fn another_load() {
        let mut both = load(Some(1e6), Some(15e-12));
        both.calibrated_resistance_ohm = Some(1e6);
        both.calibrated_capacitance_f = Some(25e-12);
        let again = Loading::stated(None, Some(&both), "r").expect("complete").expect("asked for");
        assert!((again.at(1e6).norm() - 1.153_845_292_982_19).abs() < 1e-12);
        let quotient = open(&load(Some(1e6), Some(15e-12))).at(1e6)
            / open(&load(Some(1e6), Some(25e-12))).at(1e6);
        assert!((again.at(1e6) - quotient).norm() < 1e-12);
        assert!((again.at(-1e6) - again.at(1e6).conj()).norm() < 1e-15);
    }

    /// No frequency: capacitances divide as at any other, resistances short-circuit the sensor.
    #[test]
    fn zero_frequency() {
        assert!((open(&load(None, Some(25e-12))).at(0.0).re - 2.0 / 3.0).abs() < 1e-15);
        assert_eq!(open(&load(Some(1e6), None)).at(0.0).norm(), 0.0);
    }

    #[test]
    fn blanks_are_named() {
        let told = |refers_to, load: Option<Load>| -> Vec<String> {
            Loading::stated(refers_to, load.as_ref(), "sensor.response")
                .expect_err("refused")
                .into_iter()
                .map(|p| format!("{} {}", p.code, p.place.path.unwrap_or_default()))
                .collect()
        };
        assert_eq!(
            told(Some(RefersTo::OpenCircuit), None),
            [
                "response-load-missing sensor.response.load.sensor_capacitance_f",
                "response-load-missing sensor.response.load.used_capacitance_f",
            ]
        );
        assert_eq!(
            told(None, Some(load(Some(50.0), None))),
            ["response-load-missing sensor.response.load.calibrated_capacitance_f"]
        );
        let zero = Load { sensor_capacitance_f: Some(0.0), ..load(Some(50.0), None) };
        assert_eq!(
            told(Some(RefersTo::OpenCircuit), Some(zero)),
            ["response-load-zero sensor.response.load.sensor_capacitance_f"]
        );
        assert_eq!(Loading::stated(Some(RefersTo::EndOfCable), None, "r"), Ok(None));
    }
}

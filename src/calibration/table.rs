//! A sensitivity table: complex response against frequency.

use std::f64::consts::LN_10;
use std::sync::Arc;

use rustfft::num_complex::Complex;

use super::columns::{Column, Gives, Unit, column};
use super::phase;
use super::rows::{check, check_uncertainty, same_length, twice};
use crate::base::error::{Problem, Problems};
use crate::dsp::interpolate;
use crate::dsp::minimum_phase::{self, MinimumPhase};
use crate::formats::container::Container;

/// Most rows of a table.
const MAX_ROWS: u64 = 1 << 20;

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
    /// Rows at which the number of whole turns of the phase is a guess.
    pub ambiguous_rows: Vec<usize>,
    /// Names of columns that say nothing of the response.
    pub unused: Vec<String>,
    /// The phase, where it was computed from the magnitude.
    minimum: Option<Arc<MinimumPhase>>,
}

/// Whether a file has the columns of a sensitivity table.
pub fn is_table(container: &dyn Container) -> bool {
    let gives: Vec<Gives> = container
        .arrays()
        .iter()
        .filter_map(|array| column(array).ok().flatten())
        .map(|column| column.gives)
        .collect();
    gives.contains(&Gives::Frequency)
        && (gives.contains(&Gives::Magnitude)
            || (gives.contains(&Gives::Real) && gives.contains(&Gives::Imaginary)))
}

impl Table {
    /// From rows: rising frequencies, Hz; magnitudes above zero, V/Pa; phases as stated, rad.
    ///
    /// # Errors
    /// The first row of each kind that is out of order.
    pub fn new(
        frequency_hz: Vec<f64>,
        v_per_pa: Vec<f64>,
        phase_rad: Option<Vec<f64>>,
    ) -> Result<Self, Problems> {
        check(&frequency_hz, &v_per_pa, phase_rad.as_deref())?;
        Ok(Self {
            ambiguous_rows: phase_rad.as_deref().map(phase::ambiguous_rows).unwrap_or_default(),
            phase_rad: phase_rad.map(|p| phase::unwrap(&p)),
            frequency_hz,
            v_per_pa,
            u_relative: None,
            u_phase_rad: None,
            unused: Vec::new(),
            minimum: None,
        })
    }

    /// Reads a table from the columns of a file; names and units are those of [`column`].
    ///
    /// Frequency, and either a magnitude, or a real and an imaginary part, are needed; phase and
    /// uncertainties are optional. An uncertainty is standard (k = 1) unless its name ends in `_k2`.
    /// One in dB becomes relative by ln(10)/20, to first order.
    ///
    /// # Errors
    /// All that is missing, stands twice, or is out of order.
    pub fn read(container: &Arc<dyn Container>) -> Result<Self, Problems> {
        let mut problems = Problems::new();
        let mut columns: Vec<Column> = Vec::new();
        let mut unused = Vec::new();
        for array in container.arrays() {
            match column(array) {
                Ok(Some(column)) => columns.push(column),
                Ok(None) => unused.push(array.name().to_owned()),
                Err(problem) => problems.push(problem),
            }
        }
        twice(&columns, &mut problems);
        if !problems.is_empty() {
            return Err(problems);
        }
        let mut read = |gives: Gives, needed: bool| -> Option<(Vec<f64>, Unit)> {
            let Some(column) = columns.iter().find(|c| c.gives == gives) else {
                if needed {
                    problems.push(missing(gives, container.as_ref()));
                }
                return None;
            };
            match container.read_numbers(&column.path, MAX_ROWS) {
                Ok(mut numbers) => {
                    numbers.iter_mut().for_each(|v| *v /= column.coverage);
                    Some((numbers, column.unit))
                }
                Err(problem) => {
                    problems.push(problem);
                    None
                }
            }
        };
        let frequency = read(Gives::Frequency, true).map(si);
        let parts = columns.iter().any(|c| matches!(c.gives, Gives::Real | Gives::Imaginary));
        let real = read(Gives::Real, parts).map(si);
        let imaginary = read(Gives::Imaginary, parts).map(si);
        let magnitude = read(Gives::Magnitude, !parts).map(si);
        let stated_phase = read(Gives::Phase, false).map(si);
        let u_magnitude = read(Gives::UMagnitude, false);
        let u_phase = read(Gives::UPhase, false).map(si);
        if !problems.is_empty() {
            return Err(problems);
        }
        let (magnitude, stated_phase) = match (magnitude, real.zip(imaginary)) {
            (Some(magnitude), _) => (magnitude, stated_phase),
            (None, Some((re, im))) => {
                same_length(&re, &im, Gives::Imaginary, &mut problems);
                let parts = || re.iter().zip(&im).map(|(re, im)| Complex::new(*re, *im));
                (
                    parts().map(Complex::norm).collect(),
                    Some(parts().map(|m| m.arg()).collect::<Vec<f64>>()),
                )
            }
            (None, None) => (Vec::new(), None),
        };
        let frequency = frequency.unwrap_or_default();
        same_length(&frequency, &magnitude, Gives::Magnitude, &mut problems);
        for (numbers, gives) in [
            (stated_phase.as_ref(), Gives::Phase),
            (u_magnitude.as_ref().map(|(numbers, _)| numbers), Gives::UMagnitude),
            (u_phase.as_ref(), Gives::UPhase),
        ] {
            if let Some(numbers) = numbers {
                same_length(&frequency, numbers, gives, &mut problems);
                if !matches!(gives, Gives::Phase) {
                    check_uncertainty(numbers, gives, &mut problems);
                }
            }
        }
        if !problems.is_empty() {
            return Err(problems);
        }
        let mut table = Self::new(frequency, magnitude, stated_phase)?;
        table.u_relative = u_magnitude.map(|(numbers, unit)| match unit {
            Unit::VoltsPerPascal(factor) => {
                numbers.iter().zip(&table.v_per_pa).map(|(u, m)| u * factor / m).collect()
            }
            Unit::Decibel => numbers.iter().map(|u| u * LN_10 / 20.0).collect(),
            unit => si((numbers, unit)),
        });
        table.u_phase_rad = u_phase;
        table.unused = unused;
        Ok(table)
    }

    /// The same with the minimum phase of its magnitude instead of a phase.
    #[must_use]
    pub fn with_minimum_phase(mut self) -> Self {
        self.minimum = self.minimum_phase().map(Arc::new);
        if let Some(minimum) = &self.minimum {
            self.phase_rad = Some(self.frequency_hz.iter().map(|f| minimum.at(*f)).collect());
        }
        self
    }

    /// Whether the phase was computed from the magnitude.
    pub fn has_minimum_phase(&self) -> bool {
        self.minimum.is_some()
    }

    /// Minimum phase of the magnitude, constant beyond its ends.
    pub fn minimum_phase(&self) -> Option<MinimumPhase> {
        minimum_phase::of_table(&self.frequency_hz, &self.v_per_pa)
    }

    /// Response at a frequency: magnitude and unwrapped phase linear between the rows, the end
    /// values beyond them; conjugate at negative frequencies. A minimum phase is taken at the frequency
    /// itself, beyond the ends too.
    pub fn at(&self, frequency_hz: f64) -> Complex<f64> {
        let f = frequency_hz.abs();
        let magnitude = interpolate::linear(&self.frequency_hz, &self.v_per_pa, f).unwrap_or(0.0);
        let phase = match (&self.minimum, &self.phase_rad) {
            (Some(minimum), _) => minimum.at(f),
            (None, Some(phase)) => interpolate::linear(&self.frequency_hz, phase, f).unwrap_or(0.0),
            (None, None) => 0.0,
        };
        Complex::from_polar(magnitude, if frequency_hz < 0.0 { -phase } else { phase })
    }

    /// First and last frequency, Hz.
    pub fn band_hz(&self) -> (f64, f64) {
        let ends = self.frequency_hz.first().zip(self.frequency_hz.last());
        ends.map_or((0.0, 0.0), |(a, b)| (*a, *b))
    }

    /// One V/Pa throughout a band.
    #[cfg(test)]
    pub fn flat_between(low_hz: f64, high_hz: f64) -> Self {
        Self::new(vec![low_hz, high_hz], vec![1.0, 1.0], None).expect("in order")
    }
}

/// Numbers of a column in SI.
fn si((numbers, unit): (Vec<f64>, Unit)) -> Vec<f64> {
    let to: Box<dyn Fn(f64) -> f64> = match unit {
        Unit::Hertz(factor)
        | Unit::VoltsPerPascal(factor)
        | Unit::Radian(factor)
        | Unit::Fraction(factor) => Box::new(move |v| v * factor),
        Unit::Level(zero) => Box::new(move |v| zero * 10f64.powf(v / 20.0)),
        Unit::Decibel => Box::new(|v| v),
    };
    numbers.into_iter().map(to).collect()
}

fn missing(gives: Gives, container: &dyn Container) -> Problem {
    let found: Vec<String> = container.arrays().iter().map(|a| a.name().to_owned()).collect();
    Problem::new("table-column-missing").with("expected", gives.names()).with("found", found)
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

    /// Headings with units in brackets; −146.02 dB re 1 V/Pa is 50 nV/Pa too (definition).
    #[test]
    fn headings_with_units() {
        for text in [
            "Frequency (MHz),Sensitivity (nV/Pa),Phase (deg)\n1,50,-90\n2,50,-90\n",
            "Freq (kHz);M (mV/MPa);Phase (deg)\n1000;50;-90\n2000;50;-90\n",
            "f (Hz)\tSensitivity level (dB re 1 V/µPa)\tPhase [rad]\n1e6\t-266.02059991328\t-1.5707963268\n2e6\t-266.02059991328\t-1.5707963268\n",
            "Frequency (GHz),Magnitude (dB re 1 V/Pa),Phase (°)\n0.001,-146.02059991328,-90\n0.002,-146.02059991328,-90\n",
            "frequency_mhz,sensitivity_uv_per_pa,phase_deg\n1,0.05,-90\n2,0.05,-90\n",
            "frequency_mhz,real_nv_per_pa,imag_nv_per_pa\n1,0,-50\n2,0,-50\n",
            "Frequency (MHz),Real (nV/Pa),Imaginary (nV/Pa)\n1,0,-50\n2,0,-50\n",
        ] {
            let read = table(text).expect(text);
            let m = read.at(1.5e6);
            assert!((m - Complex::new(0.0, -50e-9)).norm() < 1e-17, "{text} {m}");
            assert!(read.unused.is_empty());
        }
    }

    /// 0.1 dB is 1.1579 % to first order (0.1 ln(10)/20).
    #[test]
    fn uncertainties_become_standard_and_relative() {
        for (column, cells, expected) in [
            ("u_sensitivity_percent", "6", 0.06),
            ("U_sensitivity_percent_k2", "12", 0.06),
            ("u_sensitivity_db", "0.1", 0.011_512_925_464_970_2),
            ("u_sensitivity_nv_per_pa", "3", 0.06),
            ("u(M) (%)", "6", 0.06),
        ] {
            let t = table(&format!(
                "frequency_mhz,sensitivity_nv_per_pa,{column},u_phase_deg\n1,50,{cells},9\n2,50,{cells},9\n"
            ))
            .expect(column);
            let u = t.u_relative.expect(column);
            assert!((u[0] - expected).abs() < 1e-12, "{column} {u:?}");
            assert!((t.u_phase_rad.expect("given")[1] - 0.157_079_632_679).abs() < 1e-9);
        }
    }

    /// A first-order low-pass, closed form: the phase computed from the magnitude is −atan(f/f₁).
    #[test]
    fn a_missing_phase_is_computed() {
        let f: Vec<f64> = (0..=700).map(|i| 10f64.powf(3.0 + f64::from(i) * 0.01)).collect();
        let m: Vec<f64> = f.iter().map(|f| 5e-8 / (1.0 + (f / 5e6).powi(2)).sqrt()).collect();
        let t = Table::new(f, m, None).expect("in order").with_minimum_phase();
        for f in [0.3e6, 1.1e6, 5e6, 12.3e6] {
            assert!((t.at(f).arg() + f64::atan(f / 5e6)).abs() < 2e-3, "{f}");
            assert!((t.at(-f) - t.at(f).conj()).norm() < 1e-20);
        }
        assert!(t.phase_rad.is_some());
    }

    #[test]
    fn a_table_is_told_from_a_scan() {
        let told = |text: &str| {
            let source = Arc::new(Memory(Arc::from(text.as_bytes())));
            is_table(formats::open("t.csv", source).expect("opens").as_ref())
        };
        assert!(told("Frequency (MHz),Sensitivity (nV/Pa)\n1,2\n2,3\n"));
        assert!(told("frequency_hz,real_v_per_pa,imag_v_per_pa\n1,2,1\n2,3,1\n"));
        assert!(!told("t_s,waveforms\n1,2\n2,3\n"));
    }

    #[test]
    fn what_stands_wrong_is_named() {
        let told = |text: &str| -> Vec<String> {
            let problems = table(text).expect_err("refused");
            problems.into_iter().map(|p| p.code).collect()
        };
        for (text, code) in [
            (
                "frequency_mhz,sensitivity_nv_per_pa,sensitivity_v_per_pa\n1,2,2\n2,3,3\n",
                "table-column-twice",
            ),
            (
                "frequency_mhz,sensitivity_nv_per_pa,real_v_per_pa,imag_v_per_pa\n1,2,2,2\n2,3,3,3\n",
                "table-column-twice",
            ),
            ("frequency_mhz,real_v_per_pa\n1,2\n2,3\n", "table-column-missing"),
            ("Frequency (MHz),Sensitivity (furlong)\n1,2\n2,3\n", "table-unit-unknown"),
            ("Frequency (MHz),Sensitivity (dB)\n1,2\n2,3\n", "table-unit-unknown"),
            ("Frequency,sensitivity_v_per_pa\n1,2\n2,3\n", "table-unit-missing"),
            ("frequency_hz (MHz),sensitivity_v_per_pa\n1,2\n2,3\n", "table-unit-conflict"),
            (
                "frequency_hz,sensitivity_v_per_pa,U_sensitivity_percent\n1,2,1\n2,3,1\n",
                "table-coverage-missing",
            ),
            (
                "frequency_hz,sensitivity_v_per_pa,u_sensitivity_percent\n1,2,-1\n2,3,1\n",
                "table-bad-uncertainty",
            ),
            ("frequency_hz,sensitivity_v_per_pa,phase_rad\n1,2,nan\n2,3,1\n", "table-bad-phase"),
            ("frequency_hz,sensitivity_v_per_pa\n1,nan\n2,3\n", "table-bad-sensitivity"),
            ("frequency_hz,real_v_per_pa,imag_v_per_pa\n1,0,0\n2,3,1\n", "table-bad-sensitivity"),
        ] {
            assert_eq!(told(text), [code], "{text}");
        }
        let extra = table("frequency_hz,sensitivity_v_per_pa,humidity\n1,2,5\n2,3,5\n");
        assert_eq!(extra.expect("reads").unused, ["humidity"]);
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

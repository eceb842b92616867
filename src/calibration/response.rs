//! The response that a record states for a scan.

use rustfft::num_complex::Complex;

use super::loading::Loading;
use super::phase::SignFit;
use super::table::Table;
use crate::base::error::{Problem, Problems};
use crate::base::finding::{Arg, Finding, Severity};
use crate::base::transfer::Transfer;
use crate::dsp::interpolate;
use crate::formats::{self, source::FileSet};
use crate::record::{self, FrequencyCorrelation, Method, Record, RefersTo, ScanEntry, Uncertainty};

/// Response of the sensor chain, V/Pa at the digitiser.
#[derive(Debug, Clone, PartialEq)]
pub struct Response {
    form: Form,
    /// Amplitude gain after the plane to which the form refers.
    gain: f64,
    /// From the load to which a table refers to the load in use.
    loading: Option<Loading>,
    /// Relative standard uncertainty of a flat factor.
    u_flat: Option<f64>,
    /// How the errors of a table's rows hang together.
    correlation: FrequencyCorrelation,
    /// The factor comes from a check source.
    transferred: bool,
}

#[derive(Debug, Clone, PartialEq)]
enum Form {
    /// No response stated: volts stay volts.
    Volts,
    Flat(f64),
    Table(Table),
}

impl Response {
    /// One factor for all frequencies, V/Pa.
    pub fn flat(v_per_pa: f64) -> Self {
        Self {
            form: Form::Flat(v_per_pa),
            gain: 1.0,
            loading: None,
            u_flat: None,
            transferred: false,
            correlation: FrequencyCorrelation::COMMON,
        }
    }

    /// The factor that a check source gave, V/Pa, with its relative standard uncertainty.
    pub fn transferred(v_per_pa: f64, u_relative: f64) -> Self {
        Self { u_flat: Some(u_relative), transferred: true, ..Self::flat(v_per_pa) }
    }

    /// Whether the factor comes from a check source.
    pub fn is_transferred(&self) -> bool {
        self.transferred
    }

    /// Volts stay volts, for scans without a stated response.
    pub fn volts() -> Self {
        Self { form: Form::Volts, ..Self::flat(1.0) }
    }

    /// From a table, with an amplifier of the given gain behind it.
    pub fn table(table: Table, gain_db: f64) -> Self {
        let gain = 10f64.powf(gain_db / 20.0);
        Self { form: Form::Table(table), gain, ..Self::flat(1.0) }
    }

    /// The same with a stated uncertainty of the magnitude: that of a flat factor, or of all rows of a
    /// table that has none of its own.
    #[must_use]
    pub fn with_uncertainty(mut self, uncertainty: &Uncertainty) -> Self {
        match &mut self.form {
            Form::Volts => {}
            Form::Flat(m) => self.u_flat = Some(uncertainty.standard(*m) / m.abs()),
            Form::Table(table) => {
                let of_row = |m: &f64| uncertainty.standard(*m) / m;
                table.u_relative.get_or_insert_with(|| table.v_per_pa.iter().map(of_row).collect());
            }
        }
        self
    }

    /// The same with errors of a table's rows that hang together as stated.
    #[must_use]
    pub fn with_frequency_correlation(mut self, correlation: FrequencyCorrelation) -> Self {
        self.correlation = correlation;
        self
    }

    /// The same under another load.
    #[must_use]
    pub fn with_loading(mut self, loading: Option<Loading>) -> Self {
        self.loading = loading;
        self
    }

    /// Complex response at a frequency, V/Pa (positive gain means more volts). Beyond the ends of a
    /// table the load acts as at its ends.
    pub fn at(&self, frequency_hz: f64) -> Complex<f64> {
        match &self.form {
            Form::Volts => Complex::new(1.0, 0.0),
            Form::Flat(v_per_pa) => Complex::new(v_per_pa * self.gain, 0.0),
            Form::Table(table) => {
                let m = table.at(frequency_hz) * self.gain;
                let (low, high) = table.band_hz();
                self.loading.map_or(m, |loading| {
                    let f = frequency_hz.abs().max(low).min(high);
                    m * loading.at(if frequency_hz < 0.0 { -f } else { f })
                })
            }
        }
    }

    /// Relative standard uncertainty of the magnitude at a frequency, where one is stated; of a table
    /// linear between its rows, that of its ends beyond them.
    pub fn u_relative(&self, frequency_hz: f64) -> Option<f64> {
        match &self.form {
            Form::Volts => None,
            Form::Flat(_) => self.u_flat,
            Form::Table(table) => {
                let u = table.u_relative.as_ref()?;
                interpolate::linear(&table.frequency_hz, u, frequency_hz.abs())
            }
        }
    }

    /// Standard uncertainty of the phase at a frequency, rad, where a table gives one.
    pub fn u_phase_rad(&self, frequency_hz: f64) -> Option<f64> {
        let table = self.as_table()?;
        let u = table.u_phase_rad.as_ref()?;
        interpolate::linear(&table.frequency_hz, u, frequency_hz.abs())
    }

    /// Relative standard uncertainty of a flat factor, where one is stated.
    pub(super) fn u_flat(&self) -> Option<f64> {
        self.u_flat
    }

    /// How the errors of a table's rows hang together.
    pub fn frequency_correlation(&self) -> FrequencyCorrelation {
        self.correlation
    }

    /// Whether results are pascals.
    pub fn is_calibrated(&self) -> bool {
        self.form != Form::Volts
    }

    /// The table, where the response is one.
    pub fn as_table(&self) -> Option<&Table> {
        match &self.form {
            Form::Table(table) => Some(table),
            _ => None,
        }
    }
}

/// The response for a scan, its gain range's, else the sensor's, with remarks on it. Volts where none
/// is stated.
///
/// # Errors
/// A table that is missing or broken, a load that is incomplete, a kind that is not computed.
pub fn response(
    record: &Record,
    entry: &ScanEntry,
    files: &FileSet,
    transfers: Option<&[Transfer]>,
) -> Result<(Response, Vec<Finding>), Problems> {
    let place = record.response_path(entry);
    let (response, findings) = match record.chain_of(entry).response {
        None => (Response::volts(), Vec::new()),
        Some(stated @ record::Response::Flat { .. }) => {
            let response = stated.flat_v_per_pa().map_or_else(Response::volts, Response::flat);
            (with_stated(response, stated), Vec::new())
        }
        Some(
            stated @ record::Response::Table {
                file,
                gain_db,
                refers_to,
                load,
                frequency_correlation,
                ..
            },
        ) => {
            let mut problems = Problems::new();
            let loading =
                Loading::stated(*refers_to, load.as_ref(), &place).unwrap_or_else(|found| {
                    problems.extend(found);
                    None
                });
            let table = match read_table(file, &format!("{place}.file"), files) {
                Ok(table) if problems.is_empty() => table,
                read => {
                    problems.extend(read.err().unwrap_or_default());
                    return Err(problems);
                }
            };
            let mut findings = remarks(&table);
            let table = complete(table, record.analysis.method, &mut findings);
            let response = Response::table(table, gain_db.unwrap_or(0.0))
                .with_loading(loading)
                .with_frequency_correlation(frequency_correlation.unwrap_or_default());
            findings.extend(loading.map(|loading| loaded(record, &response, *refers_to, &loading)));
            let in_file = |finding: Finding| finding.in_file(file).in_scan(&entry.id);
            (with_stated(response, stated), findings.into_iter().map(in_file).collect())
        }
        Some(record::Response::CheckSource { .. }) => match transfers {
            None => (Response::volts(), Vec::new()),
            Some(transfers) => (transferred(record, entry, transfers, &place)?, Vec::new()),
        },
    };
    Ok((response, findings))
}

/// The factor that a check source gave for the range of a scan.
fn transferred(
    record: &Record,
    entry: &ScanEntry,
    transfers: &[Transfer],
    place: &str,
) -> Result<Response, Problems> {
    let transfer = transfers.iter().find(|transfer| transfer.place == place);
    let range = record.chain_of(entry).range.map(|range| range.id.as_str());
    let factor = transfer.and_then(|transfer| transfer.of_range(range));
    factor.map(|factor| Response::transferred(factor.v_per_pa, factor.u_relative)).ok_or_else(
        || {
            let known: Vec<String> = transfer
                .map(|t| t.ranges.iter().filter_map(|r| r.range.clone()).collect())
                .unwrap_or_default();
            vec![
                Problem::new("check-source-range-missing")
                    .in_scan(&entry.id)
                    .at(format!("{place}.device_scans"))
                    .with("range", range.unwrap_or_default())
                    .with("found", known),
            ]
        },
    )
}

fn with_stated(response: Response, stated: &record::Response) -> Response {
    match stated.uncertainty() {
        Some(uncertainty) => response.with_uncertainty(uncertainty),
        None => response,
    }
}

fn read_table(file: &str, place: &str, files: &FileSet) -> Result<Table, Problems> {
    let source = files.get(file).ok_or_else(|| {
        vec![Problem::new("file-missing").in_file(file).at(place).with("found", files.names())]
    })?;
    let container = formats::open(file, source)?;
    Table::read(&container)
        .map_err(|problems| problems.into_iter().map(|p| p.in_file(file)).collect::<Problems>())
}

/// What a table as read gives to remark.
fn remarks(table: &Table) -> Vec<Finding> {
    let mut out = Vec::new();
    if !table.unused.is_empty() {
        out.push(
            Finding::new(Severity::Note, "table-columns-unused")
                .with("columns", table.unused.clone()),
        );
    }
    if let Some(first) = table.ambiguous_rows.first() {
        let at = table.frequency_hz.get(*first).copied().unwrap_or(0.0);
        out.push(
            Finding::new(Severity::Caution, "phase-unwrapping")
                .with("rows", table.ambiguous_rows.len())
                .with("frequency", Arg::measure(at, "Hz")),
        );
    }
    let fit = table
        .phase_rad
        .as_ref()
        .zip(table.minimum_phase())
        .and_then(|(phase, minimum)| SignFit::of(&table.frequency_hz, phase, &minimum))
        .filter(SignFit::suspicious);
    if let Some(fit) = fit {
        out.push(
            Finding::new(Severity::Caution, "phase-sign")
                .with("stated", Arg::measure(fit.stated_rad, "deg"))
                .with("opposite", Arg::measure(fit.opposite_rad, "deg")),
        );
    }
    out
}

/// A table without phase is given the minimum phase of its magnitude.
fn complete(table: Table, method: Method, findings: &mut Vec<Finding>) -> Table {
    if table.phase_rad.is_some() {
        return table;
    }
    let (low, high) = table.band_hz();
    // The narrowband method divides by the magnitude alone.
    let severity = if method == Method::Narrowband { Severity::Note } else { Severity::Caution };
    findings.push(
        Finding::new(severity, "phase-minimum")
            .with("low", Arg::measure(low, "Hz"))
            .with("high", Arg::measure(high, "Hz")),
    );
    table.with_minimum_phase()
}

/// What the load in use made of the response, at the drive frequency or the middle of the table.
fn loaded(
    record: &Record,
    response: &Response,
    refers_to: Option<RefersTo>,
    loading: &Loading,
) -> Finding {
    let (low, high) = response.as_table().map_or((0.0, 0.0), Table::band_hz);
    let f = record.excitation.frequency_hz.unwrap_or(0.5 * (low + high)).max(low).min(high);
    let plane = match refers_to {
        Some(RefersTo::OpenCircuit) => "open-circuit",
        _ => "end-of-cable",
    };
    Finding::new(Severity::Note, "response-load-corrected")
        .with("plane", plane)
        .with("factor", loading.at(f).norm())
        .with("frequency", Arg::measure(f, "Hz"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formats::source::Memory;
    use crate::record::{Load, Role, UncertaintyKind};
    use std::sync::Arc;

    fn files(text: &str) -> FileSet {
        let mut files = FileSet::default();
        files.insert("t.csv", Arc::new(Memory(Arc::from(text.as_bytes()))));
        files
    }

    fn record(refers_to: Option<RefersTo>, load: Option<Load>, u: Option<Uncertainty>) -> Record {
        let mut record = Record::default();
        record.sensor.response = Some(record::Response::Table {
            file: "t.csv".to_owned(),
            refers_to,
            load,
            gain_db: Some(20.0),
            uncertainty: u,
            frequency_correlation: None,
        });
        record.excitation.frequency_hz = Some(1e6);
        record
    }

    fn run(record: &Record, text: &str) -> Result<(Response, Vec<String>), Problems> {
        response(record, &ScanEntry::new("a", Role::Point, "a.csv"), &files(text), None)
            .map(|(response, findings)| (response, findings.into_iter().map(|f| f.code).collect()))
    }

    const FLAT: &str = "frequency_mhz,sensitivity_nv_per_pa,phase_deg\n0.5,50,0\n2,50,0\n";

    /// IEC 62127-1: 50 nV/Pa of 50 pF into 1 MΩ ∥ 25 pF are 33.333 258 28 nV/Pa at 1 MHz; a gain of
    /// 20 dB makes that ten times.
    #[test]
    fn open_circuit_into_the_load_in_use() {
        let load = Load {
            sensor_capacitance_f: Some(50e-12),
            used_resistance_ohm: Some(1e6),
            used_capacitance_f: Some(25e-12),
            ..Load::default()
        };
        let stated = record(Some(RefersTo::OpenCircuit), Some(load), None);
        let (response, codes) = run(&stated, FLAT).expect("reads");
        assert!((response.at(1e6).norm() - 333.332_582_808_582e-9).abs() < 1e-18);
        assert!((response.at(-1e6) - response.at(1e6).conj()).norm() < 1e-20);
        assert!((response.at(5e6) - response.at(2e6)).norm() < 1e-20);
        assert_eq!(codes, ["response-load-corrected"]);
        let blank = record(Some(RefersTo::OpenCircuit), None, None);
        let problems = run(&blank, FLAT).expect_err("refused");
        assert_eq!(
            problems[1].place.path.as_deref(),
            Some("sensor.response.load.used_capacitance_f")
        );
    }

    /// JCGM 100:2008, 4.3: an expanded 12 % with k = 2 is 6 %; limits of ± 5 nV/Pa are 5/√3 nV/Pa.
    #[test]
    fn stated_uncertainties_become_standard() {
        let expanded =
            Uncertainty { value: 0.12, kind: UncertaintyKind::Expanded, k: None, relative: true };
        let (response, _) = run(&record(None, None, Some(expanded.clone())), FLAT).expect("reads");
        assert!((response.u_relative(1e6).expect("stated") - 0.06).abs() < 1e-15);
        assert_eq!(response.u_phase_rad(1e6), None);
        let own = "frequency_mhz,sensitivity_nv_per_pa,phase_deg,u_sensitivity_percent,u_phase_deg\n\
                   0.5,50,0,2,1\n2,50,0,4,1\n";
        let (response, _) = run(&record(None, None, Some(expanded)), own).expect("reads");
        assert!((response.u_relative(1.25e6).expect("stated") - 0.03).abs() < 1e-15);
        assert!((response.u_phase_rad(1e6).expect("given") - 1f64.to_radians()).abs() < 1e-15);
        let limits =
            Uncertainty { value: 5e-9, kind: UncertaintyKind::HalfWidth, k: None, relative: false };
        let flat = Response::flat(50e-9).with_uncertainty(&limits);
        assert!((flat.u_relative(3e6).expect("stated") - 0.1 / 3f64.sqrt()).abs() < 1e-15);
        assert_eq!(Response::flat(1.0).u_relative(1e6), None);
    }

    #[test]
    fn remarks_of_a_table() {
        let plain = record(None, None, None);
        let codes = |text: &str| run(&plain, text).expect("reads").1;
        assert_eq!(codes("frequency_mhz,sensitivity_nv_per_pa\n1,50\n2,40\n"), ["phase-minimum"]);
        assert_eq!(
            codes("frequency_mhz,sensitivity_nv_per_pa,phase_deg,x\n1,50,0,1\n2,40,170,1\n"),
            ["table-columns-unused", "phase-unwrapping"]
        );
        // A resonance whose phase rises: the other convention.
        let rows: String = (1..=80)
            .map(|i| {
                let x = f64::from(i) / 50.0;
                let m = 50.0 / (1.0 - x * x).hypot(x / 2.0);
                format!("{},{m},{}\n", 0.4 * f64::from(i), (x / 2.0).atan2(1.0 - x * x))
            })
            .collect();
        assert_eq!(
            codes(&format!("frequency_mhz,sensitivity_nv_per_pa,phase_rad\n{rows}")),
            ["phase-sign"]
        );
    }
}

//! The response that a record states for a scan.

use rustfft::num_complex::Complex;

use super::table::Table;
use crate::base::error::{Problem, Problems};
use crate::formats::{self, source::FileSet};
use crate::record::{self, Record, ScanEntry};

/// Response of the sensor chain, V/Pa at the digitiser.
#[derive(Debug, Clone, PartialEq)]
pub struct Response {
    form: Form,
    /// Amplitude gain after the plane to which the form refers.
    gain: f64,
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
        Self { form: Form::Flat(v_per_pa), gain: 1.0 }
    }

    /// Volts stay volts, for scans without a stated response.
    pub fn volts() -> Self {
        Self { form: Form::Volts, gain: 1.0 }
    }

    /// From a table, with an amplifier of the given gain behind it.
    pub fn table(table: Table, gain_db: f64) -> Self {
        Self { form: Form::Table(table), gain: 10f64.powf(gain_db / 20.0) }
    }

    /// Complex response at a frequency, V/Pa (positive gain means more volts).
    pub fn at(&self, frequency_hz: f64) -> Complex<f64> {
        match &self.form {
            Form::Volts => Complex::new(1.0, 0.0),
            Form::Flat(v_per_pa) => Complex::new(v_per_pa * self.gain, 0.0),
            Form::Table(table) => table.at(frequency_hz) * self.gain,
        }
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

/// The response for a scan: its gain range's, else the sensor's. Volts where none is stated.
///
/// # Errors
/// A table that is missing or broken, a kind that is not computed.
pub fn response(record: &Record, entry: &ScanEntry, files: &FileSet) -> Result<Response, Problems> {
    match record.chain_of(entry).response {
        None => Ok(Response::volts()),
        Some(record::Response::Flat { v_per_pa, .. }) => Ok(Response::flat(*v_per_pa)),
        Some(record::Response::Table { file, gain_db, refers_to, load, .. }) => {
            // The loading correction is not computed: using the table as it stands would be wrong.
            if *refers_to == Some(record::RefersTo::OpenCircuit) || load.is_some() {
                return Err(vec![Problem::new("response-load").at("sensor.response.refers_to")]);
            }
            let source = files.get(file).ok_or_else(|| {
                vec![
                    Problem::new("file-missing")
                        .in_file(file)
                        .at("sensor.response.file")
                        .with("found", files.names()),
                ]
            })?;
            let container = formats::open(file, source)?;
            let table = Table::read(&container).map_err(|problems| {
                problems.into_iter().map(|p| p.in_file(file)).collect::<Problems>()
            })?;
            Ok(Response::table(table, gain_db.unwrap_or(0.0)))
        }
        Some(record::Response::CheckSource { .. }) => {
            Err(vec![Problem::new("response-check-source").at("sensor.response.kind")])
        }
    }
}

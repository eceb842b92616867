//! Questions that later stages ask of a checked record.

use super::{GainRange, Record, Response, Role, ScanEntry, Uncertainty};

/// What the sensor's chain is at one range: the range's own statements, else those of the sensor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SensorChain<'a> {
    /// The range; `None` where the sensor has none or none was named.
    pub range: Option<&'a GainRange>,
    pub response: Option<&'a Response>,
    /// Largest voltage of either sign that the digitiser resolves, V.
    pub full_scale_v: Option<f64>,
    pub bits: Option<u32>,
    /// Input resistance of the digitiser, Ω.
    pub coupling_ohm: Option<f64>,
    /// Pressure of either sign up to which the chain is linear, Pa.
    pub linear_limit_pa: Option<f64>,
    /// Relative uncertainty of the gain.
    pub u_gain: Option<&'a Uncertainty>,
}

impl Record {
    /// The range of an id.
    pub fn sensor_range(&self, range_id: &str) -> Option<&GainRange> {
        self.sensor.ranges.iter().find(|range| range.id == range_id)
    }

    /// The scan of an id.
    pub fn scan(&self, scan_id: &str) -> Option<&ScanEntry> {
        self.scans.iter().find(|scan| scan.id == scan_id)
    }

    /// The scans of a role, in the order of the record.
    pub fn scans_of(&self, role: Role) -> impl Iterator<Item = &ScanEntry> {
        self.scans.iter().filter(move |scan| scan.role == role)
    }

    /// The sensor's chain at a range; without a range, the sensor's only range if it has just one.
    pub fn sensor_chain(&self, range_id: Option<&str>) -> SensorChain<'_> {
        let range = match (range_id, self.sensor.ranges.as_slice()) {
            (Some(id), _) => self.sensor_range(id),
            (None, [only]) => Some(only),
            (None, _) => None,
        };
        let sensor = &self.sensor;
        SensorChain {
            range,
            response: range.and_then(|r| r.response.as_ref()).or(sensor.response.as_ref()),
            full_scale_v: range.and_then(|r| r.full_scale_v).or(sensor.full_scale_v),
            bits: range.and_then(|r| r.bits).or(sensor.bits),
            coupling_ohm: range.and_then(|r| r.coupling_ohm),
            linear_limit_pa: range.and_then(|r| r.linear_limit_pa).or(sensor.linear_limit_pa),
            u_gain: range.and_then(|r| r.u_gain.as_ref()).or(sensor.u_gain.as_ref()),
        }
    }

    /// The sensor's chain of a scan. A scan of a check source by the calibrated sensor has that
    /// sensor's, of which the record states the response alone.
    pub fn chain_of(&self, scan: &ScanEntry) -> SensorChain<'_> {
        match self.reference_of(&scan.id) {
            Some(response) => SensorChain {
                range: None,
                response: Some(response),
                full_scale_v: None,
                bits: None,
                coupling_ohm: None,
                linear_limit_pa: None,
                u_gain: None,
            },
            None => self.sensor_chain(scan.range.as_deref()),
        }
    }

    /// All responses that are stated for the sensor and its ranges.
    pub fn responses(&self) -> impl Iterator<Item = &Response> {
        let ranges = self.sensor.ranges.iter().map(|range| range.response.as_ref());
        std::iter::once(self.sensor.response.as_ref()).chain(ranges).flatten()
    }

    /// The same with their paths.
    pub fn placed_responses(&self) -> Vec<(String, &Response)> {
        let ranges = self.sensor.ranges.iter().enumerate().filter_map(|(i, range)| {
            Some((format!("sensor.ranges[{i}].response"), range.response.as_ref()?))
        });
        let whole = self.sensor.response.iter().map(|r| ("sensor.response".to_owned(), r));
        whole.chain(ranges).collect()
    }

    /// Path of the response of a scan's chain.
    pub fn response_path(&self, scan: &ScanEntry) -> String {
        let own = self.chain_of(scan).range.filter(|range| range.response.is_some());
        let index = own.and_then(|own| self.sensor.ranges.iter().position(|r| r.id == own.id));
        index.map_or("sensor.response".to_owned(), |i| format!("sensor.ranges[{i}].response"))
    }

    /// Names of the files with sensitivity tables, also those of calibrated sensors.
    pub fn table_files(&self) -> Vec<&str> {
        fn inner(response: &Response) -> &Response {
            match response {
                Response::CheckSource { reference_response, .. } => reference_response,
                other => other,
            }
        }
        self.responses()
            .filter_map(|response| match inner(response) {
                Response::Table { file, .. } => Some(file.as_str()),
                _ => None,
            })
            .collect()
    }

    /// Names of all files but the scans that the record names: tables of responses and of stated
    /// values.
    pub fn other_files(&self) -> Vec<&str> {
        let mut names = self.table_files();
        names.extend(self.stated_file.as_deref());
        names
    }

    /// Response of the calibrated sensor, where a scan of a check source was made with it.
    fn reference_of(&self, scan_id: &str) -> Option<&Response> {
        self.responses().find_map(|response| match response {
            Response::CheckSource {
                reference_scan,
                reference_scan_after,
                reference_response,
                ..
            } if reference_scan == scan_id || reference_scan_after.as_deref() == Some(scan_id) => {
                Some(reference_response.as_ref())
            }
            _ => None,
        })
    }

    /// Path of the uncertainty of the gain of a scan's chain.
    pub fn gain_path(&self, scan: &ScanEntry) -> String {
        let own = self.chain_of(scan).range.filter(|range| range.u_gain.is_some());
        let index = own.and_then(|own| self.sensor.ranges.iter().position(|r| r.id == own.id));
        index.map_or("sensor.u_gain".to_owned(), |i| format!("sensor.ranges[{i}].u_gain"))
    }

    /// Drive level of a scan: its own, else that of the excitation.
    pub fn level_of(&self, scan: &ScanEntry) -> Option<f64> {
        scan.level.or(self.excitation.level)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn flat(v_per_pa: f64) -> Option<Response> {
        Some(Response::flat(v_per_pa, None))
    }

    fn record() -> Record {
        let mut record = Record::default();
        record.sensor.response = flat(5e-8);
        record.sensor.full_scale_v = Some(1.0);
        record.sensor.bits = Some(12);
        record.sensor.ranges = vec![
            GainRange {
                id: "low".to_owned(),
                full_scale_v: Some(0.1),
                response: flat(4e-8),
                ..GainRange::default()
            },
            GainRange { id: "high".to_owned(), ..GainRange::default() },
        ];
        record.scans.push(ScanEntry::new("focus", Role::Plane, "focus.h5"));
        record
    }

    #[test]
    fn a_range_overrides_the_sensor() {
        let record = record();
        let low = record.sensor_chain(Some("low"));
        assert_eq!((low.full_scale_v, low.bits), (Some(0.1), Some(12)));
        assert_eq!(low.response, flat(4e-8).as_ref());
        let high = record.sensor_chain(Some("high"));
        assert_eq!((high.full_scale_v, high.response), (Some(1.0), flat(5e-8).as_ref()));
    }

    #[test]
    fn a_single_range_needs_no_name() {
        let mut record = record();
        assert_eq!(record.chain_of(&record.scans[0]).range, None);
        record.sensor.ranges.truncate(1);
        assert_eq!(record.chain_of(&record.scans[0]).full_scale_v, Some(0.1));
    }

    #[test]
    fn a_scan_overrides_the_level() {
        let mut record = record();
        record.excitation.level = Some(20.0);
        assert_eq!(record.level_of(&record.scans[0]), Some(20.0));
        record.scans[0].level = Some(30.0);
        assert_eq!(record.level_of(record.scan("focus").unwrap()), Some(30.0));
        assert_eq!(record.scans_of(Role::Plane).count(), 1);
        assert_eq!(record.scans_of(Role::Noise).count(), 0);
    }
}

//! Water and frequency on which every value of a sheet rests.

use super::survey::Plan;
use crate::base::finding::{Arg, Finding, Severity};
use crate::base::sheet::Conditions;
use crate::base::water;
use crate::record::Record;

/// Temperature of the water, °C, and whether the record states it.
pub fn temperature_c(record: &Record) -> (f64, bool) {
    let stated = record.water.temperature();
    (stated.unwrap_or(water::ASSUMED_TEMPERATURE_C), stated.is_some())
}

/// Conditions of a sheet, with what is to be said about them.
pub fn conditions(record: &Record, plan: &Plan) -> (Conditions, Vec<Finding>) {
    let (temperature, stated) = temperature_c(record);
    let mut findings = Vec::new();
    if !stated {
        findings.push(
            Finding::new(Severity::Caution, "temperature-assumed")
                .at("water.temperature_c")
                .with("assumed", Arg::measure(temperature, "degC")),
        );
    } else if temperature < water::TEMPERATURE_RANGE_C.0
        || temperature > water::TEMPERATURE_RANGE_C.1
    {
        findings.push(
            Finding::new(Severity::Caution, "temperature-unusual")
                .at("water.temperature_c")
                .with("found", Arg::measure(temperature, "degC")),
        );
    }
    let first = plan.scans.first();
    let conditions = Conditions {
        water_temperature_c: temperature,
        water_temperature_from: if stated { "record" } else { "assumed" }.to_owned(),
        sound_speed_m_per_s: water::sound_speed_m_per_s(temperature),
        density_kg_per_m3: water::density_kg_per_m3(temperature),
        frequency_hz: first.and_then(|scan| scan.frequency_hz),
        frequency_from: first.map_or_else(String::new, |scan| scan.frequency_from.clone()),
    };
    (conditions, findings)
}

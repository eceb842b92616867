//! What was stated: head, water, drive, sensor, rule of decision.

use super::distance_items::distances;
use super::front::{item, with_typed};
use super::model::{Block, Item};
use super::rounding;
use super::sensor_items::{certificate, file_units, sensitivity, sensitivity_path};
use super::stated_uncertainty as u;
use super::wording::{Wording, stated_measure};
use crate::analysis::Results;

/// Everything that the record states, as blanks.
pub fn blocks(results: &Results, words: &dyn Wording) -> Vec<Block> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let marks = words.marks();
    let r = &results.record;
    let number = |v: Option<f64>, unit: &str| v.map(|v| stated_measure(v, unit, marks));
    let plain = |v: Option<f64>, unit: &str| {
        v.map(|v| format!("{}\u{a0}{unit}", rounding::shortest(v, marks)).trim_end().to_owned())
    };
    let c = &results.conditions;
    let computed = |key: &str, text: String| Item {
        label: label(key),
        text,
        blank: false,
        path: String::new(),
        typed: String::new(),
    };
    let mut head = vec![
        item(
            label("nominal-frequency"),
            number(r.device.nominal_frequency_hz, "Hz"),
            "device.nominal_frequency_hz",
            words,
        ),
        item(
            label("aperture-radius"),
            number(r.device.aperture_radius_m, "m"),
            "device.aperture_radius_m",
            words,
        ),
        item(
            label("radius-of-curvature"),
            number(r.device.radius_of_curvature_m, "m"),
            "device.radius_of_curvature_m",
            words,
        ),
        item(
            label("software-version"),
            r.device.software_version.clone(),
            "device.software_version",
            words,
        ),
        item(
            label("operating-hours"),
            plain(r.device.operating_hours, "h"),
            "device.operating_hours",
            words,
        ),
    ];
    head.extend(distances(results, words));
    let water = vec![
        item(
            label("water-temperature"),
            plain(r.water.temperature(), "°C"),
            "water.temperature_c",
            words,
        ),
        item(
            label("u-temperature"),
            r.water.u_temperature_c.map(|u| format!("{}\u{a0}K", rounding::shortest(u, marks))),
            "water.u_temperature_c",
            words,
        ),
        item(label("water-treatment"), r.water.treatment.clone(), "water.treatment", words),
        item(
            label("oxygen"),
            plain(r.water.oxygen_mg_per_l, "mg/l"),
            "water.oxygen_mg_per_l",
            words,
        ),
        computed(
            "sound-speed",
            format!("{}\u{a0}m/s", rounding::digits(c.sound_speed_m_per_s, 5, marks)),
        ),
        computed(
            "density",
            format!("{}\u{a0}kg/m³", rounding::digits(c.density_kg_per_m3, 5, marks)),
        ),
    ];
    let e = &r.excitation;
    let exposure = r.exposure.as_ref();
    let level = levels(results, words);
    let own = r.scans.iter().any(|scan| scan.level.is_some());
    let level_path = if own { "" } else { "excitation.level" };
    let drive = vec![
        item(label("frequency"), number(e.frequency_hz, "Hz"), "excitation.frequency_hz", words),
        item(label("cycles"), plain(e.cycles, ""), "excitation.cycles", words),
        item(
            label("repetition-rate"),
            plain(e.repetition_hz, "Hz"),
            "excitation.repetition_hz",
            words,
        ),
        // Levels that scans state are not one blank.
        item(label("drive-level"), level, level_path, words),
        item(
            label("u-drive"),
            u::relative(e.u_drive.as_ref().and_then(|u| u.relative_parts()), words),
            "excitation.u_drive",
            words,
        ),
        item(
            label("exposure-mode"),
            exposure.and_then(|x| x.mode).map(|mode| label(&format!("mode-{}", mode.as_str()))),
            "exposure.mode",
            words,
        ),
        item(
            label("exposure-burst"),
            r.exposure
                .as_ref()
                .and_then(|x| x.burst_s)
                .map(|s| format!("{}\u{a0}ms", rounding::shortest(s * 1e3, marks))),
            "exposure.burst_s",
            words,
        ),
        item(
            label("exposure-repetition"),
            plain(r.exposure.as_ref().and_then(|x| x.repetition_hz), "Hz"),
            "exposure.repetition_hz",
            words,
        ),
        item(
            label("exposure-train"),
            exposure
                .and_then(|x| x.train_s)
                .map(|s| format!("{}\u{a0}s", rounding::shortest(s, marks))),
            "exposure.train_s",
            words,
        ),
        item(
            label("exposure-level"),
            exposure.and_then(|x| x.level).map(|level| {
                let unit = e.level_unit.as_deref().unwrap_or("");
                format!("{}\u{a0}{unit}", rounding::shortest(level, marks)).trim_end().to_owned()
            }),
            "exposure.level",
            words,
        ),
        item(
            label("exposure-source"),
            exposure.and_then(|x| x.source_of_values.clone()),
            "exposure.source_of_values",
            words,
        ),
    ];
    let radius = r.sensor.effective_radius_m.as_ref().map(|radius| match radius {
        crate::record::EffectiveRadius::Constant(radius) => stated_measure(*radius, "m", marks),
        _ => label("as-table"),
    });
    let by_range = || (!r.sensor.ranges.is_empty()).then(|| label("by-range"));
    let sensor = vec![
        item(label("sensor"), r.sensor.description.clone(), "sensor.description", words),
        item(label("serial"), r.sensor.serial.clone(), "sensor.serial", words),
        item(
            label("sensor-sensitivity"),
            sensitivity(results, words).or_else(by_range),
            sensitivity_path(results),
            words,
        ),
        item(label("effective-radius"), radius, "sensor.effective_radius_m", words),
        item(
            label("full-scale"),
            number(r.sensor.full_scale_v, "V").or_else(by_range),
            "sensor.full_scale_v",
            words,
        ),
        item(
            label("bits"),
            r.sensor.bits.map(|b| b.to_string()).or_else(by_range),
            "sensor.bits",
            words,
        ),
        item(
            label("linear-limit"),
            number(r.sensor.linear_limit_pa, "Pa").or_else(by_range),
            "sensor.linear_limit_pa",
            words,
        ),
        item(
            label("u-gain"),
            u::relative(r.sensor.u_gain.as_ref().and_then(|u| u.relative_parts()), words).or_else(
                || {
                    r.sensor
                        .ranges
                        .iter()
                        .any(|range| range.u_gain.is_some())
                        .then(|| label("by-range"))
                },
            ),
            "sensor.u_gain",
            words,
        ),
    ];
    let mut sensor = sensor;
    if let Some(response) = r.sensor.response.as_ref().filter(|r| r.kind() == "table") {
        let text =
            response.gain_db().map(|gain| format!("{}\u{a0}dB", rounding::shortest(gain, marks)));
        sensor.insert(3, item(label("table-gain"), text, "sensor.response.gain_db", words));
    }
    // Behind description and serial number.
    sensor.splice(2..2, certificate(results, words));
    sensor.extend(file_units(results, words));
    let mut parts = vec![
        ("head", head),
        ("water", water),
        ("drive-heading", drive),
        ("sensor-heading", sensor),
    ];
    if !r.stated.is_empty() {
        parts.push(("decision-heading", decision(results, words)));
    }
    parts
        .into_iter()
        .map(|(key, items)| Block::Definitions {
            heading: label(key),
            items: with_typed(results, items, words.marks()),
        })
        .collect()
}

/// The rule by which stated values are judged.
fn decision(results: &Results, words: &dyn Wording) -> Vec<Item> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let stated = &results.record.decision;
    let digits = |v: f64| Some(rounding::shortest(v, words.marks()));
    let typed = stated.rule.word().replace('-', " ");
    let said = words.label(&format!("rule-{}", stated.rule.word())).unwrap_or(&typed).to_owned();
    let mut rule = item(label("decision-rule"), Some(said), "decision.rule", words);
    if rule.text != typed {
        rule.typed = typed;
    }
    vec![
        rule,
        item(
            label("least-probability"),
            digits(stated.min_probability),
            "decision.min_probability",
            words,
        ),
        item(label("coverage-probability"), digits(stated.coverage), "decision.coverage", words),
    ]
}

/// The drive level, or those of the scans where they differ.
fn levels(results: &Results, words: &dyn Wording) -> Option<String> {
    let mut levels: Vec<f64> = results.scans.iter().filter_map(|scan| scan.level).collect();
    levels.sort_by(f64::total_cmp);
    levels.dedup();
    let unit = results.record.excitation.level_unit.as_deref().unwrap_or("");
    let digits = |v: &f64| rounding::digits(*v, 3, words.marks());
    let text = match levels.as_slice() {
        [] => return None,
        [one] => digits(one),
        [few @ .., last] if few.len() < 6 => format!(
            "{} {} {}",
            few.iter().map(digits).collect::<Vec<_>>().join(", "),
            words.label("and").unwrap_or_default(),
            digits(last)
        ),
        [first, .., last] => format!("{} … {}", digits(first), digits(last)),
    };
    Some(format!("{text}\u{a0}{unit}").trim_end().to_owned())
}

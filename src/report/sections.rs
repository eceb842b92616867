//! The pages after the first.

use super::drawings::Draughtsman;
use super::entries::{digits_and_unit, explanation};
use super::front::{item, with_typed};
use super::model::{Block, Figure, FindingRow, Item, QuantityRow, Section};
use super::remarks::{rank, severity_key};
use super::rounding;
use super::stated_uncertainty as u;
use super::verdicts::{join, measured, name, outcome_key, print_unit, probability};
use super::wording::{Wording, stated_measure};
use crate::analysis::{Picture, Results};
use crate::base::quantity::{TimeBase, WindowKind, entry_of, is_safety};
use crate::base::sheet::{FindingEntry, QuantityEntry, Sheet};
use crate::base::units;
use crate::base::verdict::VerdictEntry;

/// All sections; one without data has no blocks.
pub fn sections(results: &Results, sheet: &Sheet, words: &dyn Wording) -> Vec<Section> {
    let section = |id: &str, blocks: Vec<Block>| Section {
        id: id.to_owned(),
        heading: words.label(&format!("section-{id}")).unwrap_or_default().to_owned(),
        blocks,
    };
    let mut out = vec![
        section("conditions", conditions(results, words)),
        section("calibration", super::calibration::blocks(results, words)),
        section("field", field(results, words)),
        section("wave", wave(results, words)),
        section("quantities", quantities(results, sheet, words)),
        section("drive", super::drive::blocks(results, words)),
        section("verdicts", verdicts(sheet, words)),
        section("fitness", fitness(sheet, words)),
        section("budgets", super::budgets::blocks(results, words)),
    ];
    // Only where the record asks for it.
    let safety = super::safety::blocks(sheet, words);
    if !safety.is_empty() {
        out.push(section("safety", safety));
    }
    out.extend([
        section("method", method(words)),
        section("changes", super::changes::blocks(results, words)),
        section("provenance", provenance(sheet, words)),
        section("glossary", super::glossary::blocks(sheet, words)),
    ]);
    out
}

fn conditions(results: &Results, words: &dyn Wording) -> Vec<Block> {
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
    let head = vec![
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

/// Where the sensitivity may be typed: not where it is by table, check source or range.
fn sensitivity_path(results: &Results) -> &'static str {
    let sensor = &results.record.sensor;
    let blank = match &sensor.response {
        Some(response) => response.flat_v_per_pa().is_some(),
        None => sensor.ranges.iter().all(|range| range.response.is_none()),
    };
    if blank { "sensor.response" } else { "" }
}

/// Samples of files that do not say their volts; each file's where there are several.
fn file_units(results: &Results, words: &dyn Wording) -> Vec<Item> {
    let scans = results.record.scans.iter().enumerate();
    let stated = scans.filter_map(|(i, s)| Some((i, &s.id, s.layout.as_ref()?.volts.as_ref()?)));
    let stated: Vec<_> = stated.collect();
    let several = stated.len() > 1;
    let label = words.label("file-unit").unwrap_or_default();
    let items = stated.into_iter().map(|(i, id, volts)| {
        let unit = volts.unit.as_deref().unwrap_or("V").replace('u', "µ");
        let scale = rounding::shortest(volts.scale.unwrap_or(1.0), words.marks());
        let label = if several { format!("{label}, {id}") } else { label.to_owned() };
        let path = format!("scans[{i}].layout.volts");
        item(label, Some(format!("{scale}\u{a0}{unit}")), &path, words)
    });
    items.collect()
}

/// How volts become pascals, as stated: `42 mV/MPa, 10 % (k = 2)`.
fn sensitivity(results: &Results, words: &dyn Wording) -> Option<String> {
    let response = results.record.sensor.response.as_ref()?;
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let stated = match response.flat_v_per_pa() {
        Some(factor) => {
            let (digits, unit) = (factor * 1e9, "mV/MPa");
            format!("{}\u{a0}{unit}", rounding::shortest(digits, words.marks()))
        }
        None => label(&format!("sensitivity-{}", response.kind())),
    };
    let u = response.stated_uncertainty().and_then(|u| {
        let in_percent = || {
            let of = response.flat_v_per_pa().filter(|of| *of > 0.0)?;
            Some((u.value / of, u.kind.word(), u.coverage_factor()))
        };
        u.relative_parts().or_else(in_percent)
    });
    let of_u = u::relative(u, words).map_or_else(String::new, |u| format!(", {u}"));
    Some(stated + &of_u)
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

fn field(results: &Results, words: &dyn Wording) -> Vec<Block> {
    let mut blocks = Vec::new();
    for scan in &results.scans {
        let hand = Draughtsman { results, scan, words };
        match &scan.picture {
            Picture::Plane(plane) => {
                blocks.push(Block::Figures { figures: hand.maps(plane) });
                blocks.push(Block::Figures { figures: hand.profiles(plane) });
                let further = [
                    hand.pressure_profiles(plane),
                    hand.harmonic_maps(plane),
                    hand.timing_maps(plane),
                ];
                for figures in further {
                    if !figures.is_empty() {
                        blocks.push(Block::Figures { figures });
                    }
                }
            }
            Picture::Line(line) => blocks.push(Block::Figures { figures: hand.line(line) }),
            Picture::Drive(_) | Picture::None => {}
        }
    }
    blocks.extend(super::depths::blocks(results, words));
    let visits = super::revisits::figures(results, words);
    if !visits.is_empty() {
        blocks.push(Block::Figures { figures: visits });
    }
    blocks
}

fn wave(results: &Results, words: &dyn Wording) -> Vec<Block> {
    results
        .scans
        .iter()
        // The waves of a sweep stand together below it.
        .filter(|scan| !super::drive::is_level(results, &scan.id))
        .filter_map(|scan| {
            let wave = scan.focal.as_ref()?;
            let figures: Vec<Figure> = Draughtsman { results, scan, words }.wave(wave);
            Some(Block::Figures { figures })
        })
        .collect()
}

fn quantities(results: &Results, sheet: &Sheet, words: &dyn Wording) -> Vec<Block> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let mut blocks = vec![Block::Paragraph { text: label("uncertainty-columns") }];
    for scan in results.scans.iter().filter(|scan| !super::drive::is_level(results, &scan.id)) {
        let role = label(&format!("role-{}", scan.role.as_str()));
        blocks.push(Block::Quantities {
            heading: format!("{} ({role})", scan.id),
            rows: sheet
                .quantities
                .iter()
                .filter(|q| q.scan == scan.id && !is_safety(&q.id))
                .map(|q| quantity_row(q, words))
                .collect(),
        });
    }
    blocks
}

/// Limits and conditions of the stated values, and the repeats.
fn verdicts(sheet: &Sheet, words: &dyn Wording) -> Vec<Block> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let mut blocks = Vec::new();
    if !sheet.verdicts.is_empty() {
        blocks.push(Block::Table {
            caption: label("verdicts-table"),
            head: [
                "quantity",
                "scan",
                "verdict-limits",
                "verdict-conditions",
                "measured",
                "probability",
                "verdict",
            ]
            .map(label)
            .to_vec(),
            rows: sheet.verdicts.iter().map(|entry| limits_row(entry, words)).collect(),
        });
    }
    blocks.extend(super::repeats::blocks(sheet, words));
    blocks
}

fn limits_row(entry: &VerdictEntry, words: &dyn Wording) -> Vec<String> {
    let label = |key: &str| words.label(key).unwrap_or_default();
    let (factor, unit) = print_unit(&entry.quantity);
    let limit = |side: Option<f64>| side.map(|v| rounding::shortest(v * factor, words.marks()));
    let within = match (limit(entry.low), limit(entry.high)) {
        (Some(low), Some(high)) => join(&format!("{low} … {high}"), unit),
        (None, Some(high)) => format!("≤ {}", join(&high, unit)),
        (Some(low), None) => format!("≥ {}", join(&low, unit)),
        (None, None) => "–".to_owned(),
    };
    let conditions: Vec<String> = entry
        .conditions
        .iter()
        .map(|condition| words.condition(&condition.condition, &condition.stated))
        .collect();
    vec![
        name(entry, words),
        entry.scan.clone().unwrap_or_default(),
        within,
        conditions.join(", "),
        measured(entry, words).unwrap_or_else(|| label("not-measured").to_owned()),
        probability(entry, words),
        label(outcome_key(entry.outcome)).to_owned(),
    ]
}

/// A quantity as a row of the table.
pub fn quantity_row(entry: &QuantityEntry, words: &dyn Wording) -> QuantityRow {
    let label = |key: &str| words.label(key).unwrap_or_default();
    let unit = entry_of(&entry.id).and_then(|c| units::print_unit(c.print_unit));
    let (unit, per_si) = unit.map_or(("", 1.0), |u| (u.text, u.per_si));
    let (value, uncertainty) = entry.value.map_or_else(Default::default, |value| {
        let expanded = entry.u_expanded.unwrap_or(0.0);
        let mut pair = rounding::with_uncertainty(value * per_si, expanded * per_si, words.marks());
        if unit == "level" {
            // As it was set.
            pair.value = rounding::shortest(value, words.marks());
        }
        let expanded = match pair.expanded.as_str() {
            "" => String::new(),
            expanded => format!("± {expanded}{}", pair.power),
        };
        let digits = pair.value + &pair.power;
        (if entry.lower_bound { format!("≥ {digits}") } else { digits }, expanded)
    });
    let uncorrected = entry.value_uncorrected.map_or_else(String::new, |v| {
        let (digits, _) = digits_and_unit(&entry.id, v, words);
        let names: Vec<&str> = entry
            .corrections
            .iter()
            .filter_map(|c| words.label(&format!("correction-{}", c.name)))
            .collect();
        format!("{digits} {}", names.join(", "))
    });
    let mut basis: Vec<String> = Vec::new();
    if let Some(window) = &entry.window {
        let key = match window.kind {
            WindowKind::WholePulse => "window-whole-pulse",
            WindowKind::SteadyState => "window-steady-state",
        };
        basis.push(label(key).to_owned());
    }
    if let Some(base) = entry.time_base {
        let key = match base {
            TimeBase::On => "base-on",
            TimeBase::Tank => "base-tank",
            TimeBase::Exposure => "base-exposure",
        };
        basis.push(label(key).to_owned());
    }
    if let Some(method) = words.method(&entry.method).filter(|m| !m.is_empty()) {
        basis.push(method.to_owned());
    }
    QuantityRow {
        id: entry.id.clone(),
        symbol: entry.symbol.clone(),
        name: words.quantity(&entry.id).map_or("", |q| q.name).to_owned(),
        value,
        // Of the drive level the entry has the operator's unit.
        unit: match unit {
            "level" => entry.unit.clone(),
            _ => match (unit.strip_suffix("level"), entry.unit.rsplit_once('/')) {
                (Some(before), Some((_, own))) => format!("{before}{}", rooted(own)),
                (Some(before), None) => before.trim_end_matches('/').to_owned(),
                _ => unit.to_owned(),
            },
        },
        uncertainty,
        uncorrected,
        basis: basis.join("; "),
        reference: words.quantity(&entry.id).map_or("", |q| q.reference).to_owned(),
        reason: entry
            .reason
            .as_ref()
            .map_or_else(String::new, |r| format!("{}: {r}", label("not-measurable"))),
        explanation: explanation(&entry.id, words),
        scan: entry.scan.clone(),
    }
}

/// `√W` for `W^0.5`.
fn rooted(unit: &str) -> String {
    unit.strip_suffix("^0.5").map_or_else(|| unit.to_owned(), |of| format!("√{of}"))
}

/// A finding as a row of the list.
pub fn finding_row(entry: &FindingEntry, words: &dyn Wording) -> FindingRow {
    let quantity = entry.place.quantity.as_deref();
    let quantity = quantity.map(|id| words.quantity(id).map_or(id, |q| q.name).to_owned());
    let place = [entry.place.scan.clone(), entry.place.file.clone(), quantity]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(", ");
    FindingRow {
        severity: entry.severity,
        word: words.label(severity_key(entry.severity)).unwrap_or_default().to_owned(),
        code: entry.code.clone(),
        place,
        text: entry.text.clone(),
        hint: entry.hint.clone(),
    }
}

fn fitness(sheet: &Sheet, words: &dyn Wording) -> Vec<Block> {
    if sheet.findings.is_empty() {
        return vec![Block::Paragraph {
            text: words.label("no-findings").unwrap_or_default().to_owned(),
        }];
    }
    vec![Block::Findings {
        rows: rank(&sheet.findings).into_iter().map(|f| finding_row(f, words)).collect(),
    }]
}

fn method(words: &dyn Wording) -> Vec<Block> {
    let notes =
        (1..).map_while(|n| words.label(&format!("method-note-{n}"))).map(str::to_owned).collect();
    vec![Block::List { items: notes }]
}

fn provenance(sheet: &Sheet, words: &dyn Wording) -> Vec<Block> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let rows = sheet
        .provenance
        .iter()
        .map(|input| {
            vec![
                input.name.clone(),
                label(&format!("role-{}", input.role)),
                input.bytes.to_string(),
                input.sha256.clone().unwrap_or_else(|| label("hash-pending")),
            ]
        })
        .collect();
    vec![
        Block::Table {
            caption: label("inputs"),
            head: ["file", "role", "bytes", "sha256"].map(label).to_vec(),
            rows,
        },
        Block::Paragraph {
            text: format!("{} {}. {}", label("made-with"), sheet.software, label("nothing-sent")),
        },
    ]
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::analysis;
    use crate::formats::source::{FileSet, Memory};
    use crate::report::wording::en::English;

    /// A burst of 1 MHz in one column.
    fn results() -> Results {
        let volts = |k: u32| match k {
            100..300 => (0.02 * std::f64::consts::TAU * f64::from(k)).sin(),
            _ => 0.0,
        };
        let row = |k: u32| format!("{:.2},{:.4}\n", 0.02 * f64::from(k), volts(k));
        let text = format!("time (us),CH1 (V)\n{}", (0..400).map(row).collect::<String>());
        let mut files = FileSet::default();
        files.insert("a.csv", Arc::new(Memory(Arc::from(text.as_bytes()))));
        let (record, _) = analysis::skeleton(&files);
        analysis::run(record, &files, &mut |_, _| {}).unwrap()
    }

    /// What a record with these parts prints of its sensor, by path.
    fn items(results: &mut Results, parts: serde_json::Value) -> Vec<Item> {
        let mut whole = serde_json::to_value(&results.record).unwrap();
        for (key, part) in parts.as_object().unwrap() {
            whole[key] = part.clone();
        }
        results.record = serde_json::from_value(whole).unwrap();
        let blocks = conditions(results, &English).into_iter();
        let items = blocks.flat_map(|block| match block {
            Block::Definitions { items, .. } => items,
            _ => Vec::new(),
        });
        items.collect()
    }

    /// A factor and the unit of a file's samples are typed where they stand; a table is not.
    #[test]
    fn sensitivity_and_units_are_blanks() {
        let mut results = results();
        let mut said = |parts| -> Vec<(String, String)> {
            let all = items(&mut results, parts).into_iter();
            let of_calibration = |item: &Item| {
                ["Sensitivity", "Gain after", "One unit"]
                    .iter()
                    .any(|start| item.label.starts_with(start))
            };
            all.filter(of_calibration)
                .map(|item| (item.path, item.text.replace('\u{a0}', " ")))
                .collect()
        };
        let own = |path: &str, text: &str| (path.to_owned(), text.to_owned());
        let blank = said(serde_json::json!({}));
        assert_eq!(blank[0].0, "sensor.response");
        let layout = |scale: f64| serde_json::json!({"waveforms": "/w", "axes": ["t"], "volts": {"scale": scale, "unit": "uV"}});
        let u = serde_json::json!({"value": 4e-9, "kind": "expanded", "k": 2});
        let flat = serde_json::json!({"kind": "flat", "v_per_pa": 4e-8, "uncertainty": u});
        let scan = |id: &str| serde_json::json!({"id": id, "role": "point", "file": "a.csv", "layout": layout(0.5)});
        assert_eq!(
            said(serde_json::json!({"sensor": {"response": flat}, "scans": [scan("a")]})),
            [
                own("sensor.response", "40 mV/MPa, 10 % (k = 2)"),
                own("scans[0].layout.volts", "0.5 µV")
            ]
        );
        let table = serde_json::json!({"kind": "table", "file": "s.csv", "gain_db": 20});
        assert_eq!(
            said(
                serde_json::json!({"sensor": {"response": table}, "scans": [scan("a"), scan("b")]})
            ),
            [
                own("", "by table over frequency"),
                own("sensor.response.gain_db", "20 dB"),
                own("scans[0].layout.volts", "0.5 µV"),
                own("scans[1].layout.volts", "0.5 µV")
            ]
        );
    }
}

//! The sections of the sheet behind its front.

use super::drawings::Draughtsman;
use super::model::{Block, Figure, FindingRow, Section};
use super::remarks::{rank, severity_key};
use super::wording::Wording;
use super::{conditions, limits, quantity_rows};
use crate::analysis::{Picture, Results};
use crate::base::sheet::{FindingEntry, Sheet};

/// All sections; one without data has no blocks.
pub fn sections(results: &Results, sheet: &Sheet, words: &dyn Wording) -> Vec<Section> {
    let section = |id: &str, blocks: Vec<Block>| Section {
        id: id.to_owned(),
        heading: words.label(&format!("section-{id}")).unwrap_or_default().to_owned(),
        blocks,
    };
    let mut out = vec![
        section("conditions", conditions::blocks(results, words)),
        section("calibration", super::calibration::blocks(results, words)),
        section("field", field(results, words)),
        section("wave", wave(results, words)),
        section("quantities", quantity_rows::blocks(results, sheet, words)),
        section("drive", super::drive::blocks(results, words)),
        section("verdicts", limits::blocks(sheet, words)),
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

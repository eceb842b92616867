//! The first page.

use super::drawings::Draughtsman;
use super::model::{Figure, FindingRow, Front, Item, VerdictTable};
use super::quantity_rows::quantity_row;
use super::remarks::rank;
use super::rounding::{self, Marks};
use super::sections::finding_row;
use super::verdicts::join;
use super::wording::Wording;
use crate::analysis::{Picture, Results, ScanResult};
use crate::base::finding::Severity;
use crate::base::quantity::is_safety;
use crate::base::sheet::Sheet;
use crate::record::Role;

/// Quantities that a clinic reads first, in order; those without a value are left out.
const HEADLINE: [&str; 10] = [
    "pc",
    "pr",
    "i_on",
    "isppa",
    "width_x_6",
    "width_y_6",
    "power_on_angular",
    "power_on_plane_wave",
    "f_awf_zero",
    "td",
];
/// Most of them, and lines that they hold together with the verdicts.
const HEADLINES: usize = 7;
const WITH_VERDICTS: usize = 9;
/// Findings shown in the margin.
const GRAVEST: usize = 3;
/// Characters of a line of the margin; lines of the first finding beside the sentence; lines that tables
/// and the margin of the figure hold together.
const MARGIN_LINE: usize = 26;
const BESIDE_SENTENCE: usize = 9;
const MARGIN_LINES: usize = 22;

/// The first page of a sheet.
pub fn front(results: &Results, sheet: &Sheet, words: &dyn Wording) -> Front {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let main = main_scan(results);
    let verdicts = super::verdicts::table(results, sheet, words);
    let verdicts_lines = verdicts.as_ref().map_or(0, VerdictTable::lines);
    let headline = main.map_or_else(Vec::new, |scan| {
        HEADLINE
            .iter()
            .filter_map(|id| {
                sheet
                    .quantities
                    .iter()
                    .find(|q| q.scan == scan.id && q.id == *id && q.value.is_some())
            })
            // What is judged stands in the table of verdicts.
            .filter(|q| !sheet.verdicts.iter().any(|v| v.quantity == q.id))
            .map(|entry| quantity_row(entry, words))
            .take(HEADLINES.min(WITH_VERDICTS.saturating_sub(verdicts_lines)))
            .collect()
    });
    let figures = main
        .and_then(|scan| {
            let hand = Draughtsman { results, scan, words };
            // What stands once more in its section, at another width, is a figure of its own here.
            let own = |figure: Figure| Figure { id: format!("front-{}", figure.id), ..figure };
            let figure = match (&scan.picture, &scan.focal) {
                (Picture::Plane(plane), Some(wave)) => Some(hand.glance(plane, wave)),
                (Picture::Line(line), _) => hand.line(line).into_iter().next().map(own),
                (_, Some(wave)) => hand.wave(wave).into_iter().next().map(own),
                _ => None,
            };
            figure.map(|figure| vec![figure])
        })
        .unwrap_or_default();
    let gravest: Vec<FindingRow> = rank(&sheet.findings)
        .into_iter()
        .filter(|f| f.severity > Severity::Note)
        // What concerns safety values is told with them.
        .filter(|f| !f.place.quantity.as_deref().is_some_and(is_safety))
        .take(GRAVEST)
        .map(|f| finding_row(f, words))
        .collect();
    let record = &results.record;
    let changes = super::changes::lines(results, words);
    let headlines = headline.len();
    Front {
        title: record.title.clone().unwrap_or_else(|| label("untitled")),
        kind: label("document-kind"),
        identity: with_typed(results, identity(results, sheet, words), words.marks()),
        sentence: vec![
            held_together(&plain_sentence(results, sheet, main, words)),
            label("not-a-patient"),
        ],
        verdicts,
        headline,
        figures,
        gravest: fitting(gravest, verdicts_lines + headlines + changes.len()),
        not_measured: not_measured(results, sheet, words),
        cautions: ["caution-1", "caution-2", "caution-3"].map(label).to_vec(),
        changes,
        signatures: ["signature-measured", "signature-checked"].map(label).to_vec(),
    }
}

/// The findings that the margin holds beside tables of so many lines: the first in any case.
fn fitting(gravest: Vec<FindingRow>, tables: usize) -> Vec<FindingRow> {
    let lines = |row: &FindingRow| {
        let of = |text: &str| text.chars().count().div_ceil(MARGIN_LINE);
        2 + of(&row.place) + of(&row.text) + of(&row.hint)
    };
    let mut room = MARGIN_LINES.saturating_sub(tables) + BESIDE_SENTENCE;
    let fits = |(index, row): (usize, FindingRow)| {
        let needed = match index {
            // A long one stands below the sentence, over the whole width.
            0 if row.is_long() => BESIDE_SENTENCE,
            0 => lines(&row).max(BESIDE_SENTENCE),
            _ => lines(&row),
        };
        let left = room.checked_sub(needed);
        room = left.unwrap_or(0);
        (index == 0 || left.is_some()).then_some(row)
    };
    gravest.into_iter().enumerate().map_while(fits).collect()
}

/// The scan that the front shows: a plane, else an axial scan, else one with a waveform; of several the
/// one at the highest level, the first of these.
pub fn main_scan(results: &Results) -> Option<&ScanResult> {
    let of = |role: Role| {
        let all = results.scans.iter().filter(|s| s.role == role && s.focal.is_some());
        all.reduce(|best, scan| if scan.level > best.level { scan } else { best })
    };
    of(Role::Plane)
        .or_else(|| of(Role::Axial))
        .or_else(|| of(Role::Point))
        .or_else(|| of(Role::Line))
        .or(results.scans.first())
}

/// A blank of the record as an item.
pub fn item(label: String, stated: Option<String>, path: &str, words: &dyn Wording) -> Item {
    let blank = stated.is_none();
    Item {
        label,
        text: stated.unwrap_or_else(|| words.label("not-stated").unwrap_or_default().to_owned()),
        blank,
        path: path.to_owned(),
        typed: String::new(),
    }
}

/// Whether a typed text says a printed one in the same way: with the same mark, and the same unit or none.
fn says_the_same(typed: &str, printed: &str, marks: Marks) -> bool {
    let bare = |text: &str| text.replace(char::is_whitespace, "");
    let split = |text: &str| {
        let end = text
            .find(|c: char| !(c.is_ascii_digit() || c == '-' || c == marks.decimal))
            .unwrap_or(text.len());
        (text[..end].replace(marks.decimal, ".").parse::<f64>().ok(), text[end..].to_owned())
    };
    let (typed, printed) = (bare(typed), bare(printed));
    let ((a, unit), (b, printed_unit)) = (split(&typed), split(&printed));
    typed == printed || (a.is_some() && a == b && (unit.is_empty() || unit == printed_unit))
}

/// Items with the texts that were typed, where these say it otherwise.
pub fn with_typed(results: &Results, mut items: Vec<Item>, marks: Marks) -> Vec<Item> {
    for item in items.iter_mut().filter(|item| !item.path.is_empty() && !item.blank) {
        let typed = results.record.as_typed(&item.path);
        if let Some(typed) = typed.filter(|typed| !says_the_same(typed, &item.text, marks)) {
            item.typed = typed.to_owned();
        }
    }
    items
}

fn identity(results: &Results, sheet: &Sheet, words: &dyn Wording) -> Vec<Item> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let r = &results.record;
    let number = sheet.number.clone().unwrap_or_else(|| label("number-pending"));
    vec![
        item(label("device"), r.device.description.clone(), "device.description", words),
        item(label("customer"), r.customer.clone(), "customer", words),
        item(label("site"), r.site.clone(), "site", words),
        item(label("measured-by"), r.measured_by.clone(), "measured_by", words),
        item(label("serial"), r.device.serial.clone(), "device.serial", words),
        item(label("date"), r.date.clone(), "date", words),
        item(label("issued"), r.issued.clone(), "issued", words),
        Item {
            label: label("sheet-number"),
            text: number,
            blank: false,
            path: String::new(),
            typed: String::new(),
        },
    ]
}

/// The text with its values held together: no line ends before or after `±`, nor before `%`.
fn held_together(text: &str) -> String {
    text.replace(" ± ", "\u{a0}±\u{a0}").replace(" %", "\u{a0}%")
}

fn plain_sentence(
    results: &Results,
    sheet: &Sheet,
    main: Option<&ScanResult>,
    words: &dyn Wording,
) -> String {
    let label = |key: &str| words.label(key).unwrap_or_default();
    let record = &results.record;
    let value = |id: &str| -> Option<String> {
        let scan = main?;
        let entry = sheet
            .quantities
            .iter()
            .find(|q| q.scan == scan.id && q.id == id && q.value.is_some())?;
        Some(entry.text.clone())
    };
    let judged = super::verdict_sentence::told_of(sheet)
        .and_then(|(_, entry)| results.scans.iter().find(|s| Some(&s.id) == entry.scan.as_ref()));
    let temperature = rounding::digits(results.conditions.water_temperature_c, 3, words.marks());
    let level = judged.or(main).and_then(|scan| scan.level).map(|level| {
        let unit = record.excitation.level_unit.as_deref().unwrap_or("");
        join(&rounding::digits(level, 3, words.marks()), unit)
    });
    let mut out = super::verdict_sentence::counted(sheet, words);
    if !out.is_empty() {
        out.push(' ');
    }
    out +=
        &words.opening(record.date.as_deref(), &format!("{temperature}\u{a0}°C"), level.as_deref());
    if let Some(judged) = super::verdict_sentence::says(results, sheet, words) {
        return out + &judged;
    }
    out.push(' ');
    out.push_str(label("sentence-delivered"));
    match (value("pc"), value("pr")) {
        (Some(pc), Some(pr)) => {
            out.push_str(&format!(
                " {} {pc} {} {} {pr}",
                label("sentence-pc"),
                label("and"),
                label("sentence-pr")
            ));
            if let Some(i) = value("i_on").or_else(|| value("isppa")) {
                out.push_str(&format!(", {} {i}", label("sentence-intensity")));
            }
            out.push('.');
        }
        _ => out.push_str(label("sentence-nothing")),
    }
    out
}

fn not_measured(results: &Results, sheet: &Sheet, words: &dyn Wording) -> Vec<String> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let has = |role: Role| results.scans.iter().any(|s| s.role == role);
    let mut out = Vec::new();
    for (role, key) in [(Role::Plane, "no-plane"), (Role::Axial, "no-axial")] {
        if !has(role) {
            out.push(label(key));
        }
    }
    if sheet.quantities.iter().all(|quantity| quantity.u_expanded.is_none()) {
        out.push(label("no-uncertainty"));
    }
    if sheet.verdicts.is_empty() {
        out.push(label("nothing-stated"));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_that_say_the_same_are_not_repeated() {
        for (typed, printed, same) in [
            ("46 mm", "46.0\u{a0}mm", true),
            ("35", "35.0\u{a0}°C", true),
            ("21.4°C", "21.4\u{a0}°C", true),
            ("21,4 °C", "21.4\u{a0}°C", false),
            ("4.6 cm", "46.0\u{a0}mm", false),
            ("46.04 mm", "46.0\u{a0}mm", false),
            ("tank", "tank", true),
        ] {
            assert_eq!(says_the_same(typed, printed, rounding::ENGLISH), same, "{typed}");
        }
        for (typed, printed, same) in [
            ("46 mm", "46,0\u{a0}mm", true),
            ("21,40 °C", "21,4\u{a0}°C", true),
            ("21.4 °C", "21,4\u{a0}°C", false),
        ] {
            assert_eq!(says_the_same(typed, printed, rounding::GERMAN), same, "{typed}");
        }
    }
}

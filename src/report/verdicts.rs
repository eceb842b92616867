//! Verdicts in words: their remarks, and the table of the front.

use super::entries::{explanation, value_and_unit};
use super::model::{VerdictRow, VerdictTable};
use super::rounding;
use super::wording::{Filled, Wording};
use crate::analysis::Results;
use crate::base::finding::{Arg, Args, Place};
use crate::base::quantity::entry_of;
use crate::base::sheet::Sheet;
use crate::base::units;
use crate::base::verdict::{Outcome, Remark, Settle, VerdictEntry};

/// Most verdicts that the front shows: it is one page.
const ON_FRONT: usize = 8;

/// Verdicts with the sentences of their remarks.
pub fn worded(entries: &[VerdictEntry], words: &dyn Wording) -> Vec<VerdictEntry> {
    let mut out = entries.to_vec();
    for entry in &mut out {
        for reason in &mut entry.reasons {
            reason.text = sentence(&reason.code, &reason.args, words);
        }
        if let Some(settle) = &mut entry.settle {
            settle.text = settled(&entry.quantity, entry.u_expanded, settle, words);
        }
    }
    out
}

/// Probabilities of the rule are printed as they were typed.
fn sentence(code: &str, args: &Args, words: &dyn Wording) -> String {
    let place = Place::default();
    let as_typed = |(name, arg): (&String, &Arg)| {
        let arg = match (name.as_str(), arg) {
            ("least" | "most", Arg::Number(v)) => Arg::from(rounding::shortest(*v, words.marks())),
            (_, other) => other.clone(),
        };
        (name.clone(), arg)
    };
    let args = &args.iter().map(as_typed).collect();
    words.remark(code, &Filled::new(args, &place, words.marks())).unwrap_or_else(|| code.to_owned())
}

/// What would settle it. What is asked for is rounded down, so that it suffices as printed.
fn settled(quantity: &str, now: Option<f64>, settle: &Settle, words: &dyn Wording) -> String {
    let marks = words.marks();
    let percent = |v: f64| format!("{}\u{a0}%", rounding::digits(v * 100.0, 2, marks));
    let down = |v: f64| rounding::digits(floor(v, 2), 2, marks);
    let would = words.label(outcome_key(settle.would_be)).unwrap_or_default();
    let mut remark = Remark::new(&settle.code).with("would", would);
    if let (Some(now), None) = (settle.calibration_now, settle.calibration) {
        remark = remark.with("calibration", percent(now));
    }
    if let (Some(now), Some(to)) = (settle.calibration_now, settle.calibration) {
        let to = format!("{}\u{a0}%", down(to * 100.0));
        remark = remark.with("from", percent(now)).with("to", to);
    } else if let (Some(now), Some(to)) = (now, settle.u_expanded) {
        let (factor, unit) = print_unit(quantity);
        let text = |digits: String| join(&digits, unit);
        remark = remark
            .with("from", text(rounding::digits(now * factor, 2, marks)))
            .with("to", text(down(to * factor)));
    }
    sentence(&remark.code, &remark.args, words)
}

/// A positive number rounded down to significant digits.
fn floor(value: f64, significant: i32) -> f64 {
    if !(value > 0.0 && value.is_finite()) {
        return 0.0;
    }
    let step = 10f64.powi(value.log10().floor() as i32 + 1 - significant);
    (value / step * (1.0 + 1e-12)).floor() * step
}

/// The table of the front; nothing where nothing is stated.
pub fn table(results: &Results, sheet: &Sheet, words: &dyn Wording) -> Option<VerdictTable> {
    if sheet.verdicts.is_empty() {
        return None;
    }
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    // The record's own values come first, then those of its file.
    let typed =
        sheet.record.get("stated").and_then(serde_json::Value::as_array).map_or(0, Vec::len);
    let own = if results.record.stated_file.is_some() { typed } else { usize::MAX };
    let mut rows: Vec<VerdictRow> = gravest(&sheet.verdicts)
        .into_iter()
        .filter_map(|i| sheet.verdicts.get(i).map(|entry| row(results, i < own, i, entry, words)))
        .collect();
    let mut notes = Vec::new();
    if sheet.verdicts.len() > rows.len() {
        notes.push(format!("{} {}", sheet.verdicts.len() - rows.len(), label("verdicts-more")));
    }
    if let Some(origin) = usual(rows.iter().map(|row| row.origin.clone())) {
        let all = rows.iter().all(|row| row.origin == origin);
        let others = if all { String::new() } else { format!(", {}", label("unless-said")) };
        notes.push(format!("{} {origin}{others}.", label("stated-in")));
        let usual = |row: &&mut VerdictRow| row.origin == origin;
        rows.iter_mut().filter(usual).for_each(|row| row.origin.clear());
    }
    let remarks = usual(rows.iter().map(|row| row.remarks.join(" ")));
    if let Some(remarks) = remarks.filter(|all| rows.iter().all(|r| r.remarks.join(" ") == *all)) {
        notes.push(remarks);
        rows.iter_mut().for_each(|row| row.remarks.clear());
    }
    notes.push(rule(sheet, words));
    let keys = ["quantity", "stated-value", "measured", "probability", "e-n", "verdict"];
    Some(VerdictTable { head: keys.map(label).to_vec(), rows, notes })
}

/// Indices of the verdicts that the front shows: all, or the gravest where there are more than fit, in
/// the order of the record.
fn gravest(entries: &[VerdictEntry]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..entries.len()).collect();
    order.sort_by_key(|i| std::cmp::Reverse(entries.get(*i).map(|entry| entry.outcome)));
    order.truncate(ON_FRONT);
    order.sort_unstable();
    order
}

/// What stands in more than half of the rows, and in two at least; not empty.
fn usual(texts: impl Iterator<Item = String>) -> Option<String> {
    let texts: Vec<String> = texts.collect();
    let count = |text: &String| texts.iter().filter(|other| *other == text).count();
    texts
        .iter()
        .find(|text| !text.is_empty() && count(text) > 1 && 2 * count(text) > texts.len())
        .cloned()
}

/// The rule in one sentence.
fn rule(sheet: &Sheet, words: &dyn Wording) -> String {
    let first = sheet.verdicts.first();
    let least = first.map_or(0.0, |entry| entry.min_probability);
    let code = first.map_or_else(String::new, |entry| format!("rule-{}", entry.rule));
    let args = Args::from([
        ("least".to_owned(), Arg::from(least)),
        ("most".to_owned(), Arg::from(1.0 - least)),
    ]);
    sentence(&code, &args, words)
}

fn row(
    results: &Results,
    own: bool,
    index: usize,
    entry: &VerdictEntry,
    words: &dyn Wording,
) -> VerdictRow {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let marks = words.marks();
    let mut remarks: Vec<String> = Vec::new();
    if entry.outcome == Outcome::Undecided {
        // The probability has its column.
        let shown = |code: &str| entry.settle.is_none() || code != "verdict-probability";
        let reasons = entry.reasons.iter().filter(|reason| shown(&reason.code));
        remarks.extend(reasons.map(|reason| reason.text.clone()));
        remarks.extend(entry.settle.iter().map(|settle| settle.text.clone()));
    } else {
        let first = entry.reasons.iter().filter(|reason| reason.code == "verdict-sign-doubted");
        remarks.extend(first.map(|reason| reason.text.clone()));
    }
    VerdictRow {
        quantity: entry.quantity.clone(),
        scan: entry.scan.clone().unwrap_or_default(),
        symbol: entry_of(&entry.quantity).map_or("", |e| e.symbol).to_owned(),
        name: name(entry, words),
        explanation: explanation(&entry.quantity, words),
        stated: stated(results, index, entry, words),
        // What a file states is changed in that file, and does not look as if it could be typed into.
        path: if own { format!("stated[{index}]") } else { String::new() },
        origin: match (&results.record.stated_file, own) {
            (Some(file), false) => {
                let from = label("stated-in-file").replace("{file}", file);
                let said = entry.origin.iter().cloned().chain([from]);
                said.collect::<Vec<_>>().join("; ")
            }
            _ => entry.origin.clone().unwrap_or_default(),
        },
        measured: measured(entry, words).unwrap_or_else(|| label("not-measured")),
        probability: probability(entry, words),
        e_n: entry.e_n.map_or_else(String::new, |e_n| rounding::fixed(e_n, 2, marks)),
        outcome: entry.outcome,
        word: label(outcome_key(entry.outcome)),
        remarks,
    }
}

/// Probability to three places, or empty.
pub fn probability(entry: &VerdictEntry, words: &dyn Wording) -> String {
    let marks = words.marks();
    entry.probability.map_or_else(String::new, |p| match p {
        p if p > 0.999 => format!("> {}", rounding::fixed(0.999, 3, marks)),
        p if p < 0.001 => format!("< {}", rounding::fixed(0.001, 3, marks)),
        p => rounding::fixed(p, 3, marks),
    })
}

/// Name of the quantity.
pub fn name(entry: &VerdictEntry, words: &dyn Wording) -> String {
    words.quantity(&entry.quantity).map_or(entry.quantity.as_str(), |q| q.name).to_owned()
}

/// Key of the word for an outcome.
pub fn outcome_key(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Conforms => "outcome-conforms",
        Outcome::DoesNotConform => "outcome-does-not-conform",
        Outcome::Undecided => "outcome-undecided",
    }
}

/// `(8.30 ± 0.72) MPa`; nothing without a value.
pub fn measured(entry: &VerdictEntry, words: &dyn Wording) -> Option<String> {
    let pair = (entry.measured?, entry.u_expanded.unwrap_or(0.0));
    Some(value_and_unit(&entry.quantity, pair, entry.lower_bound, words))
}

/// `7.8 MPa ± 20 %`, `≤ 5 MPa`, `7.8 MPa, +20 % / −10 %`.
pub fn stated(
    results: &Results,
    index: usize,
    entry: &VerdictEntry,
    words: &dyn Wording,
) -> String {
    let marks = words.marks();
    let (factor, unit) = print_unit(&entry.quantity);
    let value = join(&rounding::shortest(entry.stated * factor, marks), unit);
    let relative = results
        .record
        .stated
        .get(index)
        .and_then(|s| s.tolerance.as_ref())
        .is_some_and(|tolerance| tolerance.relative);
    let offset = |limit: f64| {
        let offset = limit - entry.stated;
        let offset = if relative { offset / entry.stated.abs() * 100.0 } else { offset * factor };
        rounding::shortest(offset.abs(), marks)
    };
    let of = |digits: String| join(&digits, if relative { "%" } else { unit });
    match (entry.low.map(offset), entry.high.map(offset)) {
        (None, None) => value,
        (Some(low), Some(high)) if low == high => format!("{value} ± {}", of(high)),
        (Some(low), Some(high)) => format!("{value} +{} / −{}", of(high), of(low)),
        (None, Some(high)) if high == "0" => format!("≤ {value}"),
        (Some(low), None) if low == "0" => format!("≥ {value}"),
        (None, Some(high)) => format!("{value}, {} +{}", label(words, "at-most"), of(high)),
        (Some(low), None) => format!("{value}, {} −{}", label(words, "at-least"), of(low)),
    }
}

fn label(words: &dyn Wording, key: &str) -> &'static str {
    words.label(key).unwrap_or_default()
}

/// Factor to the printed unit of a quantity, and that unit.
pub fn print_unit(id: &str) -> (f64, &'static str) {
    let unit = entry_of(id).and_then(|c| units::print_unit(c.print_unit));
    unit.map_or((1.0, ""), |u| (u.per_si, u.text))
}

/// Digits with their unit.
pub fn join(digits: &str, unit: &str) -> String {
    if unit.is_empty() { digits.to_owned() } else { format!("{digits}\u{a0}{unit}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_most_rows_say_is_said_once() {
        let of = |texts: &[&str]| usual(texts.iter().map(|text| (*text).to_owned()));
        assert_eq!(of(&["a", "b", "a"]).as_deref(), Some("a"));
        assert_eq!(of(&["a", "a", "", ""]), None);
        assert_eq!(of(&["a"]), None);
        assert_eq!(of(&["", "", "a"]), None);
    }

    /// By hand: what is asked for must suffice as printed.
    #[test]
    fn rounding_down() {
        for (value, expected) in
            [(7.29, 7.2), (0.0799, 0.079), (12.0, 12.0), (0.3, 0.3), (199.0, 190.0)]
        {
            assert!((floor(value, 2) - expected).abs() < 1e-9 * expected, "{value}");
        }
    }
}

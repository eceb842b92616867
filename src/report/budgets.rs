//! The section of uncertainty budgets, and what was assumed for want of a statement.

use super::model::{Block, BudgetRow, BudgetTable};
use super::rounding;
use super::wording::{Wording, measure};
use crate::analysis::{Results, ScanResult};
use crate::base::budget::{Budget, Line};
use crate::base::quantity::{Quantity, TimeBase, entry_of};
use crate::base::units;

/// Quantities whose budgets are printed, besides those with stated values.
const PRINTED: [&str; 5] = ["pc", "pr", "ispta", "width_x_6", "power_on_angular"];
/// Lines that contribute less than this part of the variance are summed up in one.
const SMALL: f64 = 1e-4;

/// Budgets of the main quantities of the main scan and of every quantity with a stated value.
pub fn blocks(results: &Results, words: &dyn Wording) -> Vec<Block> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let tables: Vec<BudgetTable> = printed(results)
        .into_iter()
        .filter_map(|(scan, quantity)| table(scan, quantity, words))
        .collect();
    if tables.is_empty() {
        return Vec::new();
    }
    let mut blocks =
        vec![Block::Paragraph { text: label("budgets-reading") }, Block::Budgets { tables }];
    let assumed = assumptions(results, words);
    if !assumed.is_empty() {
        blocks.push(Block::Paragraph { text: label("assumed") });
        blocks.push(Block::List { items: assumed });
    }
    blocks
}

fn printed(results: &Results) -> Vec<(&ScanResult, &Quantity)> {
    let main = results.scans.iter().find(|scan| scan.role.as_str() == "plane");
    let main = main.or_else(|| results.scans.first());
    let of_main = main.into_iter().flat_map(|scan| {
        let wanted =
            |q: &&Quantity| PRINTED.contains(&q.id) && q.time_base != Some(TimeBase::Exposure);
        scan.quantities.iter().filter(wanted).map(move |q| (scan, q))
    });
    let mut out: Vec<(&ScanResult, &Quantity)> = of_main.collect();
    for stated in &results.record.stated {
        let fits = |scan: &&ScanResult| stated.scan.as_ref().is_none_or(|id| *id == scan.id);
        let found = results.scans.iter().filter(fits).find_map(|scan| {
            let own = scan.quantities.iter().find(|q| q.id == stated.quantity && q.outcome.is_ok());
            Some((scan, own?))
        });
        let new = found.filter(|(scan, quantity)| {
            !out.iter().any(|(s, q)| s.id == scan.id && q.id == quantity.id)
        });
        out.extend(new);
    }
    out
}

fn table(scan: &ScanResult, quantity: &Quantity, words: &dyn Wording) -> Option<BudgetTable> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let budget = quantity.uncertainty.as_deref().ok()?;
    let value = quantity.outcome.as_ref().ok()?;
    let entry = entry_of(quantity.id)?;
    let unit = Unit::of(entry.print_unit);
    let name = words.quantity(quantity.id).map_or(quantity.id, |named| named.name);
    let (large, small): (Vec<&Line>, Vec<&Line>) =
        budget.lines.iter().partition(|line| line.share >= SMALL);
    let mut rows: Vec<BudgetRow> = large.iter().map(|line| row(line, &unit, words)).collect();
    if !small.is_empty() {
        rows.push(rest(&small, &unit, words));
    }
    let pair = rounding::with_uncertainty(
        value * unit.per_si,
        budget.u_expanded * unit.per_si,
        words.marks(),
    );
    let text = format!("({} ± {}){} {}", pair.value, pair.expanded, pair.power, unit.text);
    Some(BudgetTable {
        caption: format!("{name} {} ({}): {}", entry.symbol, scan.id, text.trim_end()),
        head: [
            "uncertainty-source",
            "standard-uncertainty",
            "distribution",
            "sensitivity",
            "contribution",
            "share-of-variance",
            "from",
        ]
        .map(label)
        .to_vec(),
        rows,
        notes: notes(budget, &unit, words),
    })
}

/// A unit as printed.
struct Unit {
    text: &'static str,
    per_si: f64,
}

impl Unit {
    fn of(key: &str) -> Self {
        units::print_unit(key).map_or(Self { text: "", per_si: 1.0 }, |unit| Self {
            text: unit.text,
            per_si: unit.per_si,
        })
    }

    fn set(&self, si: f64, digits: i32, words: &dyn Wording) -> String {
        let number = rounding::digits(si * self.per_si, digits, words.marks());
        format!("{number}\u{a0}{}", self.text).trim_end().to_owned()
    }
}

fn row(line: &Line, value: &Unit, words: &dyn Wording) -> BudgetRow {
    let marks = words.marks();
    let own = entry_unit(&line.unit);
    let u = match line.unit.as_str() {
        "1" => rounding::percent(line.u, marks),
        // Of the value itself: told in the value's unit.
        _ if line.sensitivity.abs() == 1.0 => value.set(line.u, 2, words),
        _ => own.set(line.u, 2, words),
    };
    let sensitivity = match line.unit.as_str() {
        _ if line.sensitivity.abs() == 1.0 => "1".to_owned(),
        // For a change of one percent.
        "1" => format!(
            "{}\u{a0}{}/%",
            number(line.sensitivity * 0.01 * value.per_si, words),
            value.text
        ),
        _ => {
            let slope = line.sensitivity * value.per_si / own.per_si;
            format!("{}\u{a0}{}/{}", number(slope, words), value.text, own.text)
        }
    };
    let nu = line.nu.map_or_else(String::new, |nu| {
        format!(", ν\u{a0}=\u{a0}{}", rounding::digits(nu, 2, marks))
    });
    let word = |key: String| words.label(&key).map(str::to_owned);
    let name = word(format!("source-{}", line.source)).unwrap_or_else(|| line.source.clone());
    let origin =
        word(format!("from-{}", line.from)).unwrap_or_else(|| match line.origin.as_str() {
            "record" => words
                .blank(&line.from)
                .map_or_else(|| word("from-record".to_owned()).unwrap_or_default(), str::to_owned),
            other => other.to_owned(),
        });
    let shape = word(format!("distribution-{}", line.distribution)).unwrap_or_default();
    BudgetRow {
        cells: vec![
            name,
            u,
            format!("{shape}{nu}"),
            sensitivity,
            value.set(line.contribution.abs(), 2, words),
        ],
        share: line.share,
        share_text: share_text(line.share, words),
        from: origin,
    }
}

/// All lines that contribute next to nothing, as one.
fn rest(lines: &[&Line], value: &Unit, words: &dyn Wording) -> BudgetRow {
    let label = |key: &str| words.label(key).unwrap_or_default();
    let names: Vec<&str> = lines
        .iter()
        .map(|line| words.label(&format!("source-{}", line.source)).unwrap_or(&line.source))
        .collect();
    let together = lines.iter().map(|line| line.contribution.powi(2)).sum::<f64>().sqrt();
    let share = lines.iter().map(|line| line.share).sum();
    BudgetRow {
        cells: vec![
            format!("{}: {}", label("small-sources"), names.join(", ")),
            String::new(),
            String::new(),
            String::new(),
            value.set(together, 2, words),
        ],
        share,
        share_text: share_text(share, words),
        from: String::new(),
    }
}

fn entry_unit(unit: &str) -> Unit {
    match unit {
        "m" => Unit { text: "µm", per_si: 1e6 },
        "Pa" => Unit::of("kPa"),
        "rad" => Unit { text: "rad", per_si: 1.0 },
        "W/m2" => Unit::of("W/cm2"),
        other => Unit::of(other),
    }
}

fn number(value: f64, words: &dyn Wording) -> String {
    rounding::digits(value, 2, words.marks())
}

fn share_text(share: f64, words: &dyn Wording) -> String {
    if share < 0.001 {
        return format!("<\u{a0}{}\u{a0}%", rounding::digits(0.1, 1, words.marks()));
    }
    let places = if share < 0.1 { 1 } else { 0 };
    let text = format!("{:.places$}", share * 100.0);
    format!("{}\u{a0}%", text.replace('.', &words.marks().decimal.to_string()))
}

/// How the lines combine, what drawing gives, what is missing.
fn notes(budget: &Budget, unit: &Unit, words: &dyn Wording) -> Vec<String> {
    let marks = words.marks();
    let set = |si: f64| unit.set(si, 2, words);
    let mut args = vec![
        ("u", set(budget.u_standard)),
        ("k", rounding::digits(budget.k, 3, marks)),
        ("coverage", rounding::percent(budget.coverage, marks)),
        ("expanded", set(budget.u_expanded)),
        ("common", set(budget.u_common)),
        ("repeatability", set(budget.u_repeatability)),
    ];
    if let Some(nu) = budget.nu_eff {
        args.push(("nu", rounding::digits(nu, 2, marks)));
    }
    let mut out = vec![words.budget_sum(&args)];
    if let Some(drawn) = &budget.monte_carlo {
        let at = |si: f64| unit.set(si, 4, words);
        let key = if drawn.agrees { "agrees" } else { "departs" };
        out.push(words.budget_drawn(&[
            ("draws", drawn.draws.to_string()),
            ("seed", drawn.seed.to_string()),
            ("mean", at(drawn.mean)),
            ("low", at(drawn.low)),
            ("high", at(drawn.high)),
            (key, String::new()),
        ]));
    }
    if !budget.left_out.is_empty() {
        let names: Vec<String> = budget
            .left_out
            .iter()
            .map(|left| {
                let name = words
                    .label(&format!("source-{}", left.source))
                    .map_or_else(|| left.source.clone(), str::to_owned);
                let why = words.reason(&left.reason).unwrap_or(&left.reason);
                format!("{name} ({why})")
            })
            .collect();
        let not_in = words.label("not-in-budget").unwrap_or_default();
        out.push(format!("{not_in} {}.", names.join(", ")));
    }
    out
}

/// What was taken for want of a statement, each once.
fn assumptions(results: &Results, words: &dyn Wording) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    let budgets = results
        .scans
        .iter()
        .flat_map(|scan| &scan.quantities)
        .filter_map(|quantity| quantity.uncertainty.as_deref().ok());
    for line in budgets.flat_map(|budget| &budget.lines).filter(|line| line.origin == "default") {
        let name = words.label(&format!("source-{}", line.source)).unwrap_or(&line.source);
        let value = match line.unit.as_str() {
            "1" => rounding::percent(line.u, words.marks()),
            "m" => entry_unit("m").set(line.u, 2, words),
            unit => measure(line.u, unit, words.marks()),
        };
        let text = words.assumed_source(name, &value);
        if !out.contains(&text) {
            out.push(text);
        }
    }
    out
}

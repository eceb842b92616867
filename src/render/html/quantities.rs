//! Tables of quantities: values aligned on the decimal mark, reasons in a value's place.

use super::decimal::Column;
use super::escape;
use super::explained::explained;
use super::labels::Labels;
use super::symbol::{rich, symbol};
use crate::report::model::QuantityRow;

/// A part of a source up to this many characters is not broken.
const LONGEST_KEPT: usize = 20;

/// The quantities of one scan.
pub struct Group<'a> {
    pub heading: &'a str,
    pub rows: &'a [QuantityRow],
}

/// Which columns a table has: those in which some row has something to say.
struct Layout {
    values: Column,
    uncertainties: Option<Column>,
    /// Window and method, with the value before corrections where there is one.
    basis: bool,
    uncorrected: bool,
    source: bool,
}

impl Layout {
    fn of(rows: &[&QuantityRow]) -> Self {
        let valued = || rows.iter().filter(|row| row.reason.is_empty());
        let uncertain = valued().any(|row| !row.uncertainty.is_empty());
        Self {
            values: Column::of(valued().map(|row| digits(row))),
            uncertainties: uncertain
                .then(|| Column::of(valued().map(|row| row.uncertainty.as_str()))),
            basis: valued().any(|row| !row.basis.is_empty() || !row.uncorrected.is_empty()),
            uncorrected: true,
            source: rows.iter().any(|row| !row.reference.is_empty()),
        }
    }

    /// The few columns of the front.
    fn of_headline(rows: &[&QuantityRow]) -> Self {
        Self {
            basis: rows.iter().any(|row| !row.basis.is_empty()),
            uncorrected: false,
            source: false,
            ..Self::of(rows)
        }
    }

    /// Columns from the value to the one before the source: the room of a reason.
    fn room_of_reason(&self) -> usize {
        2 + usize::from(self.uncertainties.is_some()) + usize::from(self.basis)
    }

    fn width(&self) -> usize {
        2 + self.room_of_reason() + usize::from(self.source)
    }
}

/// One table of quantities, a body for each scan, the head repeated on every printed page.
pub fn quantities(groups: &[Group<'_>], labels: &Labels) -> String {
    let rows: Vec<&QuantityRow> = groups.iter().flat_map(|group| group.rows).collect();
    if rows.is_empty() {
        return String::new();
    }
    let layout = Layout::of(&rows);
    let bodies: String = groups.iter().map(|group| body(group, &layout, labels)).collect();
    format!(
        "<div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"{}\"><table class=\"quantities\">\n{}{bodies}</table></div>\n",
        escape::text(&labels.quantity.replace('\u{ad}', "")),
        head(&layout, labels)
    )
}

/// The few values of the front: the same columns without uncorrected value and source.
pub fn headline(rows: &[QuantityRow], labels: &Labels) -> String {
    if rows.is_empty() {
        return String::new();
    }
    let layout = Layout::of_headline(&rows.iter().collect::<Vec<_>>());
    let lines: String = rows.iter().map(|quantity| row(quantity, &layout, labels)).collect();
    format!(
        "<table class=\"quantities headline\">\n{}<tbody>\n{lines}</tbody></table>\n",
        head(&layout, labels)
    )
}

fn head(layout: &Layout, labels: &Labels) -> String {
    let column = |class: &str, word: &str| {
        format!("<th scope=\"col\" class=\"{class}\">{}</th>", escape::text(word))
    };
    let mut cells = column("symbol", labels.symbol) + &column("name", labels.quantity);
    cells += &column("num value", labels.value);
    if layout.uncertainties.is_some() {
        cells += "<th scope=\"col\" class=\"num u\"><i>U</i></th>";
    }
    cells += &column("unit", labels.unit);
    if layout.basis {
        cells += &column("basis", labels.basis);
    }
    if layout.source {
        cells += &column("source", labels.source);
    }
    format!("<thead><tr>{cells}</tr></thead>\n")
}

fn body(group: &Group<'_>, layout: &Layout, labels: &Labels) -> String {
    if group.rows.is_empty() {
        return String::new();
    }
    let heading = if group.heading.is_empty() {
        String::new()
    } else {
        format!(
            "<tr class=\"group\"><th scope=\"rowgroup\" colspan=\"{}\">{}</th></tr>\n",
            layout.width(),
            rich(group.heading)
        )
    };
    let rows: String = group.rows.iter().map(|quantity| row(quantity, layout, labels)).collect();
    format!("<tbody>\n{heading}{rows}</tbody>\n")
}

fn row(quantity: &QuantityRow, layout: &Layout, labels: &Labels) -> String {
    let mut cells = format!("<td class=\"symbol\">{}</td>", symbol(&quantity.symbol));
    let name = explained(&quantity.name, &quantity.explanation);
    cells += &format!("<th scope=\"row\" class=\"name\">{name}</th>");
    if quantity.reason.is_empty() {
        cells += &format!("<td class=\"num value\">{}</td>", layout.values.set(digits(quantity)));
        if let Some(column) = layout.uncertainties {
            cells += &format!("<td class=\"num u\">{}</td>", column.set(&quantity.uncertainty));
        }
        cells += &format!("<td class=\"unit\">{}</td>", escape::text(&quantity.unit));
        if layout.basis {
            cells += &format!("<td class=\"basis\">{}</td>", basis(quantity, layout, labels));
        }
    } else {
        cells += &format!(
            "<td class=\"reason\" colspan=\"{}\">{}</td>",
            layout.room_of_reason(),
            rich(&quantity.reason)
        );
    }
    if layout.source {
        cells += &format!("<td class=\"source\">{}</td>", source(&quantity.reference));
    }
    format!(
        "<tr data-quantity=\"{}\" data-scan=\"{}\">{cells}</tr>\n",
        escape::text(&quantity.id),
        escape::text(&quantity.scan)
    )
}

/// The digits of a value, without a unit that repeats the unit column.
fn digits(quantity: &QuantityRow) -> &str {
    let value = quantity.value.trim();
    match value.strip_suffix(quantity.unit.trim()) {
        Some(digits) if !quantity.unit.trim().is_empty() => digits.trim_end(),
        _ => value,
    }
}

/// A source that breaks only after its commas: `IEC 62127-1:2022,` stays on one line.
fn source(reference: &str) -> String {
    let parts = reference.split_inclusive(", ").map(|part| match part.strip_suffix(' ') {
        Some(part) => format!("<span class=\"keep\">{}</span> ", rich(part)),
        None => format!("<span class=\"keep\">{}</span>", rich(part)),
    });
    if reference.split(", ").all(|part| part.chars().count() <= LONGEST_KEPT) {
        parts.collect()
    } else {
        rich(reference)
    }
}

/// Window and method, then the value before corrections: `whole pulse; uncorrected: 6.01 (noise)`.
fn basis(quantity: &QuantityRow, layout: &Layout, labels: &Labels) -> String {
    let mut html = rich(&quantity.basis);
    if layout.uncorrected && !quantity.uncorrected.is_empty() {
        let joint = if html.is_empty() { "" } else { "; " };
        html += &format!(
            "{joint}<span class=\"uncorrected\">{}: {}</span>",
            escape::text(labels.uncorrected),
            rich(&quantity.uncorrected)
        );
    }
    html
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::sample::quantity_row;

    fn set(rows: &[QuantityRow]) -> String {
        quantities(&[Group { heading: "focal plane", rows }], Labels::of("en"))
    }

    #[test]
    fn columns_without_content_are_left_out() {
        let bare = QuantityRow {
            basis: String::new(),
            reference: String::new(),
            uncorrected: String::new(),
            ..quantity_row("pc")
        };
        let html = set(std::slice::from_ref(&bare));
        assert_eq!(html.matches("<th scope=\"col\"").count(), 5);
        assert_eq!(html.matches("<td").count(), 4);
        assert_eq!(html.matches("<th scope=\"row\"").count(), 1);
        let unknown = QuantityRow { uncertainty: String::new(), ..bare.clone() };
        let html = set(&[unknown]);
        assert_eq!(html.matches("<th scope=\"col\"").count(), 4);
        assert!(html.contains("colspan=\"4\">focal plane</th>"));
        let full = QuantityRow {
            basis: "whole pulse".to_owned(),
            reference: "IEC 62127-1".to_owned(),
            ..bare
        };
        let html = set(&[full]);
        assert_eq!(html.matches("<th scope=\"col\"").count(), 7);
        assert!(html.contains("colspan=\"7\">focal plane</th>"));
    }

    #[test]
    fn a_reason_stands_across_the_value_columns() {
        let missing = QuantityRow {
            value: String::new(),
            reason: "not measurable: <no axial scan>".to_owned(),
            ..quantity_row("z_peak")
        };
        let html = set(&[quantity_row("pc"), missing]);
        assert!(html.contains(
            "<td class=\"reason\" colspan=\"4\">not measurable: &lt;no axial scan&gt;</td>"
        ));
    }

    #[test]
    fn a_unit_in_the_value_is_not_printed_twice() {
        let mut row = quantity_row("pc");
        row.value = "6.24 MPa".to_owned();
        row.unit = "MPa".to_owned();
        assert_eq!(digits(&row), "6.24");
        row.unit = String::new();
        assert_eq!(digits(&row), "6.24 MPa");
    }

    #[test]
    fn the_value_before_corrections_stands_with_the_method() {
        let row = quantity_row("pc");
        let html = set(std::slice::from_ref(&row));
        let words = "uncorrected: 6.01 (spatial averaging)";
        assert!(
            html.contains(&format!(
                "steady state; <span class=\"uncorrected\">{words}</span></td>"
            ))
        );
        let alone = QuantityRow { basis: String::new(), ..row.clone() };
        assert!(set(&[alone]).contains("class=\"basis\"><span class=\"uncorrected\">"));
        assert!(!headline(&[row], Labels::of("en")).contains("6.01"));
    }

    #[test]
    fn sources_break_after_commas() {
        assert_eq!(
            source("IEC 62127-1:2022, 3.44"),
            "<span class=\"keep\">IEC 62127-1:2022,</span> <span class=\"keep\">3.44</span>"
        );
        let long = "a source with a long title in one piece";
        assert_eq!(source(long), long);
        assert_eq!(source(""), "");
    }
}

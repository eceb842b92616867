//! Uncertainty budgets: a table each, with the share of the variance as a bar.

use super::escape;
use super::symbol::rich;
use super::table::spoken;
use crate::report::model::{BudgetRow, BudgetTable};

/// One budget with what is to be said of it.
pub fn budget(table: &BudgetTable) -> String {
    let last = table.head.len().saturating_sub(2);
    let head: String = table
        .head
        .iter()
        .enumerate()
        .map(|(i, word)| {
            let class = if (1..last).contains(&i) && i != 2 { " class=\"num\"" } else { "" };
            format!("<th scope=\"col\"{class}>{}</th>", rich(word))
        })
        .collect();
    let rows: String = table.rows.iter().map(row).collect();
    let notes: String = table.notes.iter().map(|note| format!("<p>{}</p>\n", rich(note))).collect();
    format!(
        "<div class=\"budget\"><div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"{}\"><table>\n<caption>{}</caption>\n<thead><tr>{head}</tr></thead>\n<tbody>\n{rows}</tbody></table></div>\n<div class=\"notes\">{notes}</div></div>\n",
        escape::text(&spoken(&table.caption)),
        rich(&table.caption)
    )
}

fn row(row: &BudgetRow) -> String {
    // A name without figures of its own stands across the columns that it leaves empty.
    let empty = row.cells.iter().skip(1).take_while(|cell| cell.is_empty()).count();
    let across = if empty > 0 { format!(" colspan=\"{}\"", empty + 1) } else { String::new() };
    let name =
        format!("<td{across}>{}</td>", row.cells.first().map_or_else(String::new, |c| rich(c)));
    let rest = row.cells.iter().enumerate().skip(1 + empty).map(|(i, cell)| {
        let class = if i == 2 { "" } else { " class=\"num\"" };
        format!("<td{class}>{}</td>", rich(cell))
    });
    let cells: String = std::iter::once(name).chain(rest).collect();
    format!(
        "<tr>{cells}<td class=\"share\">{}<span>{}</span></td><td class=\"from\">{}</td></tr>\n",
        bar(row.share),
        escape::text(&row.share_text),
        rich(&row.from)
    )
}

/// A bar as long as a part of the whole; the number beside it says the same.
fn bar(share: f64) -> String {
    let width = (share.clamp(0.0, 1.0) * 100.0).round();
    format!(
        "<svg class=\"bar\" viewBox=\"0 0 100 10\" preserveAspectRatio=\"none\" aria-hidden=\"true\"><rect class=\"whole\" width=\"100\" height=\"10\"/><rect class=\"part\" width=\"{width}\" height=\"10\"/></svg>"
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_escaped_and_bars_keep_within_their_frame() {
        let table = BudgetTable {
            caption: "p_{c} <b>".to_owned(),
            head: ["a", "b", "c", "d", "e", "f", "g"].map(str::to_owned).to_vec(),
            rows: vec![BudgetRow {
                cells: ["<i>", "1", "normal", "2", "3"].map(str::to_owned).to_vec(),
                share: 1.7,
                share_text: "170 %".to_owned(),
                from: "record & more".to_owned(),
            }],
            notes: vec!["u < 3".to_owned()],
        };
        let html = budget(&table);
        assert!(html.contains("&lt;i&gt;") && html.contains("record &amp; more"));
        assert!(html.contains("<rect class=\"part\" width=\"100\""));
        assert!(html.contains("<caption><i>p</i><sub>c</sub> &lt;b&gt;</caption>"));
        assert_eq!(html.matches("<th ").count(), 7);
        assert_eq!(html.matches("<td").count(), 7);
        let mut summed = table.clone();
        summed.rows[0].cells = ["small: a, b", "", "", "", "3"].map(str::to_owned).to_vec();
        assert!(
            budget(&summed).contains("<td colspan=\"4\">small: a, b</td><td class=\"num\">3</td>")
        );
    }
}

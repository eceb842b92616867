//! Findings: gravity as a word and a shape, colour only in addition.

use super::escape;
use super::symbol::rich;
use super::table::breakable;
use crate::base::finding::Severity;
use crate::report::model::FindingRow;

/// A list of findings in the model's order; `class` is `full` for the section of all findings,
/// `margin` beside what they concern. Empty for none.
pub fn findings(class: &str, rows: &[FindingRow]) -> String {
    if rows.is_empty() {
        return String::new();
    }
    let items: String = rows.iter().map(finding).collect();
    format!("<ul class=\"findings {class}\">\n{items}</ul>\n")
}

fn finding(row: &FindingRow) -> String {
    let place = optional("span", "place", &breakable(&row.place));
    let hint = optional("p", "hint", &rich(&row.hint));
    format!(
        "<li class=\"finding {kind}\" data-code=\"{code}\"><p class=\"gravity\">{mark}\
         <strong>{word}</strong>{place}</p><div class=\"remark\"><p>{text}</p>{hint}</div></li>\n",
        kind = class_of(row.severity),
        code = escape::text(&row.code),
        mark = mark_of(row.severity),
        word = escape::text(&row.word),
        text = rich(&row.text),
    )
}

/// An element around finished HTML; nothing around nothing.
fn optional(tag: &str, class: &str, html: &str) -> String {
    if html.is_empty() { String::new() } else { format!("<{tag} class=\"{class}\">{html}</{tag}>") }
}

fn class_of(severity: Severity) -> &'static str {
    match severity {
        Severity::Note => "note",
        Severity::Caution => "caution",
        Severity::Unfit => "unfit",
    }
}

/// An open ring, a triangle, a crossed square: told apart without colour.
fn mark_of(severity: Severity) -> &'static str {
    match severity {
        Severity::Note => {
            "<svg class=\"mark\" viewBox=\"0 0 12 12\" aria-hidden=\"true\">\
             <circle cx=\"6\" cy=\"6\" r=\"4\" fill=\"none\" stroke=\"currentColor\" stroke-width=\"1.2\"/></svg>"
        }
        Severity::Caution => {
            "<svg class=\"mark\" viewBox=\"0 0 12 12\" aria-hidden=\"true\">\
             <path d=\"M6 1 11.5 11H.5Z\" fill=\"currentColor\"/>\
             <path d=\"M6 4.4v3.2M6 8.7v1.2\" stroke=\"#fff\" stroke-width=\"1.2\"/></svg>"
        }
        Severity::Unfit => {
            "<svg class=\"mark\" viewBox=\"0 0 12 12\" aria-hidden=\"true\">\
             <path d=\"M1 1h10v10H1Z\" fill=\"currentColor\"/>\
             <path d=\"M3.5 3.5l5 5M8.5 3.5l-5 5\" stroke=\"#fff\" stroke-width=\"1.5\"/></svg>"
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(severity: Severity) -> FindingRow {
        FindingRow {
            severity,
            word: "word".to_owned(),
            code: "code".to_owned(),
            place: String::new(),
            text: "<i>".to_owned(),
            hint: String::new(),
        }
    }

    #[test]
    fn every_gravity_has_its_own_shape() {
        let marks = [Severity::Note, Severity::Caution, Severity::Unfit].map(mark_of);
        assert!(marks[0] != marks[1] && marks[1] != marks[2] && marks[0] != marks[2]);
    }

    #[test]
    fn empty_parts_leave_nothing() {
        let html = findings("full", &[row(Severity::Caution)]);
        assert!(!html.contains("hint") && !html.contains("place"));
        assert!(html.contains("<p>&lt;i&gt;</p>"));
        assert_eq!(findings("full", &[]), "");
    }
}

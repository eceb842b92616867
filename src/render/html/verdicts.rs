//! The table of verdicts: each with a word and a shape, never by colour alone.

use super::escape;
use super::explained::explained;
use super::symbol::{rich, symbol};
use super::table::breakable;
use crate::base::verdict::Outcome;
use crate::report::model::{VerdictRow, VerdictTable};

/// Columns before the optional E_n and after it.
const COLUMNS: usize = 5;

/// The table with its notes below.
pub fn verdicts(table: &VerdictTable) -> String {
    if table.rows.is_empty() {
        return String::new();
    }
    let e_n = table.rows.iter().any(|row| !row.e_n.is_empty());
    let classes = ["name", "stated", "measured", "num probability", "num e-n", "verdict"];
    let head: String = classes
        .iter()
        .zip(&table.head)
        .filter(|(class, _)| e_n || **class != "num e-n")
        .map(|(class, word)| format!("<th scope=\"col\" class=\"{class}\">{}</th>", rich(word)))
        .collect();
    let rows: String = table.rows.iter().map(|row| rows_of(row, e_n)).collect();
    let notes: String =
        table.notes.iter().map(|note| format!("<p class=\"note\">{}</p>\n", rich(note))).collect();
    format!(
        "<div class=\"judged\">\n<div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"{label}\"><table class=\"verdicts\">\n<thead><tr>{head}</tr></thead>\n\
         <tbody>\n{rows}</tbody></table></div>\n{notes}</div>\n",
        label = escape::text(table.head.last().map_or("", String::as_str)),
    )
}

/// A row, and below it why it is undecided.
fn rows_of(row: &VerdictRow, e_n: bool) -> String {
    let origin = if row.origin.is_empty() {
        String::new()
    } else {
        format!("<span class=\"origin\">{}</span>", breakable(&row.origin))
    };
    let ratio = if e_n {
        format!("<td class=\"num e-n\">{}</td>", escape::text(&row.e_n))
    } else {
        String::new()
    };
    let outcome = row.outcome.as_str();
    let more = if row.remarks.is_empty() { "" } else { " explained" };
    let mut html = format!(
        "<tr class=\"{outcome}{more}\" data-verdict=\"{outcome}\" data-quantity=\"{id}\" data-scan=\"{scan}\">\
         <th scope=\"row\" class=\"name\"><span class=\"symbol\">{symbol}</span> {name}</th>\
         <td class=\"stated\"><span{path}>{stated}</span>{origin}</td><td class=\"measured\">{measured}</td>\
         <td class=\"num probability\">{probability}</td>{ratio}\
         <td class=\"verdict\">{mark}<strong>{word}</strong></td></tr>\n",
        id = escape::text(&row.quantity),
        scan = escape::text(&row.scan),
        path = if row.path.is_empty() {
            String::new()
        } else {
            format!(" data-path=\"{}\"", escape::text(&row.path))
        },
        symbol = symbol(&row.symbol),
        name = explained(&row.name, &row.explanation),
        stated = rich(&row.stated),
        measured = rich(&row.measured),
        probability = escape::text(&row.probability),
        mark = mark_of(row.outcome),
        word = rich(&row.word),
    );
    if !row.remarks.is_empty() {
        let width = COLUMNS + usize::from(e_n);
        let remarks: Vec<String> = row.remarks.iter().map(|remark| rich(remark)).collect();
        html +=
            &format!("<tr class=\"why\"><td colspan=\"{width}\">{}</td></tr>\n", remarks.join(" "));
    }
    html
}

/// A filled disc, a crossed ring, an open ring.
fn mark_of(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Conforms => {
            "<svg class=\"mark\" viewBox=\"0 0 12 12\" aria-hidden=\"true\">\
             <circle cx=\"6\" cy=\"6\" r=\"5\" fill=\"currentColor\"/></svg>"
        }
        Outcome::DoesNotConform => {
            "<svg class=\"mark\" viewBox=\"0 0 12 12\" aria-hidden=\"true\">\
             <circle cx=\"6\" cy=\"6\" r=\"4.9\" fill=\"none\" stroke=\"currentColor\" stroke-width=\"1.6\"/>\
             <path d=\"M2.7 2.7l6.6 6.6M9.3 2.7l-6.6 6.6\" stroke=\"currentColor\" stroke-width=\"1.6\"/></svg>"
        }
        Outcome::Undecided => {
            "<svg class=\"mark\" viewBox=\"0 0 12 12\" aria-hidden=\"true\">\
             <circle cx=\"6\" cy=\"6\" r=\"4.9\" fill=\"none\" stroke=\"currentColor\" stroke-width=\"1.2\"/></svg>"
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::sample::verdict_table;

    #[test]
    fn every_outcome_has_its_word_and_shape() {
        let table = verdict_table();
        let html = verdicts(&table);
        let shapes: Vec<&str> =
            [Outcome::Conforms, Outcome::Undecided, Outcome::DoesNotConform].map(mark_of).to_vec();
        for (row, shape) in table.rows.iter().zip(&shapes) {
            let cell = format!("{shape}<strong>{}</strong>", row.word);
            assert_eq!(html.matches(&cell).count(), 1, "{}", row.word);
        }
        assert!(shapes[0] != shapes[1] && shapes[1] != shapes[2] && shapes[0] != shapes[2]);
        assert_eq!(html.matches("<tr class=\"why\">").count(), 1);
        assert!(html.contains("<td colspan=\"6\">"));
    }

    #[test]
    fn a_column_without_ratios_is_left_out() {
        let mut table = verdict_table();
        table.rows.iter_mut().for_each(|row| row.e_n.clear());
        let html = verdicts(&table);
        assert_eq!(html.matches("<th scope=\"col\"").count(), 5);
        assert!(html.contains("<td colspan=\"5\">") && !html.contains("e-n"));
        table.rows.clear();
        assert_eq!(verdicts(&table), "");
    }
}

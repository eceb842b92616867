//! Plain tables: the kind of a column follows from what its cells hold.

use super::decimal::{self, Column};
use super::escape;
use super::symbol::rich;
use crate::base::plain_symbols::plain_symbols;

/// Hexadecimal digits of a SHA-256.
const HASH_DIGITS: usize = 64;
/// A word longer than this may be broken anywhere.
const LONG_WORD: usize = 24;

/// What the cells of a column hold.
enum Kind {
    Text,
    Numbers(Column),
    Hashes,
}

/// A table with caption and head; empty parts are left out.
pub fn table(caption: &str, head: &[String], rows: &[Vec<String>]) -> String {
    let width = rows.iter().map(Vec::len).chain([head.len()]).max().unwrap_or_default();
    if width == 0 {
        return String::new();
    }
    let kinds: Vec<Kind> = (0..width).map(|column| kind_of(rows, column)).collect();
    let label = escape::text(&spoken(caption));
    let caption = if caption.is_empty() {
        String::new()
    } else {
        format!("<caption>{}</caption>\n", rich(caption))
    };
    let head = if head.is_empty() {
        String::new()
    } else {
        let cells: String = kinds
            .iter()
            .enumerate()
            .map(|(column, kind)| {
                let class = match kind {
                    Kind::Numbers(_) => " class=\"num\"",
                    Kind::Text | Kind::Hashes => "",
                };
                format!(
                    "<th scope=\"col\"{class}>{}</th>",
                    rich(head.get(column).map_or("", String::as_str))
                )
            })
            .collect();
        format!("<thead><tr>{cells}</tr></thead>\n")
    };
    let body: String = rows
        .iter()
        .map(|row| {
            let cells: String = kinds
                .iter()
                .enumerate()
                .map(|(column, kind)| cell(kind, row.get(column).map_or("", String::as_str)))
                .collect();
            format!("<tr>{cells}</tr>\n")
        })
        .collect();
    let label = if label.is_empty() { String::new() } else { format!(" aria-label=\"{label}\"") };
    format!(
        "<div class=\"scroll\" tabindex=\"0\" role=\"group\"{label}><table>\n{caption}{head}<tbody>\n{body}</tbody></table></div>\n"
    )
}

/// A caption as a name of its table: no markup of symbols, no soft hyphens.
pub fn spoken(caption: &str) -> String {
    plain_symbols(caption).replace('\u{ad}', "")
}

fn cell(kind: &Kind, text: &str) -> String {
    match kind {
        Kind::Numbers(column) if decimal::is_number(text) => {
            format!("<td class=\"num\">{}</td>", column.set(text))
        }
        Kind::Numbers(_) => format!("<td class=\"num\">{}</td>", escape::text(text)),
        Kind::Hashes if is_hash(text) => {
            format!("<td class=\"hash\"><code>{}</code></td>", hash(text))
        }
        Kind::Text | Kind::Hashes => {
            let long = if text.split_whitespace().any(is_long) { " class=\"long\"" } else { "" };
            format!("<td{long}>{}</td>", breakable(text))
        }
    }
}

fn kind_of(rows: &[Vec<String>], column: usize) -> Kind {
    let cells: Vec<&str> =
        rows.iter().filter_map(|row| row.get(column)).map(|cell| cell.trim()).collect();
    let numbers: Vec<&str> =
        cells.iter().copied().filter(|cell| decimal::is_number(cell)).collect();
    let others =
        cells.iter().filter(|cell| !matches!(**cell, "" | "–" | "—")).count() - numbers.len();
    if cells.iter().any(|cell| is_hash(cell)) {
        Kind::Hashes
    } else if !numbers.is_empty() && others == 0 {
        Kind::Numbers(Column::of(numbers))
    } else {
        Kind::Text
    }
}

fn is_hash(text: &str) -> bool {
    text.len() == HASH_DIGITS && text.bytes().all(|byte| byte.is_ascii_hexdigit())
}

/// A hash that may be broken after every eighth digit.
fn hash(text: &str) -> String {
    let digits: Vec<char> = text.chars().collect();
    let groups: Vec<String> =
        digits.chunks(8).map(|group| escape::text(&group.iter().collect::<String>())).collect();
    groups.join("<wbr>")
}

fn is_long(word: &str) -> bool {
    word.chars().count() > LONG_WORD
}

/// Text with symbols in which long words (file names, mostly) may be broken after their joints.
pub fn breakable(text: &str) -> String {
    if !text.split_whitespace().any(is_long) {
        return rich(text);
    }
    let mut html = String::with_capacity(text.len() + 32);
    for piece in text.split_inclusive(char::is_whitespace) {
        if is_long(piece.trim_end()) {
            let joints: Vec<String> =
                piece.split_inclusive(['_', '-', '.', '/', '\\']).map(escape::text).collect();
            html.push_str(&joints.join("<wbr>"));
        } else {
            html.push_str(&rich(piece));
        }
    }
    html
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(cells: &[&[&str]]) -> Vec<Vec<String>> {
        cells.iter().map(|row| row.iter().map(|cell| (*cell).to_owned()).collect()).collect()
    }

    #[test]
    fn columns_of_numbers_are_aligned_and_others_are_not() {
        let html = table(
            "",
            &["name".to_owned(), "value".to_owned(), "date".to_owned()],
            &rows(&[
                &["a_{b}", "1.5", "2026-05-04"],
                &["c", "–", "2026-05-05"],
                &["d", "12.25", ""],
            ]),
        );
        assert_eq!(html.matches("class=\"number\"").count(), 2);
        assert!(html.contains("<td class=\"num\">–</td>"));
        assert!(html.contains("<td>2026-05-04</td>"));
        assert!(html.contains("<td><i>a</i><sub>b</sub></td>"));
        assert!(!html.contains("caption"));
    }

    #[test]
    fn ragged_rows_are_filled() {
        let html = table("c", &["one".to_owned()], &rows(&[&["1", "2"], &[]]));
        assert_eq!(html.matches("<th ").count(), 2);
        assert_eq!(html.matches("<td").count(), 4);
        assert_eq!(table("c", &[], &[]), "");
    }

    /// FIPS 180-4: a SHA-256 digest has 256 bits, so 64 hexadecimal digits.
    #[test]
    fn hashes_break_in_groups_of_eight() {
        let digest = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";
        let html = table("", &[], &rows(&[&["x.h5", digest], &["y.h5", "still being computed"]]));
        assert_eq!(html.matches("<wbr>").count(), 7);
        assert_eq!(html.matches("<td class=\"hash\">").count(), 1);
        assert!(!is_hash(&digest[1..]) && !is_hash(&digest.replace('e', "g")));
    }

    #[test]
    fn long_names_break_at_their_joints() {
        assert_eq!(
            breakable("in focal_plane_head_0042_repeat-03.h5 p_{c}"),
            "in focal_<wbr>plane_<wbr>head_<wbr>0042_<wbr>repeat-<wbr>03.<wbr>h5 <i>p</i><sub>c</sub>"
        );
        assert_eq!(breakable("short_name.h5"), "short_name.h5");
    }
}

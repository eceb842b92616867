//! Text of figures: cleaning, `_{}` markup, and widths from a built-in table.
//!
//! Widths come from a table, never from the screen, so that page, worker and command line lay out
//! the same figure. The table is that of Helvetica; layout allows for faces that run wider.

/// Faces that stand in for the system sans run wider than the table, by up to this factor and, for
/// narrow letters, this much of the size a letter more.
const WIDEST_FACE: f64 = 1.15;
const WIDEST_LETTER: f64 = 0.02;

/// Size of a subscript against its line.
pub const SUBSCRIPT_SIZE: f64 = 0.72;
/// How far a subscript hangs below the baseline, in line sizes.
pub const SUBSCRIPT_DROP: f64 = 0.2;
/// Longest text that is set; the rest becomes an ellipsis.
const LONGEST: usize = 120;

/// A stretch of text in one face.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    pub text: String,
    pub italic: bool,
    pub subscript: bool,
}

/// Text without characters that XML forbids or that turn the writing direction, without line
/// breaks, and no longer than a label can be.
pub fn clean(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for (count, c) in text.chars().filter_map(printable).enumerate() {
        if count == LONGEST {
            out.push('…');
            break;
        }
        out.push(c);
    }
    out
}

/// The character as it may stand in XML; white space becomes a space, the rest of the controls
/// vanishes.
pub fn printable(c: char) -> Option<char> {
    match c {
        '\t' | '\n' | '\r' => Some(' '),
        c if c.is_control() => None,
        '\u{2028}' | '\u{2029}' => Some(' '),
        '\u{200B}'
        | '\u{200E}'
        | '\u{200F}'
        | '\u{202A}'..='\u{202E}'
        | '\u{2060}'..='\u{206F}' => None,
        '\u{FEFF}' | '\u{FFF9}'..='\u{FFFB}' => None,
        c if (c as u32) & 0xFFFE == 0xFFFE => None,
        c => Some(c),
    }
}

/// Splits marked-up text into runs: in `p_{c}` the symbol is italic, the subscript upright, as
/// ISO 80000-1 sets them. A mark that isn't closed stands as typed.
pub fn runs(text: &str) -> Vec<Run> {
    let mut out = Vec::new();
    let mut rest = text;
    while let Some((before, sub, after)) = next_subscript(rest) {
        let symbol = before
            .char_indices()
            .rev()
            .take_while(|(_, c)| c.is_alphabetic())
            .last()
            .map_or(before.len(), |(at, _)| at);
        push(&mut out, &before[..symbol], false, false);
        push(&mut out, &before[symbol..], true, false);
        push(&mut out, sub, false, true);
        rest = after;
    }
    push(&mut out, rest, false, false);
    out
}

fn next_subscript(text: &str) -> Option<(&str, &str, &str)> {
    let open = text.find("_{")?;
    let inside = &text[open + 2..];
    let close = inside.find('}')?;
    Some((&text[..open], &inside[..close], &inside[close + 1..]))
}

fn push(out: &mut Vec<Run>, text: &str, italic: bool, subscript: bool) {
    if !text.is_empty() {
        out.push(Run { text: text.to_owned(), italic, subscript });
    }
}

/// Width that a label needs, with allowance for wide faces.
///
/// # Units
/// That of `size`.
pub fn runs_width(runs: &[Run], size: f64) -> f64 {
    runs.iter()
        .map(|run| {
            let size = if run.subscript { size * SUBSCRIPT_SIZE } else { size };
            plain_width(&run.text, size) * WIDEST_FACE
                + run.text.chars().count() as f64 * size * WIDEST_LETTER
        })
        .sum()
}

/// Width of plain text by the table, without allowance.
///
/// # Units
/// That of `size`.
pub fn plain_width(text: &str, size: f64) -> f64 {
    text.chars().map(|c| f64::from(advance(c))).sum::<f64>() * size / 1000.0
}

/// Advance widths of U+0020 to U+007E in thousandths of the size.
///
/// # References
/// Adobe Core 14 font metrics, Helvetica (value from memory).
const ASCII: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278,
    278, // space to /
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, // 0 to ?
    1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778, // @ to O
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556, // P to _
    333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, // ` to o
    556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584, // p to ~
];

fn advance(c: char) -> u16 {
    match c {
        ' '..='~' => ASCII.get(c as usize - 0x20).copied().unwrap_or(556),
        // As in the widest faces: 584 in Helvetica, up to 840 elsewhere.
        '−' | '±' | '×' | '÷' | '≈' | '≤' | '≥' | '≠' => 710,
        'µ' | 'μ' => 576,
        '\u{00A0}' | '·' => 278,
        '\u{2009}' | '\u{202F}' => 200,
        '°' => 400,
        '¹' | '²' | '³' | '⁰' | '⁴'..='⁹' | '⁻' => 340,
        '–' | 'π' => 556,
        '—' | '…' | '‰' => 1000,
        'Ä' | 'Å' => 667,
        'Ö' => 778,
        'Ü' | 'Ω' => 750,
        '\u{0300}'..='\u{036F}' => 0,
        c if (c as u32) < 0x0250 => 600,
        c if (c as u32) < 0x2E80 => 700,
        _ => 1000,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn run(text: &str, italic: bool, subscript: bool) -> Run {
        Run { text: text.to_owned(), italic, subscript }
    }

    // ISO 80000-1:2022, 7.1: symbols italic, descriptive subscripts upright.
    #[test]
    fn a_symbol_is_italic_and_its_subscript_upright() {
        assert_eq!(
            runs("peak p_{c} at f_{awf}"),
            vec![
                run("peak ", false, false),
                run("p", true, false),
                run("c", false, true),
                run(" at ", false, false),
                run("f", true, false),
                run("awf", false, true),
            ]
        );
        assert_eq!(runs("x_{} / mm"), vec![run("x", true, false), run(" / mm", false, false)]);
        assert_eq!(runs("time"), vec![run("time", false, false)]);
    }

    #[test]
    fn an_open_mark_stands_as_typed() {
        assert_eq!(runs("p_{c"), vec![run("p_{c", false, false)]);
        assert_eq!(runs(""), vec![]);
        assert_eq!(runs("_{}"), vec![]);
    }

    #[test]
    fn control_and_direction_characters_vanish() {
        assert_eq!(clean("a\u{0}\u{8}\u{1b}b\u{202E}c\u{FFFF}\nd"), "abc d");
        assert_eq!(clean(&"x".repeat(1000)).chars().count(), 121);
    }

    // Adobe Helvetica metrics (value from memory): digits 556, micro 576, s 500.
    #[test]
    fn widths_follow_the_table() {
        assert!((plain_width("0123456789", 10.0) - 55.6).abs() < 1e-9);
        assert!(plain_width("−", 10.0) > plain_width("-", 10.0));
        assert!((plain_width("µs", 1000.0) - 1076.0).abs() < 1e-9);
    }
}

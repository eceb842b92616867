//! Symbols: italic letters with upright subscripts, from the model's `p_{c}`.

use super::escape;
use super::spacing::keep_together;

/// Longest base and subscript that running text is searched for.
const LONGEST_BASE: usize = 3;
const LONGEST_SUBSCRIPT: usize = 16;

/// A symbol alone: `p_{c}` becomes `<i>p</i><sub>c</sub>`. A base of several letters is an
/// abbreviation (`SNR`) and stays upright.
///
/// # References
/// ISO 80000-1:2009, section 7.1: quantity symbols are single letters in italic type; a descriptive
/// subscript is upright. Upright abbreviations: common practice, no source.
pub fn symbol(raw: &str) -> String {
    match raw
        .split_once("_{")
        .and_then(|(base, rest)| rest.split_once('}').map(|(sub, end)| (base, sub, end)))
    {
        Some((base, sub, end)) => {
            format!("{}<sub>{}</sub>{}", letters(base), escape::text(sub), escape::text(end))
        }
        None => letters(raw),
    }
}

/// Running text, escaped, with the symbols in it set as symbols and numbers kept with their units.
///
/// A symbol here is one to three letters directly before `_{…}`, not preceded by another letter,
/// digit or underscore: `scan_{1}.h5` stays as it is.
pub fn rich(raw: &str) -> String {
    let mut html = String::with_capacity(raw.len() + 16);
    let spaced = keep_together(raw);
    let mut rest = spaced.as_str();
    while let Some((before, base, sub, after)) = next_symbol(rest) {
        html.push_str(&escape::text(before));
        html.push_str(&letters(base));
        html.push_str(&format!("<sub>{}</sub>", escape::text(sub)));
        rest = after;
    }
    html.push_str(&escape::text(rest));
    html
}

/// Marks after a letter: p′.
const PRIMES: [char; 2] = ['\'', '\u{2032}'];

fn letters(base: &str) -> String {
    let letter = base.trim_end_matches(PRIMES);
    if letter.chars().count() == 1 {
        let primes = "\u{2032}".repeat(base.chars().count() - 1);
        format!("<i>{}</i>{primes}", escape::text(letter))
    } else {
        escape::text(base)
    }
}

/// The first symbol of a text: what stands before it, base, subscript, what stands after it.
fn next_symbol(text: &str) -> Option<(&str, &str, &str, &str)> {
    let mut from = 0;
    while let Some(found) = text[from..].find("_{") {
        let mark = from + found;
        from = mark + 2;
        let after_mark = &text[from..];
        let Some(end) = after_mark.find(['{', '}']) else { continue };
        let sub = &after_mark[..end];
        let closed = after_mark[end..].starts_with('}');
        let start = text[..mark]
            .char_indices()
            .rev()
            .take_while(|(_, character)| character.is_alphabetic() || PRIMES.contains(character))
            .last()
            .map_or(mark, |(index, _)| index);
        let base = &text[start..mark];
        let joined =
            text[..start].ends_with(|before: char| before.is_alphanumeric() || before == '_');
        let fits = (1..=LONGEST_BASE).contains(&base.chars().count())
            && (1..=LONGEST_SUBSCRIPT).contains(&sub.chars().count());
        if closed && fits && !joined {
            return Some((&text[..start], base, sub, &after_mark[end + 1..]));
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::quantity::CATALOGUE;

    /// ISO 80000-1:2009, 7.1.
    #[test]
    fn a_prime_belongs_to_its_letter() {
        let set = "<i>p</i>\u{2032}<sub>n</sub>";
        assert_eq!(symbol("p'_{n}"), set);
        assert_eq!(rich("of p'_{n} here"), format!("of {set} here"));
        assert_eq!(rich("it's_{x}"), "it&#39;s_{x}");
    }

    #[test]
    fn italic_letter_upright_subscript() {
        assert_eq!(symbol("p_{c}"), "<i>p</i><sub>c</sub>");
        assert_eq!(symbol("σ_{q}"), "<i>σ</i><sub>q</sub>");
        assert_eq!(symbol("k"), "<i>k</i>");
        assert_eq!(symbol("SNR"), "SNR");
        assert_eq!(symbol("w_{x,6}"), "<i>w</i><sub>x,6</sub>");
    }

    #[test]
    fn hostile_symbols_are_escaped() {
        assert_eq!(symbol("<_{<}<"), "<i>&lt;</i><sub>&lt;</sub>&lt;");
        assert_eq!(symbol("p_{c"), "p_{c");
        assert_eq!(symbol(""), "");
    }

    #[test]
    fn every_catalogued_symbol_loses_its_braces() {
        for entry in CATALOGUE {
            let html = symbol(entry.symbol);
            assert!(!html.contains(['{', '}']), "{}", entry.id);
            assert!(!html.is_empty(), "{}", entry.id);
        }
    }

    #[test]
    fn symbols_in_running_text() {
        assert_eq!(
            rich("p_{c} and h_{2} <b> of (p_{r})"),
            "<i>p</i><sub>c</sub> and <i>h</i><sub>2</sub> &lt;b&gt; of (<i>p</i><sub>r</sub>)"
        );
        assert_eq!(rich("µ_{a}"), "<i>µ</i><sub>a</sub>");
        for plain in
            ["scan_{1}.h5", "a_{", "_{x}", "p_{}", "ab1x_{c}", "x_y_{z}", "a_{b{c}}d", "{p_c}"]
        {
            assert_eq!(rich(plain), plain);
        }
        assert_eq!(rich("a_{ p_{c}"), "a_{ <i>p</i><sub>c</sub>");
    }
}

//! Uncertainties as typed: `12 % (k = 2)`, `U = 0.3 MPa`, `5 % standard`.

use super::number::number;
use super::tolerance::{Owner, Wrong, in_unit};
use crate::record::{Uncertainty, UncertaintyKind};

/// Why an uncertainty was not understood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WrongUncertainty {
    /// Neither the cell nor the heading says what it is.
    NoKind,
    Number(Wrong),
    /// A coverage factor that is no number.
    CoverageFactor,
}

/// An uncertainty; `beside` is what heading and neighbouring cells say of it. `None` for an empty
/// cell.
///
/// # Errors
/// What is wrong with it.
pub fn uncertainty(
    text: &str,
    beside: &str,
    owner: Owner<'_>,
) -> Result<Option<Uncertainty>, WrongUncertainty> {
    let text = text.trim();
    if text.is_empty() || matches!(text, "-" | "–" | "—") {
        return Ok(None);
    }
    let (text, k) = without_k(text)?;
    let (beside, k_beside) = without_k(beside)?;
    let k = k.or(k_beside);
    // What is no number says nothing of its kind either.
    let digits = bare_number(&text);
    let (value, unit) =
        number(&digits).map_err(|fault| WrongUncertainty::Number(Wrong::Number(fault)))?;
    let kind = kind_of(&text)
        .or_else(|| kind_of(&beside))
        .or(k.map(|_| UncertaintyKind::Expanded))
        .ok_or(WrongUncertainty::NoKind)?;
    let (value, relative) = in_unit(value, unit, owner).map_err(WrongUncertainty::Number)?;
    Ok(Some(Uncertainty { value, kind, k, relative }))
}

/// The text without its coverage factor, and that factor.
fn without_k(text: &str) -> Result<(String, Option<f64>), WrongUncertainty> {
    let Some((before, after)) = split_at_k(text) else { return Ok((text.to_owned(), None)) };
    let (k, rest) = number(after).map_err(|_| WrongUncertainty::CoverageFactor)?;
    Ok((format!("{before} {rest}"), Some(k)))
}

/// What stands before `k =` and after it; the k is a word of its own.
fn split_at_k(text: &str) -> Option<(&str, &str)> {
    let at = text.char_indices().find_map(|(at, c)| {
        let own = c == 'k' && !text[..at].ends_with(char::is_alphanumeric);
        let rest = text[at + c.len_utf8()..].trim_start();
        (own && rest.starts_with('=')).then_some(at)
    })?;
    Some((&text[..at], text[at + 1..].trim_start().trim_start_matches('=')))
}

fn kind_of(text: &str) -> Option<UncertaintyKind> {
    let lower = text.to_lowercase();
    let word = |wanted: &str| text.split(|c: char| !c.is_alphabetic()).any(|word| word == wanted);
    if lower.contains("half-width") || lower.contains("half width") {
        Some(UncertaintyKind::HalfWidth)
    } else if lower.contains("expanded") || word("U") {
        Some(UncertaintyKind::Expanded)
    } else if lower.contains("standard") || word("u") {
        Some(UncertaintyKind::Standard)
    } else {
        None
    }
}

/// Number and unit alone.
fn bare_number(text: &str) -> String {
    let mut out = text.replace(['(', ')', ',', ';'], " ");
    // A decimal comma is not a comma between words.
    if let Some(at) = text.find(',')
        && text[..at].ends_with(|c: char| c.is_ascii_digit())
        && text[at + 1..].starts_with(|c: char| c.is_ascii_digit())
    {
        out = text.replace(['(', ')', ';'], " ");
    }
    let dropped = |word: &&str| {
        let plain = word.trim_matches(['±', '=']).to_lowercase();
        !matches!(
            plain.as_str(),
            "" | "u"
                | "expanded"
                | "standard"
                | "half-width"
                | "half"
                | "width"
                | "uncertainty"
                | "k"
        )
    };
    let kept: Vec<&str> = out.split_whitespace().filter(dropped).collect();
    kept.join(" ").trim_start_matches(['±', '=', ' ']).to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::stated_table::number::Fault;

    const PRESSURE: Owner<'_> = Owner { si: "Pa", unit: "MPa", heading: None };

    /// By reading.
    #[test]
    fn forms() {
        let read = |text: &str, beside: &str| {
            let found = uncertainty(text, beside, PRESSURE).unwrap().unwrap();
            (found.value, found.kind, found.k, found.relative)
        };
        let (expanded, standard) = (UncertaintyKind::Expanded, UncertaintyKind::Standard);
        assert_eq!(read("12 % (k=2)", ""), (0.12, expanded, Some(2.0), true));
        assert_eq!(read("12 %, k = 2", ""), (0.12, expanded, Some(2.0), true));
        assert_eq!(read("U = 0.3 MPa", ""), (0.3, expanded, None, false));
        assert_eq!(read("U = 300 kPa; k=3", ""), (0.3, expanded, Some(3.0), false));
        assert_eq!(read("5 % standard", ""), (0.05, standard, None, true));
        assert_eq!(read("u = 5,5 %", ""), (0.055, standard, None, true));
        assert_eq!(read("±10 %", "half-width"), (0.1, UncertaintyKind::HalfWidth, None, true));
        assert_eq!(read("10 %", "expanded k=2"), (0.1, expanded, Some(2.0), true));
        assert_eq!(uncertainty("", "expanded", PRESSURE), Ok(None));
    }

    #[test]
    fn one_that_does_not_say_what_it_is_is_refused() {
        assert_eq!(uncertainty("10 %", "", PRESSURE), Err(WrongUncertainty::NoKind));
        assert_eq!(uncertainty("10 % k=two", "", PRESSURE), Err(WrongUncertainty::CoverageFactor));
        for text in ["unknown", "about ten percent", "expanded", "± (k=2)"] {
            let no_number = WrongUncertainty::Number(Wrong::Number(Fault::NotANumber));
            assert_eq!(uncertainty(text, "", PRESSURE), Err(no_number), "{text}");
        }
        assert_eq!(
            uncertainty("0.3 standard", "", PRESSURE),
            Err(WrongUncertainty::Number(Wrong::NoUnit))
        );
    }
}

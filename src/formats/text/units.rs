//! Signs of units, as far as they must be told from words.

/// Prefixes of the SI (The International System of Units, 9th edition, table 7) that occur here.
const PREFIXES: [&str; 13] = ["", "f", "p", "n", "µ", "μ", "u", "m", "c", "d", "k", "M", "G"];
/// Signs that take prefixes.
const STEMS: [&str; 17] =
    ["s", "m", "V", "A", "W", "Hz", "Pa", "K", "g", "J", "N", "Ω", "Ohm", "ohm", "rad", "S", "bar"];
/// Signs that stand as they are.
const WHOLE: [&str; 24] = [
    "%", "°", "°C", "degC", "deg", "dB", "dBV", "counts", "count", "cts", "a.u.", "arb", "arb.",
    "sec", "usec", "msec", "volt", "volts", "Volt", "Volts", "samples", "Sa", "pts", "psi",
];

/// Whether a text is the sign of a unit: `mm`, `µs`, `mV/MPa`, `W/cm²`, `°C`. Letters count as they
/// are written: `v` and `t` are no units.
pub fn is_unit(text: &str) -> bool {
    !text.is_empty() && text.split(['/', '·', '*']).all(is_simple)
}

fn is_simple(text: &str) -> bool {
    let text = text.trim_end_matches(['²', '³']).trim_end_matches("^2").trim_end_matches("^3");
    let text = text.strip_suffix('2').unwrap_or(text);
    WHOLE.contains(&text)
        || PREFIXES
            .iter()
            .any(|prefix| text.strip_prefix(prefix).is_some_and(|stem| STEMS.contains(&stem)))
}

/// Strips the brackets of `(mm)` and `[mm]`.
pub fn unbracketed(cell: &str) -> Option<&str> {
    cell.strip_prefix('(')
        .and_then(|c| c.strip_suffix(')'))
        .or_else(|| cell.strip_prefix('[').and_then(|c| c.strip_suffix(']')))
        .map(str::trim)
}

/// The unit that a cell of a row of units names: `Some("")` for an empty cell, `-` or `1`; `None` if
/// the cell is no unit.
pub fn unit_cell(cell: &str) -> Option<&str> {
    if let Some(inner) = unbracketed(cell) {
        return inner.parse::<f64>().is_err().then_some(inner);
    }
    match cell {
        "" | "-" => Some(""),
        _ => is_unit(cell).then_some(cell),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_and_words() {
        for unit in ["mm", "µs", "us", "V", "mV/MPa", "W/cm²", "mW/cm2", "°C", "dB", "kHz", "MPa"]
        {
            assert!(is_unit(unit), "{unit}");
        }
        for word in ["", "t", "v", "x", "time", "Operator", "waveforms", "512", "/", "2"] {
            assert!(!is_unit(word), "{word}");
        }
        assert_eq!(unit_cell("(any thing)"), Some("any thing"));
        assert_eq!(unit_cell("[0]"), None);
        assert_eq!(unit_cell("-"), Some(""));
    }
}

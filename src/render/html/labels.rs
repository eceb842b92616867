//! The few words that the frame of a sheet needs beside the model's own: column heads, page numbers.

/// Words of one language.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Labels {
    pub symbol: &'static str,
    pub quantity: &'static str,
    pub value: &'static str,
    pub unit: &'static str,
    pub uncorrected: &'static str,
    pub basis: &'static str,
    pub source: &'static str,
    pub not_measured: &'static str,
    pub figure_missing: &'static str,
    pub page: &'static str,
    pub page_of: &'static str,
}

const ENGLISH: Labels = Labels {
    symbol: "Symbol",
    quantity: "Quantity",
    value: "Value",
    unit: "Unit",
    uncorrected: "uncorrected",
    basis: "Window and method",
    source: "Source",
    not_measured: "Not measured",
    figure_missing: "This figure could not be drawn.",
    page: "Page",
    page_of: "of",
};

const GERMAN: Labels = Labels {
    symbol: "Zeichen",
    quantity: "Größe",
    value: "Wert",
    unit: "Einheit",
    uncorrected: "un\u{ad}korrigiert",
    basis: "Fenster und Verfahren",
    source: "Quelle",
    not_measured: "Nicht gemessen",
    figure_missing: "Diese Abbildung konnte nicht gezeichnet werden.",
    page: "Seite",
    page_of: "von",
};

impl Labels {
    /// The words of a language tag (`de`, `de-AT`); English for every other.
    pub fn of(language: &str) -> &'static Self {
        match language.split('-').next() {
            Some("de") => &GERMAN,
            _ => &ENGLISH,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn languages() {
        assert_eq!(Labels::of("de").page, "Seite");
        assert_eq!(Labels::of("de-AT").page, "Seite");
        assert_eq!(Labels::of("en").page, "Page");
        assert_eq!(Labels::of("").page, "Page");
        assert_eq!(Labels::of("den").page, "Page");
    }
}

//! Names with an explanation for those who ask: shown by the style alone, on hovering, on focus by key
//! or touch; never printed.

use super::escape;
use super::symbol::rich;

/// A name that explains itself; bare where there is no explanation.
pub fn explained(name: &str, explanation: &str) -> String {
    if explanation.is_empty() {
        return rich(name);
    }
    format!(
        "<dfn class=\"asks\" tabindex=\"0\" aria-description=\"{}\">{}</dfn>",
        escape::text(explanation),
        rich(name)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    // ARIA 1.3, aria-description: a text, escaped as HTML asks of attributes.
    #[test]
    fn the_explanation_is_a_description_and_no_text() {
        assert_eq!(
            explained("p_{c} <at> peak", "largest \"p\" <in> time"),
            "<dfn class=\"asks\" tabindex=\"0\" aria-description=\"largest &quot;p&quot; &lt;in&gt; time\">\
             <i>p</i><sub>c</sub> &lt;at&gt; peak</dfn>"
        );
        assert_eq!(explained("name", ""), "name");
    }
}

//! Figures with their captions, in rows of one width.

use std::collections::BTreeMap;

use super::escape;
use super::labels::Labels;
use super::symbol::rich;
use crate::report::model::Figure;

/// How many of so many figures stand side by side.
pub fn across(count: usize) -> usize {
    match count {
        0 | 1 => 1,
        2 | 4 => 2,
        _ => 3,
    }
}

/// A row of figures, all of one width: up to three side by side, four as two and two.
///
/// `drawn` holds the finished SVG of each figure id (trusted). A figure that was not drawn gives a
/// short line in its place.
pub fn row(figures: &[Figure], drawn: &BTreeMap<String, String>, labels: &Labels) -> String {
    if figures.is_empty() {
        return String::new();
    }
    let across = across(figures.len());
    let parts: String = figures.iter().map(|one| figure(one, across == 1, drawn, labels)).collect();
    format!("<div class=\"figures across-{across}\">\n{parts}</div>\n")
}

/// A `wide` one is moved sideways on narrow screens, so a key must reach it.
fn figure(
    figure: &Figure,
    wide: bool,
    drawn: &BTreeMap<String, String>,
    labels: &Labels,
) -> String {
    let reached = if wide { " tabindex=\"0\"" } else { "" };
    let id = escape::text(&figure.id);
    let body =
        match drawn.get(&figure.id).and_then(|svg| svg.find("<svg").map(|start| &svg[start..])) {
            Some(svg) => format!(
                "<div class=\"drawing\"{reached} role=\"img\" aria-label=\"{}\">{}</div>",
                escape::text(&figure.alt),
                svg.trim_end()
            ),
            None => format!("<p class=\"missing\">{}</p>", escape::text(labels.figure_missing)),
        };
    format!(
        "<figure id=\"figure-{id}\" data-figure=\"{id}\">{body}<figcaption>{}</figcaption></figure>\n",
        rich(&figure.caption)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::sample;

    fn figures(count: usize) -> Vec<Figure> {
        (0..count).map(|index| sample::figure(&format!("f{index}"))).collect()
    }

    #[test]
    fn a_figure_that_was_not_drawn_says_so() {
        let drawn = BTreeMap::from([(
            "f0".to_owned(),
            "<?xml version=\"1.0\"?>\n<svg></svg>\n".to_owned(),
        )]);
        let html = row(&figures(2), &drawn, Labels::of("en"));
        assert!(html.contains("><svg></svg></div>"), "{html}");
        assert!(!html.contains("<?xml"));
        assert_eq!(html.matches("This figure could not be drawn.").count(), 1);
    }

    #[test]
    fn rows_have_one_to_three_figures() {
        let across = |count| {
            let html = row(&figures(count), &BTreeMap::new(), Labels::of("en"));
            html.split("across-").nth(1).and_then(|rest| rest.chars().next())
        };
        assert_eq!(
            [1, 2, 3, 4, 5, 6].map(across),
            [Some('1'), Some('2'), Some('3'), Some('2'), Some('3'), Some('3')]
        );
        assert_eq!(row(&[], &BTreeMap::new(), Labels::of("en")), "");
    }
}

//! Running head, foot and page numbers of the printed sheet, in the margin boxes of `@page`.

use super::escape::css_string;
use super::labels::Labels;
use crate::report::model::SheetModel;

/// The style text for a `<style>` element: running head at the top left from the second page on,
/// running foot at the bottom left, "Page x of y" at the bottom right.
///
/// An engine without margin boxes skips these rules and loses nothing else; type and size of the
/// boxes are set in `sheet.css`.
///
/// # References
/// CSS Paged Media Module Level 3, sections 4 (page-margin boxes) and 5 (page counters).
pub fn page_style(model: &SheetModel) -> String {
    let labels = Labels::of(&model.language);
    let head = css_string(&model.running_head);
    let foot = css_string(&model.running_foot);
    let page = css_string(&format!("{} ", labels.page));
    let of = css_string(&format!(" {} ", labels.page_of));
    format!(
        "@page {{\n  @top-left {{ content: {head}; }}\n  @bottom-left {{ content: {foot}; }}\n  \
         @bottom-right {{ content: {page} counter(page) {of} counter(pages); }}\n}}\n\
         @page :first {{\n  @top-left {{ content: none; }}\n}}\n"
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::sample;

    #[test]
    fn heads_stay_inside_their_strings() {
        let mut model = sample::model();
        model.running_head = "A\"; } @page { margin: 0 } </style><script>".to_owned();
        model.running_foot = "\\\"\n}".to_owned();
        let style = page_style(&model);
        assert!(!style.contains('<'));
        assert_eq!(style.matches('"').count(), 8);
        assert_eq!(style.matches(['{', '}']).count(), 12, "{style}");
    }

    #[test]
    fn pages_are_counted_in_the_sheet_s_language() {
        let mut model = sample::model();
        assert!(
            page_style(&model)
                .contains("content: \"Page \" counter(page) \" of \" counter(pages);")
        );
        model.language = "de".to_owned();
        assert!(
            page_style(&model)
                .contains("content: \"Seite \" counter(page) \" von \" counter(pages);")
        );
    }
}

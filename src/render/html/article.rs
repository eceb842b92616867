//! The sheet as one `<article>`.

use std::collections::BTreeMap;

use super::escape;
use super::front::front;
use super::labels::Labels;
use super::section::section;
use crate::report::model::SheetModel;

/// The whole sheet: `<article class="sheet" lang="…">…</article>`.
///
/// `figures` holds the finished SVG by figure id (trusted); all text of the model is escaped.
pub fn article(model: &SheetModel, figures: &BTreeMap<String, String>) -> String {
    format!(
        "<article class=\"sheet\" lang=\"{}\">\n{}</article>\n",
        escape::text(&model.language),
        parts(model, figures).concat()
    )
}

/// The front and the sections, each one `<section>`.
pub fn parts(model: &SheetModel, figures: &BTreeMap<String, String>) -> Vec<String> {
    let labels = Labels::of(&model.language);
    let sections = model.sections.iter().map(|part| section(part, figures, labels));
    std::iter::once(front(&model.front, figures, labels)).chain(sections).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::sample;

    /// Elements that HTML closes by itself.
    const VOID: [&str; 3] = ["wbr", "meta", "br"];

    /// Names of opened elements in order, after checking that every one is closed in turn.
    fn opened(html: &str) -> Vec<String> {
        let mut open: Vec<String> = Vec::new();
        let mut all = Vec::new();
        for piece in html.split('<').skip(1) {
            let tag = piece.split('>').next().expect("a tag ends");
            if let Some(name) = tag.strip_prefix('/') {
                assert_eq!(open.pop().as_deref(), Some(name), "in <{piece}");
                continue;
            }
            let name = tag.split([' ', '/']).next().unwrap().to_owned();
            all.push(name.clone());
            if !tag.ends_with('/') && !VOID.contains(&name.as_str()) {
                open.push(name);
            }
        }
        assert!(open.is_empty(), "left open: {open:?}");
        all
    }

    #[test]
    fn tags_are_balanced() {
        let model = sample::model();
        let html = article(&model, &sample::drawn(&model));
        assert!(html.starts_with("<article class=\"sheet\" lang=\"en\">"));
        assert!(opened(&html).len() > 100);
        opened(&article(&model, &BTreeMap::new()));
    }

    /// Every text of the model replaced by markup: the same elements come out, and no other.
    #[test]
    fn no_text_becomes_markup() {
        let hostile =
            "x\"'><script>alert(1)</script><img src=x onerror=alert(1)></td></style><!-- &";
        let model = sample::model();
        let mut json = serde_json::to_value(&model).unwrap();
        sample::replace_texts(&mut json, hostile);
        let attacked: SheetModel = serde_json::from_value(json).unwrap();
        let html = article(&attacked, &BTreeMap::new());
        let mut names = opened(&html);
        names.sort();
        names.dedup();
        assert!(
            !names.iter().any(|name| ["script", "img", "!--"].contains(&name.as_str())),
            "{names:?}"
        );
        assert!(!html.contains("<script") && !html.contains("<img") && !html.contains("<!--"));
        assert!(html.matches("&lt;script&gt;").count() > 40);
    }

    #[test]
    fn the_same_model_gives_the_same_bytes() {
        let model = sample::model();
        let drawn = sample::drawn(&model);
        assert_eq!(article(&model, &drawn), article(&model.clone(), &drawn));
    }
}

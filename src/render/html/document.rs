//! The sheet as one file to keep: no script, its own policy, the data inside.

use std::collections::BTreeMap;

use super::article::article;
use super::escape;
use super::page::page_style;
use crate::report::model::SheetModel;

/// The style of the sheet, on screen and on paper.
pub const SHEET_CSS: &str = include_str!("../../../www/css/sheet.css");

/// Id of the element that carries `sheet.json`.
pub const DATA_ID: &str = "focalsheet-sheet";

/// What the file may do: show its own styles and embedded images, nothing else.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; form-action 'none'; base-uri 'none'";

/// A complete HTML file without script: the article, its style, and `sheet_json` in a
/// `<script type="application/json" id="focalsheet-sheet">` element, which no browser runs.
///
/// # References
/// W3C Content Security Policy Level 3, delivery by `<meta>`.
pub fn document(
    model: &SheetModel,
    figures: &BTreeMap<String, String>,
    sheet_json: &str,
) -> String {
    let title =
        if model.running_head.is_empty() { &model.front.title } else { &model.running_head };
    format!(
        "<!DOCTYPE html>\n<html lang=\"{language}\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"{POLICY}\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{title}</title>\n<style>\n{SHEET_CSS}</style>\n<style>\n{page}</style>\n</head>\n\
         <body class=\"sheet-file\">\n<main>\n{article}</main>\n\
         <script type=\"application/json\" id=\"{DATA_ID}\">{data}</script>\n</body>\n</html>\n",
        language = escape::text(&model.language),
        title = escape::text(title),
        page = page_style(model),
        article = article(model, figures),
        data = escape::json_in_script(sheet_json.trim_end()),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::sample;

    #[test]
    fn no_script_but_the_data() {
        let mut model = sample::model();
        model.front.title = "</title><script>alert(1)</script>".to_owned();
        model.running_head = String::new();
        let data = r#"{"record":{"title":"</script><script>alert(1)</script><!--"}}"#;
        let html = document(&model, &sample::drawn(&model), data);
        assert_eq!(html.matches("<script").count(), 1);
        assert_eq!(html.matches("</script").count(), 1);
        assert!(html.contains("<script type=\"application/json\" id=\"focalsheet-sheet\">"));
        assert!(!html.contains("<!--"));
        let block = html
            .split("id=\"focalsheet-sheet\">")
            .nth(1)
            .unwrap()
            .split("</script>")
            .next()
            .unwrap();
        let read: serde_json::Value = serde_json::from_str(block).unwrap();
        assert_eq!(read, serde_json::from_str::<serde_json::Value>(data).unwrap());
    }

    /// W3C CSP Level 3: a policy in `<meta>` binds only what follows it, so it comes before any style.
    #[test]
    fn the_policy_comes_first() {
        let html = document(&sample::model(), &BTreeMap::new(), "{}");
        let policy = html.find("Content-Security-Policy").unwrap();
        assert!(policy < html.find("<style").unwrap());
        assert!(html.starts_with("<!DOCTYPE html>\n"));
        assert!(html.find("charset").unwrap() < 1024, "HTML standard: within the first 1024 bytes");
    }

    #[test]
    fn nothing_is_fetched() {
        for away in ["url(", "@import", "http:", "https:", "</style", "<"] {
            assert!(!SHEET_CSS.contains(away), "{away}");
        }
        let html = document(&sample::model(), &BTreeMap::new(), "{}");
        for away in ["<link", "<a ", " href=", " src=", "<iframe", "<form", "<object"] {
            assert!(!html.contains(away), "{away}");
        }
    }
}

//! Labels with what was stated, as definition lists.

use super::escape;
use super::spacing::keep_together;
use super::symbol::rich;
use crate::report::model::Item;

/// A definition list of the given class; empty for no items.
pub fn definitions(class: &str, items: &[Item]) -> String {
    if items.is_empty() {
        return String::new();
    }
    let pairs: String = items.iter().map(pair).collect();
    format!("<dl class=\"{class}\">{pairs}</dl>\n")
}

fn pair(item: &Item) -> String {
    let blank = if item.blank { " class=\"blank\"" } else { "" };
    let path = if item.path.is_empty() {
        String::new()
    } else {
        format!(" data-path=\"{}\"", escape::text(&item.path))
    };
    // What can be typed into stays as it was typed.
    let text = if item.path.is_empty() { keep_together(&item.text) } else { item.text.clone() };
    format!(
        "<div><dt>{}</dt><dd{blank}{path}>{}</dd></div>\n",
        rich(&item.label),
        escape::text(&text)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_blank_is_marked_and_says_where_it_belongs() {
        let item = Item {
            label: "Serial".to_owned(),
            text: "not stated".to_owned(),
            blank: true,
            path: "device.serial\"onclick=\"".to_owned(),
        };
        assert_eq!(
            definitions("pairs", &[item]),
            "<dl class=\"pairs\"><div><dt>Serial</dt><dd class=\"blank\" \
             data-path=\"device.serial&quot;onclick=&quot;\">not stated</dd></div>\n</dl>\n"
        );
        assert_eq!(definitions("pairs", &[]), "");
    }
}

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
    // What can be typed into stays as it was typed.
    let text = if item.path.is_empty() {
        escape::text(&keep_together(&item.text))
    } else {
        let (path, text) = (escape::text(&item.path), escape::text(&item.text));
        format!("<span{blank} data-path=\"{path}\">{text}</span>")
    };
    let typed = if item.typed.is_empty() {
        String::new()
    } else {
        format!(" <small class=\"as-typed\">{}</small>", escape::text(&item.typed))
    };
    format!("<div><dt>{}</dt><dd{blank}>{text}{typed}</dd></div>\n", rich(&item.label))
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
            typed: String::new(),
        };
        assert_eq!(
            definitions("pairs", &[item]),
            "<dl class=\"pairs\"><div><dt>Serial</dt><dd class=\"blank\">\
             <span class=\"blank\" data-path=\"device.serial&quot;onclick=&quot;\">not stated</span></dd></div>\n</dl>\n"
        );
        let typed = Item {
            label: "Temperature".to_owned(),
            text: "21.4 °C".to_owned(),
            blank: false,
            path: "water.temperature_c".to_owned(),
            typed: "21,4 °C <b>".to_owned(),
        };
        assert!(definitions("pairs", &[typed]).contains(
            "data-path=\"water.temperature_c\">21.4 °C</span> <small class=\"as-typed\">21,4 °C &lt;b&gt;</small></dd>"
        ));
        assert_eq!(definitions("pairs", &[]), "");
    }
}

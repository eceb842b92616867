//! The page's own sources in ASCII: what lies beyond is written as each language writes it.

/// A script, with `\u` and four digits for each unit of UTF-16. Such signs stand in strings and comments alone.
pub fn script(text: &str) -> String {
    replaced(text, |sign| {
        let mut units = [0; 2];
        sign.encode_utf16(&mut units).iter().map(|unit| format!("\\u{unit:04x}")).collect()
    })
}

/// A style sheet, with the sign's number and the space that ends it.
pub fn style(text: &str) -> String {
    replaced(text, |sign| format!("\\{:x} ", u32::from(sign)))
}

/// Markup, with the sign's number.
pub fn markup(text: &str) -> String {
    replaced(text, |sign| format!("&#x{:x};", u32::from(sign)))
}

fn replaced(text: &str, with: impl Fn(char) -> String) -> String {
    text.chars().map(|c| if c.is_ascii() { c.to_string() } else { with(c) }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ECMAScript string literals, CSS syntax (escapes), HTML numeric character references.
    #[test]
    fn each_in_its_language() {
        assert_eq!(script("' · 𝄞'"), "' \\u00b7 \\ud834\\udd1e'");
        assert_eq!(style("content: \"▲\\00a0\""), "content: \"\\25b2 \\00a0\"");
        assert_eq!(markup("für"), "f&#xfc;r");
    }
}

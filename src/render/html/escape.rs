//! Escaping, one function for each context into which untrusted text is set.

/// Text for HTML content and for quoted attribute values.
///
/// `&`, `<`, `>`, `"` and `'` become character references. Control characters that HTML forbids
/// become U+FFFD.
///
/// # References
/// WHATWG HTML Living Standard, "Serializing HTML fragments", escaping a string; "Preprocessing the
/// input stream" (control characters are parse errors).
pub fn text(raw: &str) -> String {
    let mut escaped = String::with_capacity(raw.len() + raw.len() / 8);
    for character in raw.chars() {
        match character {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&#39;"),
            '\t' | '\n' => escaped.push(character),
            '\r' => escaped.push('\n'),
            control if control.is_control() => escaped.push('\u{fffd}'),
            other => escaped.push(other),
        }
    }
    escaped
}

/// A quoted CSS string that is also safe inside a `<style>` element.
///
/// Letters, digits, spaces and a few harmless marks stand as they are; everything else, also `<`
/// and line breaks, becomes an escaped code point (`\3c `). Controls become U+FFFD.
///
/// # References
/// CSS Syntax Module Level 3, section 4.3.7, "Consume an escaped code point": up to six
/// hexadecimal digits, ended by one white space.
pub fn css_string(raw: &str) -> String {
    let mut escaped = String::with_capacity(raw.len() + 2);
    escaped.push('"');
    for character in raw.chars() {
        match character {
            plain if plain.is_alphanumeric() || " .,;:-–·/()+".contains(plain) => {
                escaped.push(plain);
            }
            control if control.is_control() => escaped.push_str("\\fffd "),
            other => escaped.push_str(&format!("\\{:x} ", u32::from(other))),
        }
    }
    escaped.push('"');
    escaped
}

/// JSON text for a `<script type="application/json">` element: every `<`, which in JSON can only
/// stand inside a string, becomes `\u003c`, so that neither `</script` nor `<!--` can occur.
///
/// # References
/// WHATWG HTML Living Standard, "Restrictions for contents of script elements". RFC 8259,
/// section 7 (`\u003c` in a string is the character `<`).
pub fn json_in_script(json: &str) -> String {
    json.replace('<', "\\u003c")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The five characters of the HTML standard's named references, and what must stay.
    #[test]
    fn html_text() {
        assert_eq!(
            text("<b a=\"1\" c='2'>&amp;</b>"),
            "&lt;b a=&quot;1&quot; c=&#39;2&#39;&gt;&amp;amp;&lt;/b&gt;"
        );
        assert_eq!(text("µm, Prüfkopf, 水"), "µm, Prüfkopf, 水");
        assert_eq!(text("a\0b\u{1b}c\td\r"), "a\u{fffd}b\u{fffd}c\td\n");
    }

    /// Reads a CSS string back by the rules of CSS Syntax Level 3, 4.3.5 and 4.3.7.
    fn consume_css_string(css: &str) -> (String, &str) {
        let mut rest = css.strip_prefix('"').expect("starts with a quote");
        let mut value = String::new();
        loop {
            let character = rest.chars().next().expect("the string ends");
            rest = &rest[character.len_utf8()..];
            match character {
                '"' => return (value, rest),
                '\n' => panic!("a bare line break ends a string badly"),
                '\\' => {
                    let digits: String =
                        rest.chars().take(6).take_while(char::is_ascii_hexdigit).collect();
                    assert!(!digits.is_empty(), "only code points are escaped");
                    rest = &rest[digits.len()..];
                    rest = rest.strip_prefix(' ').unwrap_or(rest);
                    let code = u32::from_str_radix(&digits, 16).unwrap();
                    value.push(char::from_u32(code).unwrap());
                }
                other => value.push(other),
            }
        }
    }

    #[test]
    fn css_strings_read_back() {
        for raw in [
            "Kopf 12 · 7K2M-94QX",
            "\"; } body { display: none } /*",
            "</style><script>alert(1)</script>",
            "back\\slash \\22 and \\\" quote",
            "<!-- 'x' --> & &lt; url(x) @import",
            "emoji \u{1f50a}\u{2028}end",
            "b<1",
        ] {
            let css = css_string(raw);
            assert_eq!(consume_css_string(&css), (raw.to_owned(), ""), "{css}");
            assert!(!css.contains('<'), "{css}");
            assert!(!css[1..css.len() - 1].contains('"'), "{css}");
        }
        assert_eq!(consume_css_string(&css_string("two\nlines")).0, "two\u{fffd}lines");
        assert_eq!(css_string("a<b"), "\"a\\3c b\"");
    }

    #[test]
    fn json_in_script_reads_back() {
        let value =
            serde_json::json!({"a</script>": "<!-- <script> </SCRIPT >", "b": [1, "\u{2028}"]});
        let json = serde_json::to_string(&value).unwrap();
        let inside = json_in_script(&json);
        assert!(!inside.contains('<'));
        assert_eq!(serde_json::from_str::<serde_json::Value>(&inside).unwrap(), value);
    }
}

//! Puts the page together: every part that `www/index.html` names by a line of its own is laid
//! into that line's place, and the policy is written once all scripts are known.
//!
//! A line that is filled reads exactly, but for indentation,
//! `<link rel="stylesheet" href="NAME">`, `<script src="NAME"></script>` or
//! `<script type="text/plain" id="ID" src="NAME"></script>` (data that no browser runs).
//! NAME is a file below `www/`, or one of the two parts that the build makes. All but the packed module
//! is written in ASCII, so that the page may be read as windows-1252, in which that takes least room.

use std::fs;
use std::path::Path;

use super::bind::Engine;
use super::plain;
use super::policy;
use super::problem::BuildProblem;

/// The part that is the glue script.
const GLUE: &str = "built/glue.js";
/// The part that is the packed module.
const MODULE: &str = "built/engine.wasm.gz";

/// The finished page from the sources in `www` and the engine.
pub fn page(www: &Path, engine: &Engine) -> Result<String, BuildProblem> {
    let template = read(www, "index.html")?;
    let part = |name: &str| match name {
        GLUE => Ok(engine.glue.replace("\r\n", "\n")),
        MODULE => Ok(engine.module.clone()),
        _ => read(www, name),
    };
    let filled = fill(&template, &part)?;
    policy::write(&filled)
}

/// A source of the page, with LF line ends whatever the checkout has.
fn read(www: &Path, name: &str) -> Result<String, BuildProblem> {
    let path = www.join(name);
    fs::read_to_string(&path)
        .map(|text| text.replace("\r\n", "\n"))
        .map_err(|source| BuildProblem::Read { path, source })
}

fn fill(
    template: &str,
    part: &dyn Fn(&str) -> Result<String, BuildProblem>,
) -> Result<String, BuildProblem> {
    let mut html = String::new();
    for line in template.lines() {
        match slot(line) {
            Some(Slot::Style(name)) => {
                let text = plain::style(style(name, &part(name)?)?);
                html.extend(["<style>\n", &text, "</style>"]);
            }
            Some(Slot::Script(opening, name)) => {
                let text = script(name, &part(name)?)?;
                // The packed module is made of the signs that the page is read in.
                let text = if name == MODULE { text } else { plain::script(&text) };
                html.extend([opening, ">\n", &text, "</script>"]);
            }
            None => html.push_str(&plain::markup(line)),
        }
        html.push('\n');
    }
    Ok(html)
}

/// A line of the template that a part replaces.
enum Slot<'a> {
    Style(&'a str),
    /// The opening tag without `src` and `>`, and the part's name.
    Script(&'a str, &'a str),
}

fn slot(line: &str) -> Option<Slot<'_>> {
    let line = line.trim();
    if let Some(rest) = line.strip_prefix("<link rel=\"stylesheet\" href=\"") {
        return rest.strip_suffix("\">").map(Slot::Style);
    }
    let (opening, rest) = line.split_once(" src=\"")?;
    let name = rest.strip_suffix("\"></script>")?;
    opening.starts_with("<script").then_some(Slot::Script(opening, name))
}

/// A script as it may stand inline: an end tag in its text is escaped; what would open a comment
/// or a nested script, and so hide the real end tag, is refused.
fn script(name: &str, text: &str) -> Result<String, BuildProblem> {
    for found in ["<!--", "<script"] {
        if let Some(at) = text.to_ascii_lowercase().find(found) {
            let line = text[..at].lines().count().max(1);
            return Err(BuildProblem::Script { name: name.to_owned(), line, found });
        }
    }
    let mut escaped = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.to_ascii_lowercase().find("</script") {
        escaped.push_str(&rest[..at]);
        escaped.push_str("<\\/");
        rest = &rest[at + 2..];
    }
    escaped.push_str(rest);
    Ok(escaped)
}

/// A style sheet as it may stand inline; an end tag in it has no escape, so it is refused.
fn style<'a>(name: &str, text: &'a str) -> Result<&'a str, BuildProblem> {
    match text.to_ascii_lowercase().find("</style") {
        None => Ok(text),
        Some(at) => Err(BuildProblem::Script {
            name: name.to_owned(),
            line: text[..at].lines().count().max(1),
            found: "</style",
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parts(name: &str) -> Result<String, BuildProblem> {
        Ok(match name {
            "css/a.css" => "p { color: #000 }\n".to_owned(),
            "js/a.js" => "const end = '</SCRIPT>';\n".to_owned(),
            _ => format!("[{name}]"),
        })
    }

    #[test]
    fn parts_replace_their_lines() {
        let template = "<link rel=\"stylesheet\" href=\"css/a.css\">\n\
                        <script type=\"text/plain\" id=\"e\" src=\"built/x\"></script>\n\
                        \u{20} <script src=\"js/a.js\"></script>\n<p>stays</p>\n";
        let html = fill(template, &parts).unwrap();
        assert_eq!(
            html,
            "<style>\np { color: #000 }\n</style>\n\
             <script type=\"text/plain\" id=\"e\">\n[built/x]</script>\n\
             <script>\nconst end = '<\\/SCRIPT>';\n</script>\n<p>stays</p>\n"
        );
    }

    #[test]
    fn text_that_hides_the_end_tag_is_refused_with_its_line() {
        let refused = script("js/b.js", "let a;\nlet b = '<!--';\n");
        assert!(matches!(refused, Err(BuildProblem::Script { line: 2, found: "<!--", .. })));
        assert!(script("js/b.js", "'<SCRIPT>'").is_err());
        assert!(style("css/b.css", "a{}</STYLE>").is_err());
    }

    #[test]
    fn a_missing_part_is_named() {
        let refused = read(Path::new("no-such-folder"), "js/c.js");
        assert!(
            matches!(refused, Err(BuildProblem::Read { path, .. }) if path.ends_with("js/c.js"))
        );
    }

    /// The page as it is in the checkout, with an engine of two words: its policy names the hash
    /// of each script that runs, and nothing is left to be fetched.
    #[test]
    fn the_real_template_is_filled_and_its_policy_matches() {
        let www = Path::new(env!("CARGO_MANIFEST_DIR")).join("www");
        let engine = Engine { glue: "let wasm_bindgen;\n".into(), module: "AAAA".into() };
        let html = page(&www, &engine).unwrap();
        let hashes = policy::hashes_of(&html);
        assert!(!hashes.found.is_empty());
        assert_eq!(hashes.found, hashes.stated);
        assert!(html.contains("<meta charset=\"windows-1252\">") && html.is_ascii());
        for fetched in [" src=\"", "<link", "@import", "url("] {
            assert!(!html.contains(fetched), "{fetched} is left in the page");
        }
    }
}

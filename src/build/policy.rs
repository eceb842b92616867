//! The page's Content-Security-Policy: only the scripts in it run, and nothing is fetched or sent.
//!
//! References: W3C Content Security Policy Level 3, hash sources (`sha256-` with the base64 of the
//! digest of the script's text) and `'wasm-unsafe-eval'`; HTML Living Standard, "Scripting", for
//! where an inline script's text starts and ends.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};

use super::problem::BuildProblem;

/// The template's line that is replaced; on its own it forbids everything.
const CLOSED: &str = "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'\">";

/// The hash sources of a page: those that its scripts have, and those that its policy states.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PolicyHashes {
    /// `sha256-…` of each script that runs, in page order, from its text as it stands.
    pub found: Vec<String>,
    /// `sha256-…` in the policy, in policy order.
    pub stated: Vec<String>,
}

/// Recomputes the hashes of the scripts in a finished page, and reads those of its policy.
pub fn hashes_of(html: &str) -> PolicyHashes {
    let stated = html
        .lines()
        .find(|line| line.trim_start().starts_with("<meta http-equiv=\"Content-Security-Policy\""))
        .map(|line| {
            line.split('\'').filter(|s| s.starts_with("sha256-")).map(str::to_owned).collect()
        })
        .unwrap_or_default();
    PolicyHashes { found: running_scripts(html).map(hash).collect(), stated }
}

/// Writes the policy into a page that has all its scripts.
pub fn write(html: &str) -> Result<String, BuildProblem> {
    let found = html.matches(CLOSED).count();
    if found != 1 {
        return Err(BuildProblem::Template { expected: CLOSED.to_owned(), found });
    }
    let scripts: Vec<String> =
        running_scripts(html).map(|text| format!("'{}'", hash(text))).collect();
    let open = CLOSED.replace(
        "default-src 'none'",
        &format!(
            "default-src 'none'; script-src {} 'wasm-unsafe-eval'; worker-src blob:; \
             style-src 'unsafe-inline'; img-src data: blob:; form-action 'none'; base-uri 'none'",
            scripts.join(" ")
        ),
    );
    Ok(html.replacen(CLOSED, &open, 1))
}

fn hash(script: &str) -> String {
    format!("sha256-{}", STANDARD.encode(Sha256::digest(script)))
}

/// The texts of the inline scripts that a browser runs (no `type`), in page order.
fn running_scripts(html: &str) -> impl Iterator<Item = &str> {
    html.split("<script").skip(1).filter_map(|rest| {
        let (attributes, rest) = rest.split_once('>')?;
        let (text, _) = rest.split_once("</script")?;
        attributes.is_empty().then_some(text)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The W3C Content Security Policy's own example of a hash source: `alert('Hello, world.');`.
    #[test]
    fn the_hash_is_the_standards() {
        let html = "<script>alert('Hello, world.');</script>";
        let expected = "sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng=";
        assert_eq!(hashes_of(html).found, [expected]);
    }

    #[test]
    fn the_policy_states_what_the_page_has_and_skips_data() {
        let page = format!(
            "{CLOSED}\n<script>\nlet a = 1;\n</script>\n\
             <script type=\"text/plain\" id=\"d\">\nAAAA</script>\n<script>let b;</script>\n"
        );
        let html = write(&page).unwrap();
        let hashes = hashes_of(&html);
        assert_eq!(hashes.found.len(), 2);
        assert_eq!(hashes.found, hashes.stated);
        assert_ne!(hashes_of(&html.replace("let b;", "let c;")).found, hashes.stated);
    }

    #[test]
    fn a_template_without_its_policy_line_is_refused() {
        assert!(matches!(write("<p>"), Err(BuildProblem::Template { found: 0, .. })));
    }
}

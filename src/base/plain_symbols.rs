//! Symbols where no subscript can be set: in the tray of the page and on a terminal.

/// `p_{c}` as `pc`.
///
/// # Examples
/// `For I_{sppa}, p_{c}` becomes `For Isppa, pc`; braces without a mark before them stay.
pub fn plain_symbols(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once("_{") {
        let Some((subscript, end)) = after.split_once('}') else { break };
        out.push_str(before);
        out.push_str(subscript);
        rest = end;
    }
    out.push_str(rest);
    out
}

#[cfg(test)]
mod tests {
    use super::plain_symbols;

    #[test]
    fn marks_go_and_braces_stay() {
        assert_eq!(plain_symbols("For I_{sppa}, p_{c}: {x}"), "For Isppa, pc: {x}");
        assert_eq!(plain_symbols("scan_{1 stays"), "scan_{1 stays");
        assert_eq!(plain_symbols(""), "");
    }
}

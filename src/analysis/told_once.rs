//! A remark that many scans share, told once with all of them.

use crate::base::finding::{Arg, Finding};

/// The remark on budgets whose drawn interval is not symmetric: a calibration of some per cent gives it in
/// every scan.
const SHARED: &str = "monte-carlo-disagrees";

/// Puts the first of these in the place of all, with their scans and the symbols of all.
pub fn told_once(findings: &mut Vec<Finding>) {
    let shared: Vec<&Finding> = findings.iter().filter(|f| f.code == SHARED).collect();
    if shared.len() < 2 {
        return;
    }
    let scans: Vec<String> = shared.iter().filter_map(|f| f.place.scan.clone()).collect();
    let mut symbols: Vec<String> = Vec::new();
    for finding in &shared {
        if let Some(Arg::List(own)) = finding.args.get("symbols") {
            symbols
                .extend(own.iter().filter(|s| !symbols.contains(s)).cloned().collect::<Vec<_>>());
        }
    }
    let mut first = true;
    findings.retain(|finding| finding.code != SHARED || std::mem::take(&mut first));
    if let Some(finding) = findings.iter_mut().find(|f| f.code == SHARED) {
        finding.place.scan = None;
        finding.args.insert("symbols".to_owned(), Arg::List(symbols));
        finding.args.insert("scans".to_owned(), Arg::List(scans));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::finding::Severity;

    #[test]
    fn three_become_one() {
        let of = |scan: &str, symbols: &[&str]| {
            let symbols: Vec<String> = symbols.iter().map(|s| (*s).to_owned()).collect();
            Finding::new(Severity::Note, SHARED).in_scan(scan).with("symbols", symbols)
        };
        let other = Finding::new(Severity::Caution, "output-drift");
        let mut all = vec![other.clone(), of("a", &["p"]), of("b", &["p", "q"]), other.clone()];
        told_once(&mut all);
        assert_eq!(all.len(), 3);
        assert_eq!(all[1].args["symbols"], Arg::List(vec!["p".to_owned(), "q".to_owned()]));
        assert_eq!(all[1].args["scans"], Arg::List(vec!["a".to_owned(), "b".to_owned()]));
        assert_eq!(all[1].place.scan, None);
        let mut one = vec![of("a", &["p"]), other];
        told_once(&mut one);
        assert_eq!(one[0].place.scan.as_deref(), Some("a"));
    }
}

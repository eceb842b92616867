//! Every language says everything that is asked for, each in its own words.

use std::collections::BTreeSet;
use std::path::Path;

use super::*;
use crate::base::quantity::CATALOGUE;

/// Texts that are the same in German as in English: symbols, names, loan words, units.
const SAME: &[&str] = &[
    "Band",
    "Bits",
    "Bytes",
    "CSV",
    "E_{n}",
    "Focalsheet",
    "I_{pi}",
    "JSON",
    "PNG",
    "Phase",
    "SHA-256",
    "Scan",
    "Sensor",
    "Student",
    "half-width",
    "n",
    "normal",
    "p_{c}",
    "p_{r}",
    "s",
    "standard",
    "u (k = 1)",
    "z",
];

/// Every source file of a folder, whole; those of the wording left out unless they are asked for.
fn sources(folder: &Path, wording: bool, out: &mut Vec<String>) {
    for entry in std::fs::read_dir(folder).expect("folder").flatten() {
        let path = entry.path();
        if path.is_dir() {
            if wording || !path.ends_with("wording") {
                sources(&path, wording, out);
            }
        } else if path.extension().is_some_and(|e| e == "rs") {
            let text = std::fs::read_to_string(&path).expect("reads");
            out.push(text.split("#[cfg(test)]").next().unwrap_or_default().to_owned());
        }
    }
}

fn read(folder: &str, wording: bool) -> Vec<String> {
    let mut all = Vec::new();
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder), wording, &mut all);
    all
}

/// First text argument of each call `name("…")`.
fn codes(all: &[String], name: &str) -> Vec<String> {
    let mut out = Vec::new();
    for text in all {
        for part in text.split(name).skip(1) {
            let Some((_, rest)) = part.split_once('"') else { continue };
            let Some((code, _)) = rest.split_once('"') else { continue };
            if part.find('"').is_some_and(|at| at < 60 && !part[..at].contains(')')) {
                out.push(code.to_owned());
            }
        }
    }
    out.sort();
    out.dedup();
    out
}

/// All texts in quotes of a language's files: its keys are among them.
fn quoted(folder: &str) -> BTreeSet<String> {
    let all = read(folder, true);
    all.iter().flat_map(|text| text.split('"').skip(1).step_by(2)).map(str::to_owned).collect()
}

/// What a language says to a key, whoever is asked; arguments are left empty.
fn says(words: &dyn Wording, key: &str) -> Vec<(&'static str, String)> {
    let (args, place) = (Args::new(), Place::default());
    let filled = Filled::new(&args, &place, words.marks());
    let sentence = |s: Sentence| format!("{} {}", s.text, s.hint);
    let page = words.page_words().iter().find(|(k, _)| *k == key);
    [
        ("label", words.label(key).map(str::to_owned)),
        ("quantity", words.quantity(key).map(|q| format!("{}: {}", q.name, q.explanation))),
        ("method", words.method(key).map(str::to_owned)),
        ("reason", words.reason(key).map(str::to_owned)),
        ("blank", words.blank(key).map(str::to_owned)),
        ("page", page.map(|(_, text)| (*text).to_owned())),
        ("finding", words.finding(key, &filled).map(sentence)),
        ("problem", words.problem(key, &filled).map(sentence)),
        ("remark", words.remark(key, &filled)),
    ]
    .into_iter()
    .filter_map(|(who, text)| Some((who, text?)))
    .collect()
}

#[test]
fn every_code_has_its_sentence() {
    let all = read("src", false);
    let problems = codes(&all, "Problem::new(");
    let mut findings = codes(&all, "Finding::new(");
    findings.extend(codes(&all, ".finding("));
    findings.extend(codes(&all, "because("));
    let reasons = codes(&all, "Reason::new(");
    let blanks = codes(&all, "Reason::blank(");
    let remarks = codes(&all, "Remark::new(");
    assert!(remarks.len() > 6, "{remarks:?}");
    assert!(
        problems.len() > 40 && findings.len() > 20 && reasons.len() > 5,
        "{problems:?} {findings:?} {reasons:?}"
    );
    for words in LANGUAGES {
        let (args, place) = (Args::new(), Place::default());
        let filled = Filled::new(&args, &place, words.marks());
        let missing: Vec<&String> = problems
            .iter()
            .filter(|c| words.problem(c, &filled).is_none())
            .chain(findings.iter().filter(|c| words.finding(c, &filled).is_none()))
            .chain(reasons.iter().filter(|c| words.reason(c).is_none()))
            .chain(remarks.iter().filter(|c| words.remark(c, &filled).is_none()))
            .chain(blanks.iter().filter(|c| words.blank(c).is_none()))
            .collect();
        assert!(missing.is_empty(), "{}: {missing:?}", words.tag());
    }
}

#[test]
fn every_quantity_has_its_words() {
    for entry in CATALOGUE {
        for words in LANGUAGES {
            assert!(words.quantity(entry.id).is_some(), "{}: {}", words.tag(), entry.id);
        }
        assert!(units::print_unit(entry.print_unit).is_some(), "{}", entry.id);
    }
}

#[test]
fn every_label_that_is_asked_for_exists() {
    let asked: Vec<String> = codes(&read("src/report", false), "label(")
        .into_iter()
        .filter(|key| !key.contains('{'))
        .collect();
    assert!(asked.len() > 60, "{}", asked.len());
    for words in LANGUAGES {
        let missing: Vec<&String> = asked.iter().filter(|key| words.label(key).is_none()).collect();
        assert!(missing.is_empty(), "{}: {missing:?}", words.tag());
    }
}

/// Whatever English has a text for, every other language has one for, and it is another text.
#[test]
fn a_language_is_whole_and_its_own() {
    let keys = quoted("src/report/wording/en");
    let mut wrong: Vec<String> = Vec::new();
    let english: Vec<_> = keys
        .iter()
        .flat_map(|key| says(&en::English, key).into_iter().map(move |s| (key, s)))
        .collect();
    assert!(english.len() > 700, "{}", english.len());
    for words in LANGUAGES.into_iter().skip(1) {
        for (key, (who, text)) in &english {
            let said = says(words, key);
            match said.iter().find(|(other, _)| other == who) {
                None => wrong.push(format!("{}: {who} {key} is missing", words.tag())),
                Some((_, own))
                    if own == text && !text.is_empty() && !SAME.contains(&text.as_str()) =>
                {
                    wrong.push(format!("{}: {who} {key} is left as it was: {text}", words.tag()));
                }
                Some(_) => {}
            }
        }
        assert_eq!(words.outline().len(), en::English.outline().len());
        let english_outline = en::English.outline();
        assert!(!words.outline().iter().any(|part| english_outline.contains(part)));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Sentences may not lose an argument: what English prints of one, the others print too.
#[test]
fn no_argument_is_lost() {
    let place = Place { path: Some("the-path".to_owned()), ..Place::default() };
    let texts = quoted("src/report/wording/en");
    let filled = texts.iter().flat_map(|text| text.split('{').skip(1));
    let names: BTreeSet<String> = filled
        .filter_map(|part| part.split_once('}').map(|(name, _)| name.to_owned()))
        .filter(|name| !name.is_empty() && !name.contains([' ', '"', '\\']))
        .chain(codes(&read("src/report/wording/en", true), "get("))
        .collect();
    let args: Args =
        names.iter().map(|name| (name.clone(), Arg::from(format!("<{name}>")))).collect();
    let shown = |words: &dyn Wording, key: &str| -> Vec<BTreeSet<String>> {
        let filled = Filled::new(&args, &place, words.marks());
        let both = |s: Sentence| format!("{} {}", s.text, s.hint);
        [
            words.finding(key, &filled).map(both),
            words.problem(key, &filled).map(both),
            words.remark(key, &filled),
        ]
        .map(|text| {
            let text = text.unwrap_or_default();
            let all = names.iter().map(|name| format!("<{name}>")).chain(["the-path".to_owned()]);
            all.filter(|mark| text.contains(mark)).collect()
        })
        .to_vec()
    };
    let keys = quoted("src/report/wording/en");
    let mut seen = 0;
    let mut wrong: Vec<String> = Vec::new();
    for key in &keys {
        let english = shown(&en::English, key);
        seen += english.iter().map(BTreeSet::len).sum::<usize>();
        for words in LANGUAGES.into_iter().skip(1) {
            let own = shown(words, key);
            if own != english {
                wrong.push(format!("{}: {key}: {own:?}, not {english:?}", words.tag()));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(seen > 300, "{seen}");
}

#[test]
fn tags() {
    for (tag, expected) in [
        ("de", "de"),
        ("de-AT", "de"),
        ("DE_ch", "de"),
        ("en", "en"),
        ("en-GB", "en"),
        ("", "en"),
        ("den", "en"),
        ("xx", "en"),
    ] {
        assert_eq!(of(tag).tag(), expected, "{tag}");
    }
}

#[test]
fn texts_are_filled() {
    let args =
        Args::from([("n".to_owned(), Arg::from(3usize)), ("of".to_owned(), Arg::from("{n}"))]);
    let place = Place { path: Some("/a".to_owned()), ..Place::default() };
    let filled = Filled::new(&args, &place, of("en").marks());
    assert_eq!(filled.fill("{}: {n} of {of}; {none}."), "/a: 3 of {n}; .");
    assert_eq!(filled.fill("plain"), "plain");
    assert_eq!(filled.fill(""), "");
}

/// The decimal comma, and the space before the per cent sign (DIN 5008 and ISO 80000-1, 7.1.4; from memory).
#[test]
fn numbers_of_a_language() {
    assert_eq!(measure(7.96e6, "Pa", of("de").marks()), "7,96\u{a0}MPa");
    assert_eq!(measure(7.96e6, "Pa", of("en").marks()), "7.96\u{a0}MPa");
    assert_eq!(measure(0.0532, "%", of("de").marks()), "5,32\u{a0}%");
}

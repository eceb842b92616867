//! Who may use whom: the import table of DEVELOPERS.md, checked on the sources.
//!
//! Reads every `crate::…` and `super::…` path of `src/` outside tests, and the standard library's
//! and the browser's doors (`std::fs`, clocks, `web_sys` …). The checker is a function from texts
//! to violations, so that planted ones can be handed to it.

#![allow(clippy::expect_used, reason = "a test program")]

#[path = "architecture/reading.rs"]
mod reading;

use std::collections::BTreeSet;
use std::path::Path;

use reading::{paths, tokens, without_tests};

/// Who may use what of ours: paths from the crate's root. A module may always use itself.
const TABLE: &[(&str, &[&str])] = &[
    ("base", &[]),
    ("record", &["base"]),
    ("formats", &["base"]),
    ("scan", &["base", "record", "formats", "dsp"]),
    ("dsp", &[]),
    ("statistics", &[]),
    ("calibration", &["scan", "formats", "dsp", "record", "base"]),
    ("pulse", &["calibration", "scan::Grid", "dsp", "record", "base"]),
    ("field", &["pulse", "scan::Grid", "dsp", "record", "base"]),
    ("drive", &["pulse", "field", "statistics", "dsp", "record", "base"]),
    ("safety", &["pulse", "field", "dsp", "record", "base"]),
    ("uncertainty", &["statistics", "dsp", "record", "base"]),
    ("verdict", &["statistics", "record", "base"]),
    (
        "analysis",
        &[
            "base",
            "record",
            "formats",
            "scan",
            "dsp",
            "calibration",
            "pulse",
            "field",
            "drive",
            "safety",
            "statistics",
            "uncertainty",
            "verdict",
        ],
    ),
    ("report", &["analysis", "base"]),
    ("figures", &["report::model", "base"]),
    ("render", &["report::model", "base"]),
    // What both shells do at the end, and what they check of themselves.
    ("outputs", &["analysis", "report", "figures", "render", "record", "base"]),
    ("selfcheck", &["analysis", "field", "pulse", "formats", "dsp", "record", "base"]),
    (
        "wasm",
        &[
            "outputs",
            "selfcheck",
            "analysis",
            "report",
            "figures",
            "render",
            "formats",
            "record",
            "base",
        ],
    ),
    (
        "cli",
        &[
            "outputs", "build", "serve", "analysis", "report", "figures", "render", "formats",
            "record", "base",
        ],
    ),
    ("build", &[]),
    ("serve", &[]),
    ("main", &["cli"]),
    ("lib", &[]),
];

/// Paths that stand today against the table: (file, path). Nothing may be added; an entry that no
/// longer stands must go.
const STANDING: &[(&str, &str)] = &[
    ("pulse/map.rs", "formats::container::Samples"),
    ("pulse/map.rs", "scan::Volts"),
    ("report/front.rs", "record::Role"),
    ("report/conditions.rs", "record::EffectiveRadius::Constant"),
];

/// Modules below one parent that may not use each other.
const SIBLINGS: &[(&str, &[&str])] = &[("render", &["csv", "html", "json"])];

/// Doors to the machine and the browser, and the modules that may open them.
const DOORS: &[(&str, &[&str])] = &[
    ("std::fs", &["cli", "build", "serve"]),
    ("std::env", &["cli", "build", "serve", "main"]),
    ("std::process", &["cli", "build", "serve", "main"]),
    ("std::net", &["serve"]),
    ("std::time", &["cli", "build", "serve"]),
    ("web_sys", &["wasm"]),
    ("js_sys", &["wasm"]),
    ("wasm_bindgen", &["wasm"]),
    ("serde_wasm_bindgen", &["wasm"]),
];

/// A source file below `src/`, its path with `/`.
struct Source {
    path: String,
    text: String,
}

/// Module path of a file: `scan/mod.rs` → scan, `scan/open.rs` → scan, open.
fn module(path: &str) -> Vec<String> {
    let parts = path.trim_end_matches(".rs").split('/').map(str::to_owned);
    let mut parts: Vec<String> = parts.collect();
    if parts.len() > 1 && parts.last().is_some_and(|p| p == "mod") {
        parts.pop();
    }
    if parts == ["lib"] {
        parts.clear();
    }
    parts
}

/// Files that only tests compile: those that a `#[cfg(test)] mod name;` names.
fn only_for_tests(sources: &[Source]) -> Vec<Vec<String>> {
    let mut out = Vec::new();
    for source in sources {
        for name in without_tests(&tokens(&source.text)).1 {
            let mut path = module(&source.path);
            path.push(name);
            out.push(path);
        }
    }
    out
}

/// What stands against the table: (file, path used).
fn violations(sources: &[Source]) -> BTreeSet<(String, String)> {
    let testing = only_for_tests(sources);
    let mut out = BTreeSet::new();
    for source in sources {
        let here = module(&source.path);
        if testing.iter().any(|path| here.starts_with(path)) {
            continue;
        }
        let top = here.first().map_or("lib", String::as_str);
        let Some((_, may)) = TABLE.iter().find(|(name, _)| *name == top) else {
            out.insert((source.path.clone(), "a module that the table does not name".to_owned()));
            continue;
        };
        let mut used = |path: String| out.insert((source.path.clone(), path));
        for (path, inline) in paths(&without_tests(&tokens(&source.text)).0) {
            let full = path.join("::");
            let below = |door: &str| full == door || full.starts_with(&format!("{door}::"));
            if DOORS.iter().any(|(door, by)| below(door) && !by.contains(&top)) {
                used(full.clone());
            }
            let Some(ours) = of_ours(&path, &here, &inline) else { continue };
            let Some(first) = ours.first() else { continue };
            let named = ours.join("::");
            if first == top {
                let family = SIBLINGS
                    .iter()
                    .find(|(parent, _)| *parent == top)
                    .map_or(&[][..], |(_, all)| *all);
                if let (Some(mine), Some(other)) = (here.get(1), ours.get(1))
                    && mine != other
                    && family.contains(&mine.as_str())
                    && family.contains(&other.as_str())
                {
                    used(named);
                }
            } else if TABLE.iter().any(|(name, _)| name == first)
                && !may.iter().any(|m| named == *m || named.starts_with(&format!("{m}::")))
            {
                used(named);
            }
        }
    }
    out
}

/// A path from the crate's root, if it is one of ours; `None` for other crates and local names.
fn of_ours(path: &[String], here: &[String], inline: &[String]) -> Option<Vec<String>> {
    let first = path.first()?.as_str();
    match first {
        // The program names the library by its name.
        "crate" | "focalsheet" => Some(path[1..].to_vec()),
        "super" => {
            let ups = path.iter().take_while(|p| *p == "super").count();
            let mut base: Vec<String> = here.iter().chain(inline).cloned().collect();
            base.truncate(base.len().checked_sub(ups)?);
            base.extend_from_slice(&path[ups..]);
            Some(base)
        }
        _ => None,
    }
}

fn read(folder: &Path, below: &str, ending: &str, out: &mut Vec<Source>) {
    let mut entries: Vec<_> =
        std::fs::read_dir(folder).expect("folder").map(|e| e.expect("entry")).collect();
    entries.sort_by_key(std::fs::DirEntry::file_name);
    for entry in entries {
        let name = entry.file_name().to_string_lossy().into_owned();
        let path = if below.is_empty() { name.clone() } else { format!("{below}/{name}") };
        if entry.path().is_dir() {
            read(&entry.path(), &path, ending, out);
        } else if name.ends_with(ending) {
            out.push(Source { path, text: std::fs::read_to_string(entry.path()).expect("text") });
        }
    }
}

fn ours(folder: &str, ending: &str) -> Vec<Source> {
    let mut out = Vec::new();
    read(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder), "", ending, &mut out);
    out
}

#[test]
fn sources_keep_to_the_table() {
    let sources = ours("src", ".rs");
    assert!(sources.len() > 50, "only {} sources were found", sources.len());
    let found = violations(&sources);
    let standing: BTreeSet<(String, String)> =
        STANDING.iter().map(|(file, path)| ((*file).to_owned(), (*path).to_owned())).collect();
    let new: Vec<_> =
        found.difference(&standing).map(|(file, path)| format!("src/{file} uses {path}")).collect();
    let gone: Vec<_> = standing
        .difference(&found)
        .map(|(file, path)| format!("src/{file} no longer uses {path}: strike it"))
        .collect();
    assert!(
        new.is_empty() && gone.is_empty(),
        "against the import table:\n{}\n{}",
        new.join("\n"),
        gone.join("\n")
    );
}

/// No module without a row, no row without a module.
#[test]
fn the_table_names_what_there_is() {
    let sources = ours("src", ".rs");
    let there: BTreeSet<String> = sources
        .iter()
        .map(|s| module(&s.path).first().cloned().unwrap_or("lib".to_owned()))
        .collect();
    let named: BTreeSet<String> = TABLE.iter().map(|(name, _)| (*name).to_owned()).collect();
    assert_eq!(there, named);
}

/// Numbers are worded by the engine; the page's scripts only show them.
#[test]
fn scripts_format_no_numbers() {
    let scripts = ours("www/js", ".js");
    assert!(scripts.len() > 3);
    for script in scripts {
        for word in ["toFixed", "toPrecision", "toExponential"] {
            assert!(!script.text.contains(word), "www/js/{}: {word}", script.path);
        }
    }
}

fn planted(path: &str, text: &str) -> Vec<String> {
    let sources = [Source { path: path.to_owned(), text: text.to_owned() }];
    violations(&sources).into_iter().map(|(_, path)| path).collect()
}

#[test]
fn planted_violations_are_found() {
    for (path, text, expected) in [
        ("dsp/filter.rs", "use crate::base::error::Problem;", "base::error::Problem"),
        ("scan/open.rs", "fn f() { crate::pulse::map::g(); }", "pulse::map::g"),
        ("scan/open.rs", "use super::super::field::Scale;", "field::Scale"),
        ("scan/mod.rs", "use super::report;", "report"),
        ("scan/open.rs", "use crate::{base::error::Problem, analysis::{self, Plan}};", "analysis"),
        ("figures/map.rs", "use crate::report::rounding::round;", "report::rounding::round"),
        ("field/power.rs", "use crate::scan::Volts;", "scan::Volts"),
        ("render/csv.rs", "use super::html::escape;", "render::html::escape"),
        ("render/html/page.rs", "use super::super::json::sheet_json;", "render::json::sheet_json"),
        ("report/mod.rs", "mod inner { use super::super::figures::svg; }", "figures::svg"),
        ("wasm/session.rs", "use crate::dsp::filter::spectrum;", "dsp::filter::spectrum"),
        ("main.rs", "use focalsheet::analysis;", "analysis"),
        ("lib.rs", "use crate::dsp::tone;", "dsp::tone"),
        ("formats/hdf5.rs", "let f = std::fs::File::open(p);", "std::fs::File::open"),
        ("analysis/mod.rs", "use std::{fmt, time::Instant};", "std::time::Instant"),
        ("report/mod.rs", "let now = std::time::SystemTime::now();", "std::time::SystemTime::now"),
        ("record/mod.rs", "use std::env;", "std::env"),
        ("figures/map.rs", "use web_sys::HtmlCanvasElement;", "web_sys::HtmlCanvasElement"),
        ("base/units.rs", "fn f(x: wasm_bindgen::JsValue) {}", "wasm_bindgen::JsValue"),
        ("cli/mod.rs", "use std::net::TcpListener;", "std::net::TcpListener"),
        ("extra/mod.rs", "", "a module that the table does not name"),
        // After strings, comments and test modules that only look like code.
        (
            "dsp/tone.rs",
            "const A: &str = \"}\"; // {\n#[cfg(test)]\nmod tests { fn f() { let c = '}'; } }\nuse crate::scan::Scan;",
            "scan::Scan",
        ),
        (
            "dsp/tone.rs",
            "const A: &str = r#\"\"}\"#; /* { /* nested */ */ use crate::scan::Scan;",
            "scan::Scan",
        ),
    ] {
        assert!(
            planted(path, text).contains(&expected.to_owned()),
            "{path}: {text}\nfound {:?}",
            planted(path, text)
        );
    }
}

#[test]
fn what_is_allowed_is_not_found() {
    for (path, text) in [
        (
            "scan/open.rs",
            "use crate::formats::container::{Access, ArrayInfo as Info}; use super::grid::Grid;",
        ),
        ("scan/open.rs", "#[cfg(test)]\nmod tests { use crate::report::model; use std::fs; }"),
        (
            "scan/open.rs",
            "// use crate::report::model;\n/* std::fs */ const A: &str = \"crate::report::model std::fs\";",
        ),
        (
            "render/html/page.rs",
            "use crate::report::model::Figure; use super::escape::text; use super::super::finite::f;",
        ),
        (
            "render/html/page.rs",
            "#[cfg(test)]\nuse crate::report::rounding;\nuse crate::base::units;",
        ),
        ("cli/disk.rs", "use std::fs::File; use std::time::Instant;"),
        ("wasm/session.rs", "use js_sys::Float64Array; use wasm_bindgen::prelude::*;"),
        (
            "record/date.rs",
            "let a = Instant::parse(x); struct Instant; use std::fmt; std::mem::take(&mut a);",
        ),
        (
            "field/power.rs",
            "use crate::scan::Grid; mod inner { use super::cells; use super::super::Scale; }",
        ),
        ("build/bind.rs", "use wasm_bindgen_cli_support::Bindgen;"),
    ] {
        assert_eq!(planted(path, text), Vec::<String>::new(), "{path}: {text}");
    }
    // A file that only tests compile may use anything.
    let sources = [
        Source {
            path: "figures/mod.rs".to_owned(),
            text: "#[cfg(test)]\nmod gallery;\nmod map;".to_owned(),
        },
        Source {
            path: "figures/gallery.rs".to_owned(),
            text: "use crate::analysis::run;".to_owned(),
        },
    ];
    assert!(violations(&sources).is_empty());
}

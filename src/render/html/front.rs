//! The first page: what, which, when; the sentence; the few values; the field at a glance; the
//! gravest findings in the margin; what was not measured, cautions and signatures at the foot.

use std::collections::BTreeMap;

use super::definitions::definitions;
use super::escape;
use super::figure;
use super::finding::findings;
use super::labels::Labels;
use super::quantities::headline;
use super::symbol::rich;
use super::verdicts::verdicts;
use crate::report::model::{FindingRow, Front};

/// The gravest findings, this many, stand beside the sentence.
const AT_SENTENCE: usize = 1;

/// The front of the sheet.
///
/// The gravest finding stands with the sentence that it qualifies, the others beside the figure.
pub fn front(front: &Front, drawn: &BTreeMap<String, String>, labels: &Labels) -> String {
    let kind = if front.kind.is_empty() {
        String::new()
    } else {
        format!("<p class=\"kind\">{}</p>\n", escape::text(&front.kind))
    };
    let (gravest, others) = front.gravest.split_at(front.gravest.len().min(AT_SENTENCE));
    format!(
        "<section class=\"front\">\n<header>\n{kind}<h1><span data-path=\"title\">{title}</span></h1>\n{identity}</header>\n\
         {sentence}{judged}{values}{glance}\
         <footer>\n{not_measured}{cautions}{changes}{signatures}</footer>\n</section>\n",
        title = escape::text(&front.title),
        identity = definitions("identity", &front.identity),
        sentence = with_gravest(&sentence(&front.sentence), gravest),
        judged = front.verdicts.as_ref().map_or_else(String::new, verdicts),
        changes = list("changes", &front.changes),
        values = headline(&front.headline, labels),
        glance = beside(
            "glance",
            &figure::row(&front.figures, drawn, labels),
            &findings("margin", others)
        ),
        not_measured = not_measured(&front.not_measured, labels),
        cautions = list("cautions", &front.cautions),
        signatures = signatures(&front.signatures),
    )
}

/// Whether findings stand in the margin of the front's figure.
pub fn has_notes_at_figure(front: &Front) -> bool {
    front.gravest.len() > AT_SENTENCE
}

/// The sentence with the gravest finding in its margin, or below it where that is long.
fn with_gravest(sentence: &str, gravest: &[FindingRow]) -> String {
    if gravest.iter().any(FindingRow::is_long) {
        return beside("says", sentence, "") + &findings("margin wide", gravest);
    }
    beside("says", sentence, &findings("margin", gravest))
}

/// The main column with its margin, the whole width where there is no margin; nothing for nothing.
fn beside(class: &str, main: &str, margin: &str) -> String {
    match (main.is_empty(), margin.is_empty()) {
        (true, true) => String::new(),
        (false, true) => {
            format!("<div class=\"alone {class}\">\n{main}</div>\n")
        }
        _ => format!(
            "<div class=\"beside {class}\">\n<div class=\"main\">\n{main}</div>\n\
             <aside>\n{margin}</aside>\n</div>\n"
        ),
    }
}

fn sentence(sentences: &[String]) -> String {
    let paragraphs: String =
        sentences.iter().map(|text| format!("<p>{}</p>\n", rich(text))).collect();
    if paragraphs.is_empty() {
        String::new()
    } else {
        format!("<div class=\"sentence\">\n{paragraphs}</div>\n")
    }
}

fn not_measured(lines: &[String], labels: &Labels) -> String {
    if lines.is_empty() {
        return String::new();
    }
    format!(
        "<div class=\"not-measured\"><h2>{}</h2>\n{}</div>\n",
        escape::text(labels.not_measured),
        list("lines", lines)
    )
}

fn list(class: &str, lines: &[String]) -> String {
    if lines.is_empty() {
        return String::new();
    }
    let items: String = lines.iter().map(|line| format!("<li>{}</li>\n", rich(line))).collect();
    format!("<ul class=\"{class}\">\n{items}</ul>\n")
}

fn signatures(names: &[String]) -> String {
    if names.is_empty() {
        return String::new();
    }
    let lines: String = names
        .iter()
        .map(|name| format!("<div class=\"signature\"><p>{}</p></div>\n", escape::text(name)))
        .collect();
    format!("<div class=\"signatures\">\n{lines}</div>\n")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::sample;

    #[test]
    fn the_margin_takes_room_only_for_findings() {
        let mut model = sample::model();
        let set = |model: &Front| front(model, &BTreeMap::new(), Labels::of("en"));
        let with = |count: usize| vec![sample::finding_row(); count];
        for (count, margins) in [(0, 0), (1, 1), (2, 2), (3, 2)] {
            model.front.gravest = with(count);
            let html = set(&model.front);
            assert_eq!(html.matches("<aside>").count(), margins, "{count}");
            assert_eq!(html.matches("class=\"beside ").count(), margins, "{count}");
            assert_eq!(has_notes_at_figure(&model.front), html.contains("beside glance"));
        }
    }

    /// A long finding would leave a gap beside it below the sentence.
    #[test]
    fn a_long_finding_takes_the_whole_width() {
        let mut model = sample::model();
        model.front.gravest = vec![sample::finding_row(); 2];
        model.front.gravest[0].text = "word ".repeat(60);
        let html = front(&model.front, &BTreeMap::new(), Labels::of("en"));
        assert_eq!(html.matches("<aside>").count(), 1);
        let (sentence, finding) = (html.find("\"sentence\""), html.find("findings margin wide"));
        assert!(sentence.is_some() && sentence < finding && finding < html.find("glance"));
    }

    #[test]
    fn an_empty_front_still_has_its_title() {
        let mut model = sample::model();
        model.front = Front {
            title: "Field sheet".to_owned(),
            kind: String::new(),
            identity: vec![],
            sentence: vec![],
            verdicts: None,
            changes: vec![],
            headline: vec![],
            figures: vec![],
            gravest: vec![],
            not_measured: vec![],
            cautions: vec![],
            signatures: vec![],
        };
        let html = front(&model.front, &BTreeMap::new(), Labels::of("en"));
        assert!(html.contains("<h1><span data-path=\"title\">Field sheet</span></h1>"));
        for absent in ["<dl", "<table", "<ul", "<aside", "class=\"kind\"", "signature", "sentence"]
        {
            assert!(!html.contains(absent), "{absent}");
        }
    }
}

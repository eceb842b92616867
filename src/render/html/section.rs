//! The sections after the front, block by block.

use std::collections::BTreeMap;

use super::budget::budget;
use super::definitions::definitions;
use super::escape;
use super::figure;
use super::finding::findings;
use super::labels::Labels;
use super::quantities::{Group, quantities};
use super::symbol::rich;
use super::table::table;
use crate::report::model::{Block, Figure, FindingRow, Section};

/// Findings that follow a row of figures stand in its margin, up to this many.
const MOST_IN_MARGIN: usize = 4;

/// A section under its heading. A section without blocks keeps its heading on screen only.
///
/// Consecutive tables of quantities become one table, so that their columns align; up to four
/// findings directly after figures stand beside them.
pub fn section(section: &Section, drawn: &BTreeMap<String, String>, labels: &Labels) -> String {
    let mut blocks = String::new();
    let mut rest = section.blocks.as_slice();
    while let Some((first, after)) = rest.split_first() {
        rest = after;
        match (first, after.first()) {
            (Block::Figures { figures }, Some(Block::Findings { rows }))
                if stands_beside(figures, rows) =>
            {
                blocks += &format!(
                    "<div class=\"beside\">\n<div class=\"main\">\n{}</div>\n<aside>\n{}</aside>\n</div>\n",
                    figure::row(figures, drawn, labels),
                    findings("margin", rows)
                );
                rest = &after[1..];
            }
            (Block::Quantities { .. }, _) => {
                let more = after
                    .iter()
                    .take_while(|block| matches!(block, Block::Quantities { .. }))
                    .count();
                let groups: Vec<Group<'_>> =
                    std::iter::once(first).chain(&after[..more]).filter_map(group).collect();
                blocks += &quantities(&groups, labels);
                rest = &after[more..];
            }
            _ => blocks += &block(first, drawn, labels),
        }
    }
    let empty = if blocks.is_empty() { " empty" } else { "" };
    format!(
        "<section class=\"part{empty}\" id=\"section-{}\">\n<h2>{}</h2>\n{blocks}</section>\n",
        escape::text(&section.id),
        escape::text(&section.heading)
    )
}

/// Whether a row of figures has the findings after it in its margin.
pub fn stands_beside(figures: &[Figure], findings: &[FindingRow]) -> bool {
    !figures.is_empty() && (1..=MOST_IN_MARGIN).contains(&findings.len())
}

fn group(block: &Block) -> Option<Group<'_>> {
    match block {
        Block::Quantities { heading, rows } => Some(Group { heading, rows }),
        _ => None,
    }
}

fn block(block: &Block, drawn: &BTreeMap<String, String>, labels: &Labels) -> String {
    match block {
        Block::Paragraph { text } if text.is_empty() => String::new(),
        Block::Paragraph { text } => format!("<p class=\"prose\">{}</p>\n", rich(text)),
        Block::Definitions { items, .. } if items.is_empty() => String::new(),
        Block::Definitions { heading, items } => {
            let heading = if heading.is_empty() {
                String::new()
            } else {
                format!("<h3>{}</h3>\n", escape::text(heading))
            };
            format!("<div class=\"stated\">\n{heading}{}</div>\n", definitions("pairs", items))
        }
        Block::Quantities { heading, rows } => quantities(&[Group { heading, rows }], labels),
        Block::Table { caption, head, rows } => table(caption, head, rows),
        Block::Findings { rows } => findings("full", rows),
        Block::Figures { figures } => figure::row(figures, drawn, labels),
        Block::Budgets { tables } => tables.iter().map(budget).collect(),
        Block::List { items } if items.is_empty() => String::new(),
        Block::List { items } => {
            let lines: String =
                items.iter().map(|item| format!("<li>{}</li>\n", rich(item))).collect();
            format!("<ul class=\"prose\">\n{lines}</ul>\n")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::sample;

    fn set(blocks: Vec<Block>) -> String {
        let part = Section { id: "field".to_owned(), heading: "The field".to_owned(), blocks };
        section(&part, &BTreeMap::new(), Labels::of("en"))
    }

    #[test]
    fn findings_stand_beside_the_figures_before_them() {
        let figures = || Block::Figures { figures: vec![sample::figure("a")] };
        let rows = |count| Block::Findings { rows: vec![sample::finding_row(); count] };
        assert!(set(vec![figures(), rows(4)]).contains("<aside>"));
        assert!(!set(vec![figures(), rows(5)]).contains("<aside>"));
        assert!(!set(vec![rows(1), figures()]).contains("<aside>"));
    }

    #[test]
    fn quantities_of_several_scans_share_one_table() {
        let part = |scan: &str| Block::Quantities {
            heading: scan.to_owned(),
            rows: vec![sample::quantity_row("pc"), sample::quantity_row("pr")],
        };
        let html = set(vec![
            part("one"),
            part("two"),
            Block::Paragraph { text: "x".to_owned() },
            part("three"),
        ]);
        assert_eq!(html.matches("<table").count(), 2);
        assert_eq!(html.matches("<tbody").count(), 3);
        assert_eq!(html.matches("data-quantity").count(), 6);
    }

    #[test]
    fn a_section_without_blocks_is_marked() {
        assert!(set(vec![]).contains("class=\"part empty\""));
        assert!(set(vec![Block::List { items: vec![] }]).contains("class=\"part empty\""));
    }
}

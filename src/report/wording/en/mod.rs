//! English.

mod bubbles;
mod budgets;
mod calibration;
mod drive;
mod findings;
mod formats;
mod labels;
mod layouts;
mod page;
mod problems;
mod quantities;
mod reasons;
mod record_problems;
mod sentences;
mod stated_problems;
mod typed_problems;
mod verdicts;

use super::{Filled, QuantityWords, Sentence, Wording};
use crate::report::rounding::{ENGLISH, Marks};

/// English words.
pub struct English;

impl Wording for English {
    fn tag(&self) -> &'static str {
        "en"
    }
    fn marks(&self) -> Marks {
        ENGLISH
    }
    fn label(&self, key: &str) -> Option<&'static str> {
        labels::label(key).or_else(|| budgets::label(key)).or_else(|| drive::label(key))
    }
    fn quantity(&self, id: &str) -> Option<QuantityWords> {
        quantities::quantity(id).or_else(|| drive::quantity(id))
    }
    fn method(&self, code: &str) -> Option<&'static str> {
        reasons::method(code).or_else(|| drive::method(code))
    }
    fn reason(&self, code: &str) -> Option<&'static str> {
        reasons::reason(code).or_else(|| drive::reason(code))
    }
    fn blank(&self, path: &str) -> Option<&'static str> {
        labels::blank(path)
    }
    fn page_words(&self) -> &'static [(&'static str, &'static str)] {
        page::WORDS
    }
    fn outline(&self) -> &'static [(&'static str, &'static str)] {
        page::OUTLINE
    }
    fn progress(&self, points: &str, all: &str, rate: &str, left: &str) -> String {
        format!("{points} of {all} points · {rate} points a second · {left} s left")
    }
    fn draws(&self, draws: &str, seed: &str) -> String {
        format!(
            "Drawn: standard deviation over {draws} draws of the sensitivity's errors (seed {seed}), noise and low-pass left out."
        )
    }
    fn transfer_story(&self, args: &[(&str, String)]) -> String {
        calibration::transfer_story(args)
    }
    fn budget_sum(&self, args: &[(&str, String)]) -> String {
        budgets::sum(args)
    }
    fn budget_drawn(&self, args: &[(&str, String)]) -> String {
        budgets::drawn(args)
    }
    fn assumed_source(&self, name: &str, value: &str) -> String {
        budgets::assumed(name, value)
    }
    fn opening(&self, date: Option<&str>, temperature: &str, level: Option<&str>) -> String {
        sentences::opening(date, temperature, level)
    }
    fn judged(&self, args: &[(&str, String)]) -> String {
        sentences::judged(args)
    }
    fn counted(&self, not: usize, undecided: usize, conform: usize) -> String {
        sentences::counted(not, undecided, conform)
    }
    fn condition(&self, condition: &str, stated: &str) -> String {
        verdicts::condition(condition, stated)
    }
    fn reading(&self, megabytes: &str) -> String {
        format!("Reading … {megabytes} MiB")
    }
    fn finding(&self, code: &str, args: &Filled<'_>) -> Option<Sentence> {
        findings::finding(code, args).or_else(|| drive::finding(code, args))
    }
    fn remark(&self, code: &str, args: &Filled<'_>) -> Option<String> {
        verdicts::remark(code, args)
    }
    fn problem(&self, code: &str, args: &Filled<'_>) -> Option<Sentence> {
        problems::problem(code, args)
    }
    fn axes(&self, axes: &str) -> String {
        layouts::axes(axes)
    }
}

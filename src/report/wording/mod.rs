//! All prose of the sheet, a language a folder. Everything else carries codes and typed arguments.

mod de;
pub mod en;

use crate::base::finding::{Arg, Args, Place};
use crate::base::units;
use crate::report::rounding::{self, Marks};

/// Name and explanation of a quantity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct QuantityWords {
    pub name: &'static str,
    /// What it is and how it is computed, for a reader who has never scanned a field.
    pub explanation: &'static str,
    /// Standard and term, or paper, on which the definition rests.
    pub reference: &'static str,
}

/// What a finding or a problem says, and what to do.
#[derive(Debug, Clone, PartialEq)]
pub struct Sentence {
    pub text: String,
    pub hint: String,
}

impl Sentence {
    /// A sentence with what to do about it; the hint may be empty.
    pub fn new(text: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { text: text.into(), hint: hint.into() }
    }
}

/// The words of one language.
pub trait Wording: Sync {
    /// BCP 47 tag.
    fn tag(&self) -> &'static str;
    fn marks(&self) -> Marks;
    /// Short words by key: headings, labels, axis names.
    fn label(&self, key: &str) -> Option<&'static str>;
    fn quantity(&self, id: &str) -> Option<QuantityWords>;
    fn method(&self, code: &str) -> Option<&'static str>;
    fn reason(&self, code: &str) -> Option<&'static str>;
    /// A blank of the record, as one would ask for it: `repetition rate`.
    fn blank(&self, path: &str) -> Option<&'static str>;
    /// Words of the page around the sheet, by key.
    fn page_words(&self) -> &'static [(&'static str, &'static str)];
    /// Headings of the empty sheet with what each will hold.
    fn outline(&self) -> &'static [(&'static str, &'static str)];
    /// The progress line, from numbers already printed.
    fn progress(&self, points: &str, all: &str, rate: &str, left: &str) -> String;
    fn reading(&self, megabytes: &str) -> String;
    /// How the errors of a response were drawn at random.
    fn draws(&self, draws: &str, seed: &str) -> String;
    /// What was compared to transfer a calibration, by named texts.
    fn transfer_story(&self, args: &[(&str, String)]) -> String;
    /// How the lines of an uncertainty budget combine, by named texts.
    fn budget_sum(&self, args: &[(&str, String)]) -> String;
    /// What drawing every line of a budget gives, by named texts.
    fn budget_drawn(&self, args: &[(&str, String)]) -> String;
    /// Opening of the plain sentence, up to what was measured: date as typed, temperature and level
    /// with their units.
    fn opening(&self, date: Option<&str>, temperature: &str, level: Option<&str>) -> String;
    /// The verdict of the first stated value, after the opening. Known: measured, name, stated, outcome.
    fn judged(&self, args: &[(&str, String)]) -> String;
    /// How many stated values do not conform, are undecided, conform; more than one in all.
    fn counted(&self, not: usize, undecided: usize, conform: usize) -> String;
    /// A condition under which a value is stated, by its name and word.
    fn condition(&self, condition: &str, stated: &str) -> String;
    /// A source of uncertainty that was assumed, with its printed value.
    fn assumed_source(&self, name: &str, value: &str) -> String;
    fn finding(&self, code: &str, args: &Filled<'_>) -> Option<Sentence>;
    fn problem(&self, code: &str, args: &Filled<'_>) -> Option<Sentence>;
    /// A remark on a verdict, or the rule by which it was made.
    fn remark(&self, code: &str, args: &Filled<'_>) -> Option<String>;
    /// The dimensions of an array, from `t 1500 × y 41 × x 61`.
    fn axes(&self, axes: &str) -> String;
}

/// Languages that are there; the first stands for every other.
pub const LANGUAGES: [&dyn Wording; 2] = [&en::English, &de::German];

/// The words of a language tag (`de`, `de-AT`); English for every other.
pub fn of(tag: &str) -> &'static dyn Wording {
    let primary = tag.split(['-', '_']).next().unwrap_or_default();
    LANGUAGES
        .into_iter()
        .find(|words| words.tag().eq_ignore_ascii_case(primary))
        .unwrap_or(LANGUAGES[0])
}

/// Arguments of a sentence as text.
pub struct Filled<'a> {
    args: &'a Args,
    place: &'a Place,
    marks: Marks,
}

impl<'a> Filled<'a> {
    /// Arguments and place of a finding or problem, to be printed with the given marks.
    pub fn new(args: &'a Args, place: &'a Place, marks: Marks) -> Self {
        Self { args, place, marks }
    }

    /// An argument as text; numbers rounded, measures with the unit of the trade. Empty if absent.
    pub fn get(&self, name: &str) -> String {
        match self.args.get(name) {
            None => String::new(),
            Some(Arg::Count(n)) => n.to_string(),
            Some(Arg::Number(v)) => rounding::digits(*v, 3, self.marks),
            Some(Arg::Text(text)) => shorten(text, 200),
            Some(Arg::List(list)) => shorten(&list.join(", "), 300),
            Some(Arg::Measure { value, unit }) => measure(*value, unit, self.marks),
        }
    }

    /// A text argument whole, to be copied by the reader. Empty if absent.
    pub fn whole(&self, name: &str) -> String {
        match self.args.get(name) {
            Some(Arg::Text(text)) => text.clone(),
            _ => self.get(name),
        }
    }

    /// Whether an argument is there.
    pub fn has(&self, name: &str) -> bool {
        self.args.contains_key(name)
    }

    /// A count, zero if absent.
    pub fn count(&self, name: &str) -> u64 {
        match self.args.get(name) {
            Some(Arg::Count(n)) => *n,
            _ => 0,
        }
    }

    /// A text with what it names put in: `{name}` is an argument, `{}` the path of the place. (Much smaller in
    /// the page's engine than a `format!` a sentence.)
    pub fn fill(&self, text: &str) -> String {
        let mut out = String::with_capacity(2 * text.len());
        let mut rest = text;
        while let Some((before, after)) = rest.split_once('{') {
            out.push_str(before);
            let (name, after) = after.split_once('}').unwrap_or((after, ""));
            out.push_str(&if name.is_empty() { self.path() } else { self.get(name) });
            rest = after;
        }
        out + rest
    }

    /// The path of the place: JSON path, array path, line.
    pub fn path(&self) -> String {
        self.place.path.clone().unwrap_or_default()
    }
}

fn shorten(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let mut out: String = text.chars().take(most).collect();
    out.push('…');
    out
}

/// A value with an SI unit, printed in the unit of the trade to three digits.
pub fn measure(value: f64, unit: &str, marks: Marks) -> String {
    in_print_unit(value, unit, |value| rounding::digits(value, 3, marks))
}

/// As [`measure`], for what a person stated: every digit of it.
pub fn stated_measure(value: f64, unit: &str, marks: Marks) -> String {
    in_print_unit(value, unit, |value| rounding::shortest(value, marks))
}

fn in_print_unit(value: f64, unit: &str, text_of: impl Fn(f64) -> String) -> String {
    let key = match unit {
        "m" => "mm",
        "s" => "us",
        "Hz" if value.abs() >= 1e5 => "MHz",
        "V" => "mV",
        "Pa" => "MPa",
        other => other,
    };
    let (text, factor) = units::print_unit(key).map_or((unit, 1.0), |u| (u.text, u.per_si));
    let space = if matches!(text, "°" | "") { "" } else { "\u{a0}" };
    format!("{}{space}{text}", text_of(value * factor))
}

#[cfg(test)]
mod tests;

//! The finished report as data: everything a renderer or a figure needs, worded and rounded.
//!
//! Renderers and figures read this model and nothing else. Text here is plain (not escaped);
//! symbols use `_{}` for upright subscripts (`p_{c}`), figures carry numbers in printed units.

use serde::{Deserialize, Serialize};

use crate::base::finding::Severity;
use crate::base::verdict::Outcome;

/// The whole sheet, in reading order.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SheetModel {
    pub language: String,
    pub front: Front,
    pub sections: Vec<Section>,
    /// Running head and foot of every printed page.
    pub running_head: String,
    pub running_foot: String,
}

/// The first page.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Front {
    /// Title as typed, or the kind of document.
    pub title: String,
    /// What kind of document this is, in one line above the title.
    pub kind: String,
    /// Device, serial, site, date, sheet number; blanks stand as "not stated".
    pub identity: Vec<Item>,
    /// Plain sentences: what was measured, and what it does not say.
    pub sentence: Vec<String>,
    /// Verdicts on the stated values; none where nothing is stated.
    pub verdicts: Option<VerdictTable>,
    /// The handful of values that a clinic reads first.
    pub headline: Vec<QuantityRow>,
    /// Code of the figure shown on the front, a `Figure::id`; none when there is nothing to show.
    pub figures: Vec<Figure>,
    /// Gravest findings, worst first.
    pub gravest: Vec<FindingRow>,
    /// What was not measured, in one line each.
    pub not_measured: Vec<String>,
    pub cautions: Vec<String>,
    /// Changes after the first computation, in one line each, above the signatures.
    pub changes: Vec<String>,
    /// Labels of the signature lines.
    pub signatures: Vec<String>,
}

/// The verdicts as a table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct VerdictTable {
    /// Heads of the columns: quantity, stated, measured, probability, E_{n} (empty where no row has
    /// one), verdict.
    pub head: Vec<String>,
    pub rows: Vec<VerdictRow>,
    /// What holds for all rows: where the values are stated, the rule.
    pub notes: Vec<String>,
}

/// Characters of a line of remarks on paper, and of a line below a stated value.
const REMARK_LINE: usize = 100;
const ORIGIN_LINE: usize = 22;

impl VerdictTable {
    /// How many lines it fills on paper, about.
    pub fn lines(&self) -> usize {
        let of = |text: &str, width: usize| text.chars().count().div_ceil(width);
        let row = |row: &VerdictRow| {
            1 + of(&row.origin, ORIGIN_LINE) + of(&row.remarks.join(" "), REMARK_LINE)
        };
        let notes = self.notes.iter().map(|note| of(note, REMARK_LINE));
        self.rows.iter().map(row).chain(notes).sum()
    }
}

/// One verdict as printed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct VerdictRow {
    pub quantity: String,
    pub scan: String,
    pub symbol: String,
    pub name: String,
    /// What it is and how it is computed, with its source, for readers who ask.
    #[serde(default)]
    pub explanation: String,
    /// `7.8 MPa ± 20 %`.
    pub stated: String,
    /// Path of the stated value in the record.
    pub path: String,
    /// Where it is stated, or empty.
    pub origin: String,
    /// `8.30 ± 0.72 MPa`, or why there is none.
    pub measured: String,
    /// Probability of conformity, or empty.
    pub probability: String,
    pub e_n: String,
    pub outcome: Outcome,
    /// The word for the outcome.
    pub word: String,
    /// Why it is undecided and what would settle it.
    pub remarks: Vec<String>,
}

/// A label and its text.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Item {
    pub label: String,
    pub text: String,
    /// True where nothing was stated.
    pub blank: bool,
    /// Path of the blank in the record, for editing in place and for jumps; empty when there is none.
    pub path: String,
    /// The text that was typed, where it says it otherwise; empty when it does not.
    #[serde(default)]
    pub typed: String,
}

/// A part of the sheet under one heading.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Section {
    /// Anchor, for example `field`.
    pub id: String,
    pub heading: String,
    pub blocks: Vec<Block>,
}

/// What a section is made of.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "block", rename_all = "kebab-case")]
pub enum Block {
    Paragraph {
        text: String,
    },
    /// Definition list, set in two columns.
    Definitions {
        heading: String,
        items: Vec<Item>,
    },
    /// Quantities of one scan.
    Quantities {
        heading: String,
        rows: Vec<QuantityRow>,
    },
    Table {
        caption: String,
        head: Vec<String>,
        rows: Vec<Vec<String>>,
    },
    Findings {
        rows: Vec<FindingRow>,
    },
    /// Figures set side by side, all of one width.
    Figures {
        figures: Vec<Figure>,
    },
    List {
        items: Vec<String>,
    },
    /// Uncertainty budgets, a table each.
    Budgets {
        tables: Vec<BudgetTable>,
    },
}

/// The uncertainty budget of one quantity as printed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BudgetTable {
    pub caption: String,
    /// Source, u, distribution, sensitivity, contribution, share, origin.
    pub head: Vec<String>,
    pub rows: Vec<BudgetRow>,
    /// How the lines combine, what drawing gives, what is missing.
    pub notes: Vec<String>,
}

/// A source in a budget.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BudgetRow {
    /// Source, u, distribution, sensitivity, contribution.
    pub cells: Vec<String>,
    /// Part of the variance, 0 to 1.
    pub share: f64,
    pub share_text: String,
    /// Where the source's value is from.
    pub from: String,
}

/// One quantity as printed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct QuantityRow {
    pub id: String,
    pub symbol: String,
    pub name: String,
    /// Digits with unit, or empty when there is a reason instead.
    pub value: String,
    pub unit: String,
    /// `± 0.4`, or empty.
    pub uncertainty: String,
    /// Value before corrections with their name, or empty.
    pub uncorrected: String,
    /// Window, time base and method in words.
    pub basis: String,
    pub reference: String,
    /// Why there is no value, or empty.
    pub reason: String,
    /// What it is and how it is computed, with its source, for readers who ask.
    pub explanation: String,
    pub scan: String,
}

/// One finding as printed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FindingRow {
    pub severity: Severity,
    /// The word for the severity, in the sheet's language.
    pub word: String,
    pub code: String,
    pub place: String,
    pub text: String,
    pub hint: String,
}

/// Characters from which a finding is too long for the margin beside the sentence.
const LONG_FINDING: usize = 250;

impl FindingRow {
    /// Whether it is better read over the whole width than in a margin.
    pub fn is_long(&self) -> bool {
        self.text.chars().count() + self.hint.chars().count() > LONG_FINDING
    }
}

/// A figure: data, axis words, caption. Numbers are in the printed units of the axis labels.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Figure {
    /// File name stem and anchor, for example `focal-plane-pc`.
    pub id: String,
    /// A caption that lets a torn-out figure tell its story.
    pub caption: String,
    pub alt: String,
    pub body: FigureBody,
}

/// What a figure shows.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "figure", rename_all = "kebab-case")]
pub enum FigureBody {
    /// A map with scale bar, contours, peak cross, replaced points hatched.
    Map(MapData),
    /// The field at a glance: the main map, x profile along its top and y profile along its right
    /// side sharing its axes, the focal waveform beside or below.
    Glance { map: MapData, x_profile: CurvesData, y_profile: CurvesData, waveform: CurvesData },
    /// One or more curves over a common axis.
    Curves(CurvesData),
}

/// The data of one panel of a figure.
#[derive(Debug, Clone, Copy)]
pub enum Panel<'a> {
    Map(&'a MapData),
    Curves(&'a CurvesData),
}

impl FigureBody {
    /// The panels, a map before its profiles.
    pub fn panels(&self) -> Vec<Panel<'_>> {
        match self {
            Self::Map(map) => vec![Panel::Map(map)],
            Self::Glance { map, x_profile, y_profile, waveform } => {
                let curves = [x_profile, y_profile, waveform].map(Panel::Curves);
                [vec![Panel::Map(map)], curves.to_vec()].concat()
            }
            Self::Curves(data) => vec![Panel::Curves(data)],
        }
    }
}

/// An axis: its words, its limits, and whether equal steps are equal ratios. Decibels are numbers
/// like others.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct AxisData {
    /// `x`, `time`, `frequency`; may contain `_{}`.
    pub label: String,
    /// `mm`; empty for a pure number.
    pub unit: String,
    /// Fixed limits; otherwise they follow the data.
    pub limits: Option<(f64, f64)>,
    /// Logarithmic, with decades for ticks; only positive values are shown. Of curves alone: maps
    /// and the axes that profiles share with a map stay linear.
    #[serde(default)]
    pub log: bool,
}

/// A map on a regular or unequally stepped grid.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MapData {
    pub x: AxisData,
    pub y: AxisData,
    /// Column positions, length nx, printed units, monotonic (may fall).
    pub x_values: Vec<f64>,
    /// Row positions, length ny.
    pub y_values: Vec<f64>,
    /// Row-major (ny, nx), printed units of `value`; null where there is no value.
    pub values: Vec<Option<f64>>,
    /// What is shown, with unit, for the scale bar.
    pub value: AxisData,
    pub scale: ColourScale,
    /// Levels drawn as contours, value in printed units, with label (`−6 dB`).
    pub contours: Vec<(f64, String)>,
    /// Peak position, printed units.
    pub peak: Option<(f64, f64)>,
    /// Row-major indices of points that were replaced.
    pub replaced: Vec<usize>,
}

/// Which colour scale a map needs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum ColourScale {
    /// From zero or the minimum up: cividis.
    Sequential,
    /// About zero.
    Diverging,
    /// A phase.
    Cyclic,
}

/// Curves over a common abscissa.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CurvesData {
    pub x: AxisData,
    pub y: AxisData,
    pub curves: Vec<Curve>,
    /// Horizontal level markers: value, label.
    pub levels: Vec<(f64, String)>,
    /// Vertical markers: position, label (a harmonic's number, a window's edge).
    pub marks: Vec<(f64, String)>,
    /// Shaded interval of the abscissa with its label (the analysis window).
    pub span: Option<(f64, f64, String)>,
    /// Points labelled directly on the curve: x, y, label (`p_{c}`).
    pub points: Vec<(f64, f64, String)>,
    /// A horizontal double arrow: x from, x to, y, label (a width).
    pub width: Option<(f64, f64, f64, String)>,
}

/// One curve.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Curve {
    /// Direct label at its end; empty when the caption tells it all.
    pub label: String,
    pub x: Vec<f64>,
    /// Same length as `x`; null breaks the line.
    pub y: Vec<Option<f64>>,
    /// Uncertainty band, lower and upper, same length; empty when there is none.
    pub band: Vec<(f64, f64)>,
    pub style: CurveStyle,
}

/// How a curve is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum CurveStyle {
    /// The measured curve, in the accent colour.
    Measured,
    /// A second curve, thin and grey.
    Reference,
    /// Dashed.
    Dashed,
    /// Separate dots.
    Dots,
}

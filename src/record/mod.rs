//! What a person states about a measurement: `record.json`, from draft text to a checked
//! [`Record`].
//!
//! ```text
//! text ─ parse ─ walk ─ types ─ check ─ Record ─ lookup
//!                 │       │
//!   docs/record.schema.json (from types and limits)
//! ```
//!
//! - `parse`: text to a JSON value, with limits of size and depth; no key twice.
//! - `walk`: the value against the documented schema (`shape` reads the schema; `known`, `nearest`
//!   and `ending` guess what was meant). Every problem at once, with path, expected, found.
//! - `types` and its siblings (`device`, `excitation`, `sensor`, `response`, `analysis`, `scans`,
//!   `layout`, `stated`, `uncertainty`): the record as Rust types. A blank is `None`, unless a
//!   default is documented; then the default is filled in.
//! - `check`: what one key alone cannot show.
//! - `stated_table`: stated values from a table, checked like those of the record.
//! - `lookup`: questions that later stages ask of a checked record.
//! - `typed`, `edit`, `kept_changes`, `tiers`: text typed into a blank of the sheet, the draft with it, what
//!   is kept as changed, and what has to be computed again.
//!
//! Conventions: SI, the unit in the key; temperatures in °C, times of day in ISO 8601; a blank is a
//! missing key or null; paths count list entries from 0; the phase of a response is that of V/P
//! under exp(+jωt).

mod analysis;
mod check;
pub mod date;
mod device;
mod edit;
mod ending;
mod excitation;
mod frequency_correlation;
mod kept_changes;
mod known;
mod layout;
mod layouts_used;
#[cfg(not(target_arch = "wasm32"))]
mod limits;
mod lookup;
mod nearest;
mod parse;
mod path;
mod place;
mod read;
mod response;
mod scans;
mod schema;
mod sensor;
mod shape;
mod stated;
mod stated_table;
mod tiers;
mod typed;
mod types;
mod uncertainty;
mod walk;

pub use analysis::{
    Analysis, AutoWord, BubbleRule, Corrections, LowPass, LowPassFilter, LowPassKind, Method,
    WindowChoice, WindowRule,
};
pub use device::{Device, ElementsOff, Frame, FrameMethod, Handedness, Water, ZZero};
pub use edit::{Edited, add_stated, edit, paste_stated, remove};
pub use excitation::{Excitation, ExcitationMode, Exposure, LevelKind, LevelPoint};
pub use frequency_correlation::{CorrelationLength, CorrelationWord, FrequencyCorrelation};
pub use kept_changes::note_between;
pub use layout::{ArrayRef, AxisName, AxisSource, AxisSteps, Layout, TimeSource, TimeSteps, Volts};
pub use layouts_used::with_layouts;
pub use lookup::SensorChain;
pub use parse::{MAX_BYTES, MAX_DEPTH};
pub use read::{read, read_value};
pub use response::{Feature, Load, RefersTo, Response, WITHOUT_RANGE};
pub use scans::{Acquisition, Motion, Role, ScanEntry};
pub use schema::SCHEMA_TEXT;
#[cfg(not(target_arch = "wasm32"))]
pub use schema::schema;
pub use sensor::{EffectiveRadius, GainRange, Sensor, SensorCheck, SensorKind};
pub use stated::{Change, Decision, DecisionRule, Equipment, Medium, Reading, Stated, Tolerance};
pub use stated_table::{MAX_TABLE_BYTES, other_names, with_stated_table};
pub use tiers::{Tier, changed_paths, tier_between, tier_of};
pub use typed::{LONGEST_TEXT, Reading as TypedReading, Typed, number_and_unit, takes_text, typed};
pub use types::{Record, SCHEMA};
pub use uncertainty::{AppliesTo, Distribution, SourceEntry, Uncertainty, UncertaintyKind};

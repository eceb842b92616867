//! What an assembly may take over from an earlier one of the same scans: waveforms at the peaks, spreads
//! and draws. Each is kept with all that it was made from, and taken over only where that is equal, so
//! that a sheet made with it is the same to the last bit.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;

use super::focal_wave::{Waveform, waveform};
use super::prepare::PreparedScan;
use super::survey::ScanPlan;
use crate::base::budget::{Budget, Drawn};
use crate::base::error::Problem;
use crate::calibration::Conditioning;
use crate::pulse::Windows;
use crate::uncertainty::draw;

/// Most draws that are kept.
const DRAWS: usize = 400;

/// Parts of earlier assemblies; empty at first.
#[derive(Default)]
pub struct Kept {
    waves: RefCell<BTreeMap<(String, usize), (WaveFrom, Waveform)>>,
    spreads: RefCell<Spreads>,
    draws: RefCell<Vec<(f64, Budget, Option<Drawn>)>>,
    /// Whether spreads and draws that are not kept are left for later.
    later: Cell<bool>,
    waiting: Cell<Waiting>,
}

/// What was left for later.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Waiting {
    #[default]
    Nothing,
    /// Draws of budgets: values and uncertainties stand.
    Draws,
    /// Spreads of maps: uncertainties, and what is judged by them, are not yet right.
    Spreads,
}

/// Spreads by scan and source.
type Spreads = BTreeMap<(String, &'static str), (SpreadFrom, Deviations)>;

/// Standard deviations by quantity.
pub type Deviations = BTreeMap<&'static str, f64>;

#[derive(PartialEq)]
struct WaveFrom {
    conditioning: Conditioning,
    windows: Windows,
    frequency_hz: Option<f64>,
}

/// All that a spread is drawn from.
#[derive(Clone, PartialEq)]
pub struct SpreadFrom {
    pub maps: [Vec<f64>; 3],
    pub slopes: [Vec<Vec<f64>>; 3],
    pub levels: Vec<f64>,
}

impl Kept {
    /// Begins an assembly. With `later`, spreads and draws that are not known are left out.
    pub fn begin(&self, later: bool) {
        self.later.set(later);
        self.waiting.set(Waiting::Nothing);
    }

    /// What was left out since [`Kept::begin`].
    pub fn waiting(&self) -> Waiting {
        self.waiting.get()
    }

    fn wait(&self, what: Waiting) {
        self.waiting.set(self.waiting.get().max(what));
    }

    /// The waveform of a point (storage order).
    ///
    /// # Errors
    /// When the file cannot be read there.
    pub fn wave(
        &self,
        part: &PreparedScan,
        plan: &ScanPlan,
        point: usize,
    ) -> Result<Waveform, Problem> {
        let from = WaveFrom {
            conditioning: plan.conditioning.clone(),
            windows: plan.windows_of(&part.scan, point),
            frequency_hz: plan.frequency_hz,
        };
        let key = (part.scan.id.clone(), point);
        if let Some((before, wave)) = self.waves.borrow().get(&key)
            && *before == from
        {
            return Ok(wave.clone());
        }
        let made = waveform(part, plan, point)?;
        self.waves.borrow_mut().insert(key, (from, made.clone()));
        Ok(made)
    }

    /// The spread of what is read from a scan's maps by one source. Where it is left for later, the
    /// last one found, from other maps, stands in for it.
    pub fn spread(
        &self,
        scan: &str,
        source: &'static str,
        from: SpreadFrom,
        make: impl FnOnce() -> Deviations,
    ) -> Deviations {
        let key = (scan.to_owned(), source);
        if let Some((before, found)) = self.spreads.borrow().get(&key)
            && *before == from
        {
            return found.clone();
        }
        if self.later.get() {
            self.wait(Waiting::Spreads);
            return self
                .spreads
                .borrow()
                .get(&key)
                .map(|(_, found)| found.clone())
                .unwrap_or_default();
        }
        let made = make();
        self.spreads.borrow_mut().insert(key, (from, made.clone()));
        made
    }

    /// What drawing the lines of a budget gives.
    pub fn draw(&self, value: f64, budget: &Budget) -> Option<Drawn> {
        let found =
            self.draws.borrow().iter().find_map(|(of, from, drawn)| {
                (*of == value && from == budget).then(|| drawn.clone())
            });
        if let Some(drawn) = found {
            return drawn;
        }
        if self.later.get() {
            self.wait(Waiting::Draws);
            return None;
        }
        let drawn = draw(value, budget);
        let mut draws = self.draws.borrow_mut();
        if draws.len() >= DRAWS {
            draws.drain(..DRAWS / 2);
        }
        draws.push((value, budget.clone(), drawn.clone()));
        drawn
    }
}

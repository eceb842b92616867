//! Transfer of a calibration by a check source: the same small source measured by a calibrated sensor
//! and by this one at each gain range.

mod factors;
mod reading;

pub use factors::{DeviceReadings, ReferenceReadings, Stated, comparisons, factor, joined};
pub use reading::{FEATURES, Reading, ReadingSetup, Together, reading};

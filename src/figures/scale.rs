//! What an axis spans, and where a value lies on it.

use super::ticks::{LARGEST, sane_range};

/// Least number that a logarithmic axis shows.
pub const SMALLEST: f64 = 1.0 / LARGEST;

/// What an axis spans, fit to draw: rising, wide enough to tell its ends apart, positive where it
/// is logarithmic.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    pub low: f64,
    pub high: f64,
    pub log: bool,
}

impl Range {
    /// A range of equal steps.
    pub fn linear(low: f64, high: f64) -> Self {
        let (low, high) = sane_range(low, high);
        Self { low, high, log: false }
    }

    /// A range of equal ratios; ends that are not positive and finite leave one decade.
    pub fn log(low: f64, high: f64) -> Self {
        if !(is_shown(low, true) && is_shown(high, true)) {
            return Self { low: 1.0, high: 10.0, log: true };
        }
        let (low, high) = (low.min(high), low.max(high));
        if high / low > 1.0 + 1e-9 {
            return Self { low, high, log: true };
        }
        Self { low: (0.9 * low).max(SMALLEST), high: (1.1 * high).min(LARGEST), log: true }
    }

    /// True when a value lies on the axis.
    pub fn holds(&self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }

    /// Length, in decades where it is logarithmic.
    pub fn length(&self) -> f64 {
        if self.log { self.high.log10() - self.low.log10() } else { self.high - self.low }
    }
}

impl From<(f64, f64)> for Range {
    fn from((low, high): (f64, f64)) -> Self {
        Self::linear(low, high)
    }
}

/// True when a value can be shown at all: finite, on a logarithmic axis positive.
pub fn is_shown(value: f64, log: bool) -> bool {
    if log { (SMALLEST..=LARGEST).contains(&value) } else { value.is_finite() }
}

/// A scale from values to a coordinate on paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    pub range: Range,
    pub from_pt: f64,
    pub to_pt: f64,
}

impl Scale {
    /// Coordinate of a value; far outside the axis it is held at a finite distance, as is what is
    /// not positive on a logarithmic one.
    pub fn at(&self, value: f64) -> f64 {
        let Range { low, high, log } = self.range;
        let part = if !log {
            (value / 2.0 - low / 2.0) / (high / 2.0 - low / 2.0)
        } else if value <= 0.0 {
            f64::NEG_INFINITY
        } else {
            (value.log10() - low.log10()) / self.range.length()
        };
        let part = if part.is_nan() { 0.0 } else { part.clamp(-1e4, 1e4) };
        self.from_pt + part * (self.to_pt - self.from_pt)
    }

    /// Value at a coordinate.
    pub fn value(&self, at: f64) -> f64 {
        let part = (at - self.from_pt) / (self.to_pt - self.from_pt);
        let Range { low, high, log } = self.range;
        if log {
            10f64.powf(low.log10() * (1.0 - part) + high.log10() * part)
        } else {
            low * (1.0 - part) + high * part
        }
    }

    /// True when a value can be shown at all on this scale.
    pub fn shows(&self, value: f64) -> bool {
        is_shown(value, self.range.log)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scale_is_exact_and_finite() {
        let scale = Scale { range: (-2.0, 6.0).into(), from_pt: 100.0, to_pt: 20.0 };
        assert_eq!((scale.at(-2.0), scale.at(2.0), scale.at(6.0)), (100.0, 60.0, 20.0));
        assert!((scale.value(scale.at(1.3)) - 1.3).abs() < 1e-12);
        let huge = Scale { range: (-1e300, 1e300).into(), from_pt: 0.0, to_pt: 1.0 };
        let wild = [f64::MAX, f64::MIN, f64::NAN, f64::INFINITY, 0.0, 5e-324];
        assert!(wild.iter().all(|v| huge.at(*v).is_finite()));
        let huge = Scale { range: Range::log(1e-300, 1e300), from_pt: 0.0, to_pt: 1.0 };
        assert!(wild.iter().all(|v| huge.at(*v).is_finite()));
    }

    // By definition: equal ratios are equal lengths.
    #[test]
    fn a_decade_is_as_long_as_the_next() {
        let scale = Scale { range: Range::log(0.1, 1000.0), from_pt: 10.0, to_pt: 90.0 };
        for (value, at) in [(0.1, 10.0), (1.0, 30.0), (10.0, 50.0), (100.0, 70.0), (1000.0, 90.0)] {
            assert!((scale.at(value) - at).abs() < 1e-9, "{value}");
            assert!((scale.value(at) / value - 1.0).abs() < 1e-12, "{value}");
        }
        assert!((scale.at(2.0) - scale.at(1.0) - 20.0 * 2f64.log10()).abs() < 1e-9);
        assert!(scale.at(0.0) < -1e5 && scale.at(-3.0) < -1e5);
        assert!(!scale.shows(0.0) && !scale.shows(-1.0) && !scale.shows(f64::NAN));
        assert!(scale.shows(5.0) && !scale.shows(f64::INFINITY) && !scale.shows(5e-324));
    }

    #[test]
    fn no_logarithmic_range_is_empty_or_reaches_zero() {
        let ends = [0.0, -1.0, 1.0, 1.0 + 1e-15, 1e300, 1e-300, 5e-324, f64::NAN, f64::INFINITY];
        for low in ends {
            for high in ends {
                let range = Range::log(low, high);
                assert!(range.low > 0.0 && range.high.is_finite(), "{low} {high}");
                assert!(range.length() > 1e-10, "{low} {high}");
            }
        }
    }
}

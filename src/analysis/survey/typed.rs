//! A window that the record states, in place of the found one.

use crate::base::finding::{Arg, Finding, Severity};
use crate::record::WindowChoice;
use crate::scan::Scan;

/// Stated limits, in samples of the reference point; a blank is found from the signal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Typed {
    start: Option<f64>,
    stop: Option<f64>,
    samples: usize,
}

/// Where the burst stands, in samples, and how exactly that is known: a period.
#[derive(Debug, Clone, Copy)]
pub struct Seen {
    pub arrival: f64,
    pub end: f64,
    pub period: f64,
}

impl Typed {
    /// The limits of a record's choice at a point of a scan; `None` where it states neither.
    pub fn new(choice: &WindowChoice, scan: &Scan, point: usize) -> Option<Self> {
        let sample = |t: f64| (t - scan.t0(point)) / scan.interval_s;
        let (start, stop) = (choice.start_s.map(sample), choice.stop_s.map(sample));
        (start.is_some() || stop.is_some()).then_some(Self { start, stop, samples: scan.samples })
    }

    /// Both limits, where both are stated.
    pub fn both(&self) -> Option<(f64, f64)> {
        self.start.zip(self.stop)
    }

    /// Whole samples between the limits, those that are not stated as found; `None` when the record
    /// holds fewer than two of them.
    pub fn samples_between(&self, found: (usize, usize)) -> Option<(usize, usize)> {
        let last = self.samples as f64;
        let whole = |limit: Option<f64>, found: usize| {
            limit.map_or(found, |v| v.round().clamp(0.0, last) as usize)
        };
        let (a, b) = (whole(self.start, found.0), whole(self.stop, found.1));
        (b >= a + 2).then_some((a, b))
    }

    /// The largest number of whole cycles from the start on that ends by the stop, inside the record;
    /// `None` when that is none.
    pub fn whole_cycles(&self, found: Option<(f64, f64)>, period: f64) -> Option<(f64, f64)> {
        let last = self.samples as f64 - 1.0;
        let a = self.start.or(found.map(|f| f.0))?.max(0.0);
        let b = self.stop.or(found.map(|f| f.1))?.min(last);
        // A limit typed in decimals may miss the cycle's end by a rounding.
        let cycles = ((b - a) / period + 1e-6).floor();
        (cycles >= 1.0).then(|| (a, (a + cycles * period).min(last)))
    }

    /// What is to be said of the limits: beyond the record; for a steady part, before the arrival or
    /// after the burst's end; for a whole pulse, inside the burst.
    pub fn remarks(&self, seen: &Seen, steady: bool, at_s: impl Fn(f64) -> f64) -> Vec<Finding> {
        let mut out = Vec::new();
        let last = self.samples as f64;
        let outside = |limit: &f64| *limit < -0.5 || *limit > last + 0.5;
        if [self.start, self.stop].iter().flatten().any(outside) {
            out.push(
                Finding::new(Severity::Caution, "window-beyond-record")
                    .with("from", Arg::measure(at_s(0.0), "s"))
                    .with("to", Arg::measure(at_s(last), "s")),
            );
        }
        let early = |limit: Option<f64>| limit.is_some_and(|v| v < seen.arrival - seen.period);
        let late = |limit: Option<f64>| limit.is_some_and(|v| v > seen.end + seen.period);
        let inside = |start: Option<f64>, stop: Option<f64>| {
            start.is_some_and(|v| v > seen.arrival + seen.period)
                || stop.is_some_and(|v| v < seen.end - seen.period)
        };
        let code = if steady {
            let beyond = [self.start, self.stop].into_iter().any(|v| early(v) || late(v));
            beyond.then_some("window-beyond-burst")
        } else {
            inside(self.start, self.stop).then_some("window-cuts-pulse")
        };
        out.extend(code.map(|code| {
            Finding::new(Severity::Caution, code)
                .with("from", Arg::measure(at_s(seen.arrival), "s"))
                .with("to", Arg::measure(at_s(seen.end), "s"))
        }));
        out.into_iter().map(|f| f.at("analysis.window")).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(start: Option<f64>, stop: Option<f64>) -> Typed {
        Typed { start, stop, samples: 1000 }
    }

    fn codes(typed: Typed, steady: bool) -> Vec<String> {
        let seen = Seen { arrival: 200.0, end: 800.0, period: 20.0 };
        typed.remarks(&seen, steady, |s| s).into_iter().map(|f| f.code).collect()
    }

    /// From 210 to 305 with a period of 20: four whole cycles, 210 to 290 (by hand); limits that are not
    /// stated are the found ones; nothing reaches beyond the record.
    #[test]
    fn whole_cycles() {
        assert_eq!(typed(Some(210.0), Some(305.0)).whole_cycles(None, 20.0), Some((210.0, 290.0)));
        let found = Some((240.0, 700.0));
        assert_eq!(typed(Some(300.0), None).whole_cycles(found, 20.0), Some((300.0, 700.0)));
        assert_eq!(typed(None, Some(310.0)).whole_cycles(found, 20.0), Some((240.0, 300.0)));
        assert_eq!(typed(None, Some(310.0)).whole_cycles(None, 20.0), None);
        assert_eq!(typed(Some(210.0), Some(225.0)).whole_cycles(None, 20.0), None);
        assert_eq!(typed(Some(910.0), Some(2e3)).whole_cycles(None, 20.0), Some((910.0, 990.0)));
        // 3 × 0.1 in binary is not 0.3: still three cycles.
        let three = typed(Some(0.0), Some(0.1 + 0.2)).whole_cycles(None, 0.1).expect("cycles");
        assert!((three.1 - 0.3).abs() < 1e-9);
    }

    #[test]
    fn whole_samples() {
        let found = (180, 840);
        assert_eq!(typed(Some(210.4), Some(700.6)).samples_between(found), Some((210, 701)));
        assert_eq!(typed(None, Some(700.0)).samples_between(found), Some((180, 700)));
        assert_eq!(typed(Some(-50.0), Some(1e4)).samples_between(found), Some((0, 1000)));
        assert_eq!(typed(Some(2e3), Some(3e3)).samples_between(found), None);
        assert_eq!(typed(Some(900.0), None).samples_between(found), None);
    }

    #[test]
    fn what_is_told() {
        assert!(codes(typed(Some(240.0), Some(780.0)), true).is_empty());
        assert_eq!(codes(typed(Some(150.0), None), true), ["window-beyond-burst"]);
        assert_eq!(codes(typed(None, Some(900.0)), true), ["window-beyond-burst"]);
        assert_eq!(codes(typed(Some(240.0), Some(780.0)), false), ["window-cuts-pulse"]);
        assert!(codes(typed(Some(150.0), Some(900.0)), false).is_empty());
        assert_eq!(codes(typed(Some(-9.0), Some(900.0)), false), ["window-beyond-record"]);
        assert_eq!(
            codes(typed(Some(240.0), Some(1100.0)), true),
            ["window-beyond-record", "window-beyond-burst"]
        );
    }
}

//! Units that nothing states, by what a scan can be (common practice, no source).

/// Steps and extents of scans, m.
const STEPS_M: (f64, f64) = (5e-6, 2e-2);
const EXTENTS_M: (f64, f64) = (1e-4, 0.5);
/// Sample intervals, s. Three decades less a little: at most one unit fits.
const INTERVALS_S: (f64, f64) = (2.01e-10, 2e-7);
/// Largest voltages.
const VOLTAGES_V: (f64, f64) = (1e-5, 60.0);

/// The one unit of length in which such steps and such an extent are those of a scan.
pub fn length(values: &[f64]) -> Option<&'static str> {
    let mut rising = values.to_vec();
    rising.sort_by(f64::total_cmp);
    let extent = rising.last()? - rising.first()?;
    let step = rising
        .windows(2)
        .map(|w| w[1] - w[0])
        .filter(|d| *d > 1e-6 * extent)
        .fold(f64::INFINITY, f64::min);
    let within = |v: f64, (low, high): (f64, f64)| v >= low && v <= high;
    only([("m", 1.0), ("mm", 1e-3), ("um", 1e-6)], |factor| {
        within(step * factor, STEPS_M) && within(extent * factor, EXTENTS_M)
    })
}

/// The one unit of time in which this is a sample interval.
pub fn interval(dt: f64) -> Option<&'static str> {
    only([("s", 1.0), ("ms", 1e-3), ("us", 1e-6), ("ns", 1e-9)], |factor| {
        dt * factor >= INTERVALS_S.0 && dt * factor <= INTERVALS_S.1
    })
}

/// Whether numbers up to this size can be volts.
pub fn volts(largest: f64) -> bool {
    largest >= VOLTAGES_V.0 && largest <= VOLTAGES_V.1
}

fn only<const N: usize>(
    units: [(&'static str, f64); N],
    fits: impl Fn(f64) -> bool,
) -> Option<&'static str> {
    let mut fitting = units.into_iter().filter(|(_, factor)| fits(*factor));
    match (fitting.next(), fitting.next()) {
        (Some((unit, _)), None) => Some(unit),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_unit_or_none() {
        let axis = |step: f64, n: i32| (0..n).map(|i| f64::from(i) * step).collect::<Vec<_>>();
        assert_eq!(length(&axis(0.25, 41)), Some("mm"));
        assert_eq!(length(&axis(2.5e-4, 41)), Some("m"));
        assert_eq!(length(&axis(250.0, 41)), Some("um"));
        // 0.01 to 0.3: metres or millimetres.
        assert_eq!(length(&axis(0.01, 31)), None);
        assert_eq!(interval(0.02), Some("us"));
        assert_eq!(interval(2e-8), Some("s"));
        assert_eq!(interval(4.0), Some("ns"));
        assert_eq!(interval(1e9), None);
        assert!(volts(0.8) && !volts(2000.0));
    }
}

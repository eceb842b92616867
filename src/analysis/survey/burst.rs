//! Where the burst stands in a raw waveform, and where it is quiet before it.

use crate::dsp::statistics::median;

/// Rms re the loudest part from which a part belongs to the burst.
const BURST_LEVEL: f64 = 0.02;
/// Rms re the quiet level from which a part belongs to the burst.
const ABOVE_QUIET: f64 = 4.0;

/// Extent of a burst, samples.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Burst {
    pub start: usize,
    pub stop: usize,
    /// Lowest rms over a period anywhere in the record.
    pub quiet_rms: f64,
    /// Largest rms over a period.
    pub loud_rms: f64,
    /// Rms over the last period re the largest.
    pub tail_ratio: f64,
}

/// Finds the burst around the loudest period: outward from there, up to where the rms over a period
/// stays below the limits for a whole period. `None` for records shorter than two periods or without
/// any variation.
pub fn find(volts: &[f64], period: f64) -> Option<Burst> {
    let width = (period.round() as usize).max(2);
    let level = moving_rms(volts, width)?;
    let (top, loud) = level.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1))?;
    let mut sorted = level.clone();
    sorted.sort_by(f64::total_cmp);
    let quiet = sorted[sorted.len() / 20];
    if *loud <= 0.0 {
        return None;
    }
    let limit = (BURST_LEVEL * loud).max(ABOVE_QUIET * quiet).min(0.5 * loud);
    let walk = |range: &mut dyn Iterator<Item = usize>| {
        let mut last = top;
        let mut below = 0;
        for i in range {
            if level[i] >= limit {
                last = i;
                below = 0;
            } else {
                below += 1;
                if below > width {
                    break;
                }
            }
        }
        last
    };
    let start = walk(&mut (0..=top).rev());
    let stop = walk(&mut (top..level.len()));
    // level[i] covers the samples i .. i + width.
    Some(Burst {
        start: start + width / 2,
        stop: (stop + width / 2 + 1).min(volts.len()),
        quiet_rms: quiet,
        loud_rms: *loud,
        tail_ratio: level.last().map_or(0.0, |v| v / loud),
    })
}

/// The quiet part before a sample.
#[derive(Debug, Clone, PartialEq)]
pub struct Quiet {
    pub range: Option<(usize, usize)>,
    pub feed_through: Option<FeedThrough>,
}

/// Drive feed-through before the arrival.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FeedThrough {
    pub start: usize,
    pub stop: usize,
    pub rms_v: f64,
}

/// The longest stretch before `gate` without feed-through: periods whose rms stands more than four
/// times above the median of the pre-arrival periods are feed-through.
pub fn quiet_part(volts: &[f64], gate: usize, period: f64) -> Quiet {
    let width = (period.round() as usize).max(4);
    let blocks: Vec<(usize, f64)> = (0..gate / width)
        .map(|b| {
            let part = &volts[b * width..(b + 1) * width];
            (b, rms_about_mean(part))
        })
        .collect();
    let Some(typical) = median(&blocks.iter().map(|b| b.1).collect::<Vec<_>>()) else {
        return Quiet { range: (gate > 0).then_some((0, gate)), feed_through: None };
    };
    let loud = |rms: f64| typical > 0.0 && rms > 4.0 * typical;
    let first = blocks.iter().find(|b| loud(b.1)).map(|b| b.0);
    let last = blocks.iter().rfind(|b| loud(b.1)).map(|b| b.0);
    let Some((first, last)) = first.zip(last) else {
        return Quiet { range: Some((0, gate)), feed_through: None };
    };
    let (start, stop) = (first * width, (last + 1) * width);
    let after = (stop + width, gate);
    let before = (0, start.saturating_sub(width));
    let length = |r: (usize, usize)| r.1.saturating_sub(r.0);
    let range = if length(after) >= length(before) { after } else { before };
    let top = blocks.iter().map(|b| b.1).fold(0.0, f64::max);
    Quiet {
        range: (length(range) > 0).then_some(range),
        feed_through: Some(FeedThrough { start, stop, rms_v: top }),
    }
}

fn rms_about_mean(part: &[f64]) -> f64 {
    let n = part.len() as f64;
    let mean = part.iter().sum::<f64>() / n;
    (part.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / n).sqrt()
}

/// Rms about the own mean over each stretch of `width` samples.
fn moving_rms(volts: &[f64], width: usize) -> Option<Vec<f64>> {
    if volts.len() < 2 * width {
        return None;
    }
    // About the record's median, so that a large offset costs no digits.
    let centre = median(volts)?;
    let mut sums = (0.0, 0.0);
    let mut out = Vec::with_capacity(volts.len() - width + 1);
    for (i, v) in volts.iter().enumerate() {
        let v = v - centre;
        sums.0 += v;
        sums.1 += v * v;
        if i >= width {
            let old = volts[i - width] - centre;
            sums.0 -= old;
            sums.1 -= old * old;
        }
        if i + 1 >= width {
            let n = width as f64;
            out.push(((sums.1 - sums.0 * sums.0 / n) / n).max(0.0).sqrt());
        }
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn record() -> Vec<f64> {
        (0..2000)
            .map(|i| {
                let noise = 1e-3 * f64::from((i * 7919) % 101 - 50) / 50.0;
                let feed =
                    if (50..150).contains(&i) { 0.1 * (f64::from(i) * 0.3).sin() } else { 0.0 };
                let tone = if (900..1500).contains(&i) { (f64::from(i) * 0.2).sin() } else { 0.0 };
                0.3 + noise + feed + tone
            })
            .collect()
    }

    #[test]
    fn burst_and_quiet_part() {
        let volts = record();
        let period = 2.0 * std::f64::consts::PI / 0.2;
        let burst = find(&volts, period).expect("found");
        assert!(
            (880..=905).contains(&burst.start) && (1495..=1525).contains(&burst.stop),
            "{burst:?}"
        );
        let quiet = quiet_part(&volts, burst.start - 60, period);
        let (a, b) = quiet.range.expect("some");
        assert!((150..260).contains(&a) && b == burst.start - 60);
        assert!(quiet.feed_through.is_some());
    }

    #[test]
    fn a_flat_line_has_no_burst() {
        assert_eq!(find(&[1.0; 500], 20.0), None);
        assert_eq!(find(&[], 20.0), None);
    }
}

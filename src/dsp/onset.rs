//! When a burst sets in.

/// Instant, in samples, at which the root mean square over one period first reaches half its largest
/// value: the half-amplitude point of the rise, between samples by linear interpolation of the mean
/// square. `None` for a range shorter than two periods or without signal.
///
/// # Units
/// `period` in samples.
pub fn half_rise<T: Copy + Into<f64>>(
    waveform: &[T],
    start: usize,
    stop: usize,
    period: f64,
) -> Option<f64> {
    let stop = stop.min(waveform.len());
    let part = waveform.get(start.min(stop)..stop).unwrap_or(&[]);
    let width = (period.round() as usize).max(1);
    if part.len() < 2 * width {
        return None;
    }
    let square = |v: T| {
        let v: f64 = v.into();
        v * v
    };
    let mut sum: f64 = part[..width].iter().map(|v| square(*v)).sum();
    let mut levels = Vec::with_capacity(part.len() - width + 1);
    levels.push(sum);
    for (new, old) in part[width..].iter().zip(part) {
        sum += square(*new) - square(*old);
        levels.push(sum);
    }
    let top = levels.iter().copied().fold(0.0, f64::max);
    // Half the amplitude is a quarter of the mean square.
    let wanted = 0.25 * top;
    if wanted <= 0.0 {
        return None;
    }
    let i = levels.iter().position(|level| *level >= wanted)?;
    let within = match i.checked_sub(1).map(|before| levels[before]) {
        Some(before) if levels[i] > before => (wanted - before) / (levels[i] - before) - 1.0,
        _ => 0.0,
    };
    // The level at i covers the samples i .. i + width.
    Some(start as f64 + i as f64 + within + 0.5 * (width as f64 - 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A tone that rises within two periods has its half-amplitude point where it was put within a
    /// sixth of a period (the mean over a period leads a rise that bends), and the same within a
    /// fifth whatever its phase.
    #[test]
    fn a_smooth_rise() {
        let period = 25.0;
        let mut all = Vec::new();
        for phase in 0..8 {
            let at = 400.3;
            let w: Vec<f32> = (0..1500)
                .map(|i| {
                    let t = f64::from(i) - at;
                    let envelope = 1.0 / (1.0 + (-t / 12.0).exp());
                    let th = 2.0 * std::f64::consts::PI * t / period + 0.4 * f64::from(phase);
                    (envelope * th.sin()) as f32
                })
                .collect();
            let found = half_rise(&w, 50, 1400, period).expect("a rise");
            assert!((found - at).abs() < period / 6.0, "{phase} {found}");
            all.push(found);
        }
        all.sort_by(f64::total_cmp);
        assert!(all[7] - all[0] < 0.2 * period, "{all:?}");
        assert!(half_rise(&[0.0f64; 200], 0, 200, 20.0).is_none());
        assert!(half_rise(&[1.0f64; 30], 0, 30, 20.0).is_none());
    }
}

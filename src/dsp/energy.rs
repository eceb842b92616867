//! Integrals of squares.

/// Σ x² over a range times the sample interval; sums in `f64`.
pub fn square_integral<T: Copy + Into<f64>>(
    waveform: &[T],
    start: usize,
    stop: usize,
    interval: f64,
) -> f64 {
    let stop = stop.min(waveform.len());
    let part = waveform.get(start.min(stop)..stop).unwrap_or(&[]);
    let mut sums = [0.0f64; 4];
    let chunks = part.chunks_exact(4);
    let rest: f64 = chunks.remainder().iter().map(|x| square((*x).into())).sum();
    for chunk in chunks {
        for (sum, x) in sums.iter_mut().zip(chunk) {
            *sum += square((*x).into());
        }
    }
    (sums.iter().sum::<f64>() + rest) * interval
}

fn square(x: f64) -> f64 {
    x * x
}

/// Times at which the running integral of x² (less a constant noise power) reaches the given
/// fractions of its end value, in samples from `start`, by linear interpolation of the running sum;
/// the square is taken constant over ± half a sample about each instant.
///
/// `None` when the integral is not positive or a fraction is not reached.
pub fn fraction_times(
    waveform: &[f64],
    start: usize,
    stop: usize,
    noise_power: f64,
    fractions: &[f64],
) -> Option<Vec<f64>> {
    let part = waveform.get(start..stop.min(waveform.len()))?;
    let total: f64 = part.iter().map(|x| x * x - noise_power).sum();
    if total <= 0.0 {
        return None;
    }
    fractions
        .iter()
        .map(|fraction| {
            let wanted = fraction * total;
            let mut sum = 0.0;
            for (i, x) in part.iter().enumerate() {
                let next = sum + x * x - noise_power;
                if next >= wanted {
                    let within = if next > sum { (wanted - sum) / (next - sum) } else { 0.0 };
                    return Some(i as f64 + within - 0.5);
                }
                sum = next;
            }
            None
        })
        .collect()
}

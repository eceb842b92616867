//! Normal noise from a seed: the same numbers for the same seed.

/// A source of independent numbers of the standard normal distribution.
#[derive(Debug, Clone)]
pub struct Noise {
    state: u64,
    spare: Option<f64>,
}

impl Noise {
    /// A source that begins at a seed.
    pub fn new(seed: u64) -> Self {
        Self { state: seed, spare: None }
    }

    /// SplitMix64 (Steele, Lea, Flood 2014; constants from memory).
    fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number equally likely anywhere above 0, up to 1.
    pub fn uniform(&mut self) -> f64 {
        ((self.bits() >> 11) as f64 + 1.0) * 2f64.powi(-53)
    }

    /// The next number (Box and Muller 1958).
    #[allow(clippy::should_implement_trait, reason = "it never ends")]
    pub fn next(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let radius = (-2.0 * self.uniform().ln()).sqrt();
        let (sin, cos) = (2.0 * std::f64::consts::PI * self.uniform()).sin_cos();
        self.spare = Some(radius * sin);
        radius * cos
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Moments of the standard normal distribution: 0, 1, 0, 3.
    #[test]
    fn moments() {
        let mut noise = Noise::new(1);
        const N: usize = 200_000;
        let mut sums = [0.0; 4];
        for _ in 0..N {
            let v = noise.next();
            for (k, sum) in sums.iter_mut().enumerate() {
                *sum += v.powi(k as i32 + 1) / N as f64;
            }
        }
        for (sum, (expected, off)) in
            sums.iter().zip([(0.0, 0.01), (1.0, 0.02), (0.0, 0.04), (3.0, 0.1)])
        {
            assert!((sum - expected).abs() < off, "{sums:?}");
        }
        assert_eq!(Noise::new(5).next(), Noise::new(5).next());
        assert_ne!(Noise::new(5).next(), Noise::new(6).next());
    }
}

//! Round numbers for axes, and their words.

/// Ticks of one axis: multiples of 1, 2 or 5 times a power of ten.
#[derive(Debug, Clone, PartialEq)]
pub struct Ticks {
    /// Positions, rising.
    pub values: Vec<f64>,
    /// Distance from tick to tick.
    pub step: f64,
    /// Labels stand in units of ten to this power; zero where plain numbers are short enough.
    pub exponent: i32,
    decimals: usize,
}

/// Largest magnitude that is drawn; keeps every difference finite.
pub const LARGEST: f64 = 1e300;

/// Makes a range fit to draw: finite, rising, wide enough to tell its ends apart.
pub fn sane_range(low: f64, high: f64) -> (f64, f64) {
    if !low.is_finite() || !high.is_finite() {
        return (0.0, 1.0);
    }
    let (low, high) = if low <= high { (low, high) } else { (high, low) };
    let (low, high) = (low.clamp(-LARGEST, LARGEST), high.clamp(-LARGEST, LARGEST));
    let size = low.abs().max(high.abs());
    if size < 1e-290 {
        return (-1.0, 1.0);
    }
    if high - low > 1e-9 * size {
        return (low, high);
    }
    ((low - 0.1 * size).max(-LARGEST), (high + 0.1 * size).min(LARGEST))
}

/// The least range that holds all finite values; none when there is no finite value.
pub fn extent(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    values.filter(|v| v.is_finite()).fold(None, |range, v| match range {
        None => Some((v, v)),
        Some((low, high)) => Some((low.min(v), high.max(v))),
    })
}

/// At most about `wanted` ticks in a sane range.
pub fn ticks(low: f64, high: f64, wanted: usize) -> Ticks {
    let (low, high) = sane_range(low, high);
    let raw = (high - low) / wanted.max(1) as f64;
    let mut power = raw.log10().floor() as i32;
    let scaled = raw / 10f64.powi(power);
    let mut factor = 10.0;
    for candidate in [1.0, 2.0, 5.0] {
        if scaled <= candidate * (1.0 + 1e-9) {
            factor = candidate;
            break;
        }
    }
    if factor == 10.0 {
        factor = 1.0;
        power += 1;
    }
    let value = |n: f64| multiple(n, factor, power);
    let step = value(1.0);
    let first = (low / step - 1e-6).ceil();
    let last = (high / step + 1e-6).floor();
    let count = (last - first).clamp(0.0, 4.0 * wanted.max(1) as f64) as usize;
    let values = if last < first {
        Vec::new()
    } else {
        (0..=count).map(|n| value(first + n as f64)).collect()
    };
    let exponent = shared_exponent(low.abs().max(high.abs()), power);
    let decimals = usize::try_from(exponent - power).unwrap_or(0).min(12);
    Ticks { values, step, exponent, decimals }
}

/// `n` times `factor` times ten to `power`, without the noise of a product by 0.1.
pub fn multiple(n: f64, factor: f64, power: i32) -> f64 {
    if (-300..0).contains(&power) {
        n * factor / 10f64.powi(-power)
    } else {
        n * factor * 10f64.powi(power)
    }
}

/// Ten to a multiple of three where plain numbers would be long; zero otherwise.
fn shared_exponent(largest: f64, step_power: i32) -> i32 {
    let size = largest.log10().floor() as i32;
    if size >= 5 || size <= -4 || (step_power < -4 && size < 0) {
        size.div_euclid(3) * 3
    } else {
        0
    }
}

impl Ticks {
    /// Given positions whose words stand in units of ten to `exponent`.
    pub fn given(values: Vec<f64>, exponent: i32) -> Self {
        Self { values, step: 0.0, exponent, decimals: 0 }
    }

    /// The tick's number as printed, without its exponent.
    pub fn label(&self, value: f64, decimal_mark: char) -> String {
        let scaled = if self.exponent < -300 {
            value * 1e300 / 10f64.powi(self.exponent + 300)
        } else {
            value / 10f64.powi(self.exponent)
        };
        number(scaled, self.decimals, decimal_mark)
    }

    /// All labels in the order of the ticks.
    pub fn labels(&self, decimal_mark: char) -> Vec<String> {
        self.values.iter().map(|v| self.label(*v, decimal_mark)).collect()
    }
}

/// A number with a true minus sign, never `-0`.
pub fn number(value: f64, decimals: usize, decimal_mark: char) -> String {
    if !value.is_finite() {
        return String::new();
    }
    let digits = format!("{:.decimals$}", value.abs());
    let negative = value < 0.0 && digits.bytes().any(|b| b.is_ascii_digit() && b != b'0');
    let digits = digits.replace('.', decimal_mark.encode_utf8(&mut [0; 4]));
    if negative { format!("\u{2212}{digits}") } else { digits }
}

/// `10⁻⁶` for an exponent.
pub fn power_of_ten(exponent: i32) -> String {
    let mut out = String::from("10");
    for c in exponent.to_string().chars() {
        out.push(match c {
            '-' => '⁻',
            '1' => '¹',
            '2' => '²',
            '3' => '³',
            '4' => '⁴',
            '5' => '⁵',
            '6' => '⁶',
            '7' => '⁷',
            '8' => '⁸',
            '9' => '⁹',
            _ => '⁰',
        });
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(low: f64, high: f64, wanted: usize) -> Vec<String> {
        ticks(low, high, wanted).labels('.')
    }

    // Common practice, no source: steps of 1, 2, 5.
    #[test]
    fn steps_are_one_two_five() {
        assert_eq!(words(-10.0, 10.0, 5), ["−10", "−5", "0", "5", "10"]);
        assert_eq!(words(0.0, 1.0, 5), ["0.0", "0.2", "0.4", "0.6", "0.8", "1.0"]);
        assert_eq!(words(-0.31, 0.29, 6), ["−0.3", "−0.2", "−0.1", "0.0", "0.1", "0.2"]);
        assert_eq!(words(0.0, 97.0, 5), ["0", "20", "40", "60", "80"]);
        assert_eq!(ticks(0.0, 0.3, 3).labels(','), ["0,0", "0,1", "0,2", "0,3"]);
    }

    #[test]
    fn long_numbers_share_an_exponent_of_three() {
        let big = ticks(0.0, 3.2e6, 4);
        assert_eq!(big.exponent, 6);
        assert_eq!(big.labels('.'), ["0", "1", "2", "3"]);
        let small = ticks(0.0, 4e-7, 2);
        assert_eq!(
            (small.exponent, small.labels('.')),
            (-9, ["0", "200", "400"].map(str::to_owned).to_vec())
        );
        assert_eq!(power_of_ten(-9), "10⁻⁹");
    }

    #[test]
    fn no_range_panics_or_prints_a_non_number() {
        let ends = [
            0.0,
            -0.0,
            1.0,
            -1.0,
            1e308,
            -1e308,
            5e-324,
            1e-300,
            -1e-300,
            1e15,
            1e15 + 1.0,
            1e5,
            12345.678,
            f64::NAN,
            f64::INFINITY,
            f64::NEG_INFINITY,
            f64::MAX,
            f64::MIN,
        ];
        for low in ends {
            for high in ends {
                for wanted in [0, 1, 3, 10] {
                    let made = ticks(low, high, wanted);
                    assert!(made.values.len() <= 4 * wanted.max(1) + 1);
                    assert!(made.step > 0.0 && made.step.is_finite(), "{low} {high}");
                    for label in made.labels('.') {
                        assert!(!label.contains("NaN") && !label.contains("inf") && label != "−0");
                        assert!(label.len() < 24, "{low} {high} {label}");
                    }
                }
            }
        }
    }

    #[test]
    fn minus_zero_is_zero() {
        assert_eq!(number(-0.0, 1, '.'), "0.0");
        assert_eq!(number(-0.04, 1, '.'), "0.0");
        assert_eq!(number(-0.06, 1, '.'), "−0.1");
    }
}

//! Ticks of a logarithmic axis: decades in words, and what lies between them.

use super::scale::Range;
use super::ticks::{multiple, number, power_of_ten, ticks};

/// Numbers within these powers of ten are printed plainly.
const PLAIN: std::ops::RangeInclusive<i32> = -3..=5;
/// Decades from number to number where not every decade finds room.
const STRIDES: [i32; 11] = [1, 2, 3, 5, 10, 20, 30, 50, 100, 200, 500];
/// From so many decades on, none of the numbers between them is printed.
const MANY: i32 = 3;
/// Least distance of ticks, in points: from nine tenths of a decade to its end, and of decades.
const LEAST_PT: f64 = 0.7;

/// Numbers that one axis may carry.
#[derive(Debug, Clone, PartialEq)]
pub struct Numbers {
    /// Positions, rising.
    pub values: Vec<f64>,
    pub words: Vec<String>,
    /// The words stand in units of ten to this power.
    pub exponent: i32,
}

/// First and last whole power of ten on an axis.
fn decades(range: Range) -> (i32, i32) {
    ((range.low.log10() - 1e-9).ceil() as i32, (range.high.log10() + 1e-9).floor() as i32)
}

/// All that a range may carry, the best first: every decade, or every few; where there are few, 1,
/// 2 and 5 in each, or 1 and 3, or all; where no such number lies in the range, equal steps.
pub fn choices(range: Range, decimal_mark: char) -> Vec<Numbers> {
    let (first, last) = decades(range);
    let whole =
        |stride: i32| powers((first..=last).filter(|n| n % stride == 0).collect(), decimal_mark);
    if last - first + 1 >= MANY {
        return STRIDES.into_iter().map(whole).collect();
    }
    let digits = |digits: &[i32]| between(range, digits, decimal_mark);
    let steps = (1..=5).rev().map(|wanted| {
        let made = ticks(range.low, range.high, wanted);
        Numbers { words: made.labels(decimal_mark), values: made.values, exponent: made.exponent }
    });
    let mut out =
        vec![digits(&[1, 2, 5]), digits(&[1, 3]), whole(1), digits(&[1, 2, 3, 4, 5, 6, 7, 8, 9])];
    out.extend(steps);
    out
}

/// Ticks without a number: the other multiples of the decades where they stand apart, else the
/// other decades where these do.
pub fn minor(range: Range, numbers: &Numbers, length_pt: f64) -> Vec<f64> {
    let (first, last) = decades(range);
    let decade_pt = length_pt / range.length();
    let digits = if decade_pt * (10f64 / 9.0).log10() >= LEAST_PT {
        1..=9
    } else if decade_pt >= LEAST_PT {
        1..=1
    } else {
        return Vec::new();
    };
    let named = |value: f64| numbers.values.iter().any(|v| (v / value - 1.0).abs() < 1e-6);
    (first - 1..=last)
        .flat_map(|power| digits.clone().map(move |digit| multiple(1.0, f64::from(digit), power)))
        .filter(|value| range.holds(*value) && !named(*value))
        .collect()
}

/// Powers of ten: plain numbers where all of them are short, else `10⁻⁶` throughout.
fn powers(powers: Vec<i32>, decimal_mark: char) -> Numbers {
    let plain = powers.iter().all(|power| PLAIN.contains(power));
    let words = powers
        .iter()
        .map(|power| if plain { digit(1, *power, decimal_mark) } else { power_of_ten(*power) });
    Numbers {
        words: words.collect(),
        values: powers.iter().map(|power| multiple(1.0, 1.0, *power)).collect(),
        exponent: 0,
    }
}

/// Some multiples of every decade; long numbers share a power of ten.
fn between(range: Range, digits: &[i32], decimal_mark: char) -> Numbers {
    let (first, last) = decades(range);
    let all: Vec<(i32, i32)> = (first - 1..=last)
        .flat_map(|power| digits.iter().map(move |digit| (*digit, power)))
        .filter(|(digit, power)| range.holds(multiple(1.0, f64::from(*digit), *power)))
        .collect();
    let plain = all.iter().all(|(_, power)| PLAIN.contains(power));
    let top = all.last().map_or(0, |(_, power)| *power);
    let exponent = if plain { 0 } else { top.div_euclid(3) * 3 };
    Numbers {
        values: all.iter().map(|(d, power)| multiple(1.0, f64::from(*d), *power)).collect(),
        words: all.iter().map(|(d, power)| digit(*d, power - exponent, decimal_mark)).collect(),
        exponent,
    }
}

/// `0.05` for five times ten to minus two.
fn digit(digit: i32, power: i32, decimal_mark: char) -> String {
    let decimals = usize::try_from(-power).unwrap_or(0);
    number(multiple(1.0, f64::from(digit), power), decimals, decimal_mark)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(low: f64, high: f64, choice: usize) -> Vec<String> {
        choices(Range::log(low, high), '.')[choice].words.clone()
    }

    // Common practice, no source: decades, and 1, 2, 5 where there are few.
    #[test]
    fn decades_are_plain_numbers_until_they_grow_long() {
        assert_eq!(words(0.05, 120.0, 0), ["0.1", "1", "10", "100"]);
        assert_eq!(words(1e-3, 1e5, 1), ["0.01", "1", "100", "10000"]);
        assert_eq!(words(1e-3, 1e5, 0).first().unwrap(), "0.001");
        assert_eq!(words(1e-3, 1e5, 0).last().unwrap(), "100000");
        assert_eq!(words(1e-9, 2e-5, 1), ["10⁻⁸", "10⁻⁶"]);
        assert_eq!(words(1.0, 1e6, 1), ["10⁰", "10²", "10⁴", "10⁶"]);
        assert_eq!(choices(Range::log(0.01, 1.0), ',')[0].words, ["0,01", "0,1", "1"]);
    }

    #[test]
    fn few_decades_are_told_by_one_two_five() {
        assert_eq!(words(0.5, 20.0, 0), ["0.5", "1", "2", "5", "10", "20"]);
        assert_eq!(words(0.5, 20.0, 1), ["1", "3", "10"]);
        assert_eq!(words(1.5, 9.0, 0), ["2", "5"]);
        assert_eq!(words(2.5, 4.5, 3), ["3", "4"]);
        assert_eq!(words(3.1, 3.6, 4), ["3.1", "3.2", "3.3", "3.4", "3.5", "3.6"]);
        let small = &choices(Range::log(2e-6, 3e-5), '.')[0];
        assert_eq!((small.exponent, small.words.join(" ")), (-6, "2 5 10 20".to_owned()));
    }

    #[test]
    fn ticks_between_are_the_other_multiples_where_there_is_room() {
        let range = Range::log(1.0, 100.0);
        let numbers = &choices(range, '.')[0];
        let all = minor(range, numbers, 100.0);
        assert_eq!(all.len(), 16);
        assert_eq!((all[0], all[7], all[8], all[15]), (2.0, 9.0, 20.0, 90.0));
        assert!(minor(range, numbers, 20.0).is_empty());
        let wide = Range::log(1e-12, 1e12);
        let few = choices(wide, '.').swap_remove(3);
        assert_eq!(minor(wide, &few, 200.0).len(), 25 - few.values.len());
        assert!(minor(Range::log(1e-300, 1e300), &few, 200.0).is_empty());
    }

    #[test]
    fn no_range_panics_or_prints_a_non_number() {
        let ends = [1e-300, 3e-300, 1e-9, 0.999, 1.0, 1.0 + 1e-8, 7.0, 1e5, 1.1e5, 3e17, 1e300];
        for low in ends {
            for high in ends {
                let range = Range::log(low, high);
                for made in choices(range, '.') {
                    assert_eq!(made.values.len(), made.words.len());
                    assert!(made.values.is_sorted(), "{low} {high}");
                    for words in &made.words {
                        assert!(!words.contains("NaN") && !words.contains("inf"));
                        assert!(!words.is_empty() && words.chars().count() < 20, "{words}");
                    }
                    assert!(minor(range, &made, 300.0).len() < 4000);
                }
            }
        }
    }
}

//! The word that was probably meant.

use super::ending::split;

/// Longest word that is compared, characters: typing errors concern words, not files.
const LONGEST: usize = 48;

/// Number of typing errors between two words: insertions, deletions,
/// replacements, and exchanges of neighbours, each letter edited at most once.
///
/// # References
/// Damerau, Commun. ACM 7 (1964) 171, in its restricted form (optimal string alignment).
pub(super) fn typing_errors(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let width = b.len() + 1;
    let mut before = vec![0; width];
    let mut last: Vec<usize> = (0..width).collect();
    for i in 1..=a.len() {
        let mut row = vec![i; width];
        for j in 1..width {
            let replaced = last[j - 1] + usize::from(a[i - 1] != b[j - 1]);
            row[j] = replaced.min(last[j] + 1).min(row[j - 1] + 1);
            let exchanged = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
            if exchanged {
                row[j] = row[j].min(before[j - 2] + 1);
            }
        }
        before = std::mem::replace(&mut last, row);
    }
    last[b.len()]
}

/// How far a typed word is from a known one, or `None` when it cannot have been meant: more than a
/// third of its letters are wrong. A known key that only lacks its unit (`frequency` for
/// `frequency_hz`) counts as one typing error, one with another ending (`frequency_mhz`) as two.
pub(super) fn distance(typed: &str, known: &str) -> Option<usize> {
    let length = typed.chars().count();
    if length > LONGEST {
        return None;
    }
    let typed = typed.replace(['-', ' '], "_").to_lowercase();
    let known = known.replace('-', "_").to_lowercase();
    let stem = split(&known).0;
    let has_other_ending = stem.len() < known.len()
        && typed.strip_prefix(stem).is_some_and(|ending| ending.starts_with('_'));
    let errors = typing_errors(&typed, &known);
    if typed == stem {
        return Some(errors.min(1));
    }
    if has_other_ending {
        return Some(errors.min(2));
    }
    let most = (length / 3).max(usize::from(length > 1));
    (errors <= most).then_some(errors)
}

/// The known word nearest to a typed one; the first of several that are equally near.
pub(super) fn nearest<'a>(
    typed: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> Option<(&'a str, usize)> {
    known
        .into_iter()
        .filter_map(|word| distance(typed, word).map(|far| (word, far)))
        .min_by_key(|(_, far)| *far)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Values of the definition: Levenshtein's kitten and sitting are 3 apart (common practice, no
    /// source); in the restricted form CA and ABC are 3 apart, not 2.
    #[test]
    fn distances_of_the_definition() {
        assert_eq!(typing_errors("kitten", "sitting"), 3);
        assert_eq!(typing_errors("CA", "ABC"), 3);
        assert_eq!(typing_errors("repetiiton", "repetition"), 1);
        assert_eq!(typing_errors("", "abc"), 3);
        assert_eq!(typing_errors("abc", ""), 3);
    }

    /// The slow definition by recursion agrees on all short words over three letters.
    #[test]
    fn fast_table_agrees_with_the_recursion() {
        fn slow(a: &[u8], b: &[u8]) -> usize {
            let (Some((x, rest_a)), Some((y, rest_b))) = (a.split_last(), b.split_last()) else {
                return a.len().max(b.len());
            };
            let mut best = (slow(rest_a, b) + 1).min(slow(a, rest_b) + 1);
            best = best.min(slow(rest_a, rest_b) + usize::from(x != y));
            if let (Some((v, ra)), Some((w, rb))) = (rest_a.split_last(), rest_b.split_last())
                && v == y
                && w == x
            {
                best = best.min(slow(ra, rb) + 1);
            }
            best
        }
        let mut words = vec![String::new()];
        for length in 0..4 {
            let longest: Vec<String> =
                words.iter().filter(|w| w.len() == length).cloned().collect();
            words.extend(longest.iter().flat_map(|w| ["a", "b", "c"].map(|c| format!("{w}{c}"))));
        }
        for a in &words {
            for b in &words {
                assert_eq!(typing_errors(a, b), slow(a.as_bytes(), b.as_bytes()), "{a} {b}");
            }
        }
    }

    #[test]
    fn nearest_word_is_the_one_meant() {
        let keys = ["frequency_hz", "cycles", "repetition_hz", "level", "level_unit"];
        let found = |typed: &str| nearest(typed, keys).map(|(word, _)| word);
        assert_eq!(found("frequency"), Some("frequency_hz"));
        assert_eq!(found("frequency_mhz"), Some("frequency_hz"));
        assert_eq!(found("repetition_rate"), Some("repetition_hz"));
        assert_eq!(found("repetition"), Some("repetition_hz"));
        assert_eq!(found("Cycle"), Some("cycles"));
        assert_eq!(found("levle"), Some("level"));
        assert_eq!(found("level-unit"), Some("level_unit"));
        assert_eq!(found("temperature_c"), None);
        assert_eq!(found(&"x".repeat(100_000)), None);
    }
}

//! Days and instants as typed: ISO 8601, Gregorian calendar.

/// A day of the Gregorian calendar. Days compare in time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day {
    pub year: i32,
    pub month: u32,
    pub day: u32,
}

impl Day {
    /// Reads `YYYY-MM-DD`. `None` for anything else, and for a day that the calendar lacks.
    pub fn parse(text: &str) -> Option<Self> {
        let mut parts = text.split('-');
        let year = digits(parts.next()?, 4)?;
        let month = digits(parts.next()?, 2)?;
        let day = digits(parts.next()?, 2)?;
        let year = i32::try_from(year).ok()?;
        let is_valid = parts.next().is_none()
            && (1..=12).contains(&month)
            && (1..=days_in(year, month)).contains(&day);
        is_valid.then_some(Self { year, month, day })
    }

    /// Days since 1970-01-01.
    pub fn number(self) -> i64 {
        // Years begin in March, so that a leap day is the last of its year.
        let year = i64::from(self.year) - i64::from(self.month <= 2);
        let month = i64::from((self.month + 9) % 12);
        let day_of_year = (153 * month + 2) / 5 + i64::from(self.day) - 1;
        let leap_days = year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400);
        365 * year + leap_days + day_of_year - 719_468
    }
}

/// An instant as typed, on its own clock.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Instant {
    /// Seconds since 1970-01-01T00:00, UTC where `zoned`, else local time.
    pub seconds: f64,
    /// Whether the offset from UTC was stated.
    pub zoned: bool,
}

impl Instant {
    /// Reads `YYYY-MM-DDThh:mm`, with seconds and decimals of a second if typed, and with `Z` or
    /// `±hh:mm` if typed. A blank may stand for the `T`.
    pub fn parse(text: &str) -> Option<Self> {
        let (day, time) = text.split_once(['T', ' '])?;
        let day = Day::parse(day)?;
        let (clock, offset_s) = match time.strip_suffix('Z') {
            Some(clock) => (clock, Some(0.0)),
            None => match time.rfind(['+', '-']) {
                Some(at) => {
                    let (clock, offset) = time.split_at_checked(at)?;
                    let sign = if offset.starts_with('-') { -1.0 } else { 1.0 };
                    let (hours, minutes) = offset.get(1..)?.split_once(':')?;
                    (clock, Some(sign * hours_minutes(hours, minutes)?))
                }
                None => (time, None),
            },
        };
        let mut parts = clock.splitn(3, ':');
        let mut seconds = hours_minutes(parts.next()?, parts.next()?)?;
        if let Some(rest) = parts.next() {
            seconds += second_with_decimals(rest)?;
        }
        let local = day.number() as f64 * 86_400.0 + seconds;
        Some(Self { seconds: local - offset_s.unwrap_or(0.0), zoned: offset_s.is_some() })
    }

    /// Seconds from another instant to this one; `None` if only one of them states its offset.
    pub fn since(self, other: Self) -> Option<f64> {
        (self.zoned == other.zoned).then_some(self.seconds - other.seconds)
    }
}

fn digits(text: &str, count: usize) -> Option<u32> {
    let is_plain = text.len() == count && text.bytes().all(|byte| byte.is_ascii_digit());
    if is_plain { text.parse().ok() } else { None }
}

fn hours_minutes(hours: &str, minutes: &str) -> Option<f64> {
    let (hours, minutes) = (digits(hours, 2)?, digits(minutes, 2)?);
    (hours < 24 && minutes < 60).then(|| f64::from(hours) * 3600.0 + f64::from(minutes) * 60.0)
}

fn second_with_decimals(text: &str) -> Option<f64> {
    let (whole, decimals) = text.split_once('.').unwrap_or((text, "0"));
    let is_plain = (1..=12).contains(&decimals.len());
    if digits(whole, 2)? >= 60 || !is_plain || !decimals.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    text.parse().ok()
}

fn days_in(year: i32, month: u32) -> u32 {
    let is_leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    match month {
        2 if is_leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Counting days one by one through the calendar's month lengths.
    #[test]
    fn day_numbers_count_up() {
        let mut number = Day { year: 1899, month: 12, day: 31 }.number();
        for year in 1900..=2101 {
            for month in 1..=12 {
                for day in 1..=days_in(year, month) {
                    let text = format!("{year}-{month:02}-{day:02}");
                    number += 1;
                    assert_eq!(Day::parse(&text).map(Day::number), Some(number), "{text}");
                }
            }
        }
        assert_eq!(Day { year: 1970, month: 1, day: 1 }.number(), 0);
    }

    /// RFC 3339, section 5.8: 1996-12-19T16:39:57-08:00 is 1996-12-20T00:39:57Z, and
    /// 1985-04-12T23:20:50.52Z is 50.52 s after 23:20. POSIX: 1e9 s are 2001-09-09T01:46:40Z
    /// (value from memory).
    #[test]
    fn instants_of_the_standards() {
        let at = |text: &str| Instant::parse(text).unwrap();
        assert_eq!(at("2001-09-09T01:46:40Z").seconds, 1e9);
        let past = at("1985-04-12T23:20:50.52Z").since(at("1985-04-12T23:20Z")).unwrap();
        // Half a billion seconds leave about 1e-7 s of resolution.
        assert!((past - 50.52).abs() < 1e-6);
        assert_eq!(at("1996-12-19T16:39:57-08:00").since(at("1996-12-20T00:39:57Z")), Some(0.0));
        assert_eq!(at("2026-05-04 09:30").since(at("2026-05-04T09:00:00")), Some(1800.0));
        assert_eq!(at("2026-05-04T09:30").since(at("2026-05-04T09:00Z")), None);
    }

    #[test]
    fn what_is_no_day_or_instant_is_refused() {
        for text in [
            "",
            "4.5.2026",
            "2026-13-01",
            "2026-00-01",
            "2026-02-29",
            "1900-02-29",
            "2026-5-4",
            "2026-05-04T10:00",
            "2026-05-04-",
            "２０２６-05-04",
            "20260504",
            "2026-04-31",
        ] {
            assert_eq!(Day::parse(text), None, "{text}");
        }
        assert!(Day::parse("2024-02-29").is_some() && Day::parse("2000-02-29").is_some());
        for text in [
            "2026-05-04",
            "2026-05-04T",
            "2026-05-04T24:00",
            "2026-05-04T10:60",
            "2026-05-04T1:00",
            "2026-05-04T10:00:61",
            "2026-05-04T10:00:1e1",
            "2026-05-04T10:00+1",
            "2026-05-04T+:",
            "2026-05-04T10:00:00.",
            "2026-05-04Tü",
            "2026-05-04T10:00:00:00",
        ] {
            assert_eq!(Instant::parse(text), None, "{text}");
        }
    }
}

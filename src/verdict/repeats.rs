//! Repeats of a measurement: mean, scatter, and one-sided tolerance limits.
//!
//! With a proportion p and a confidence γ, at least p of all values lie below mean + k s (and, taken
//! by itself, above mean − k s); k = t'(γ; n − 1, z_p √n)/√n with the noncentral t distribution. It
//! holds for repeats of one head as for several heads of a kind, where values scatter normally.
//!
//! # References
//! ISO 16269-6:2014, normal population with unknown mean and standard deviation, one-sided;
//! NIST/SEMATECH e-Handbook, 7.2.6.3. Type A: JCGM 100:2008, 4.2.

use crate::base::quantity::entry_of;
use crate::base::verdict::{Repeated, Repeats};
use crate::record::Role;
use crate::statistics::moments;
use crate::statistics::tolerance_factor::tolerance_factor;

use super::ScanValues;
use super::matching::same;

/// Proportion and confidence of the limits. A convention of this project.
pub const PROPORTION: f64 = 0.95;
pub const CONFIDENCE: f64 = 0.95;
/// Fewest values for limits. Common practice, no source.
pub const FEWEST: usize = 3;
/// Two places within this distance are one, m. Common practice, no source.
const ONE_PLACE_M: f64 = 1e-4;

/// Mean, scatter and tolerance limits of the values of one quantity; `None` below two values.
///
/// # Examples
/// 1, 2, 3: mean 2, s 1, u of the mean 0.577; k = 7.656 for 95 % with 95 % confidence.
pub fn of_values(quantity: &str, values: &[f64]) -> Option<Repeated> {
    let n = values.len();
    let mean = moments::mean(values)?;
    let s = moments::standard_deviation(values)?;
    let factor = (n >= FEWEST).then(|| tolerance_factor(n, PROPORTION, CONFIDENCE)).flatten();
    Some(Repeated {
        quantity: quantity.to_owned(),
        unit: entry_of(quantity).map_or("", |entry| entry.unit).to_owned(),
        values: values.to_vec(),
        n: n as u64,
        mean,
        s,
        u_mean: s / (n as f64).sqrt(),
        factor,
        low: factor.map(|k| mean - k * s),
        high: factor.map(|k| mean + k * s),
    })
}

/// Groups of plane or point scans of one role, level, range and place, in the order of the record;
/// one of a single scan says that it has no repeats.
pub fn groups(scans: &[ScanValues<'_>]) -> Vec<Repeats> {
    let mut groups: Vec<Vec<&ScanValues<'_>>> = Vec::new();
    for scan in scans.iter().filter(|scan| matches!(scan.role, Role::Plane | Role::Point)) {
        let fits =
            |group: &&mut Vec<&ScanValues<'_>>| group.iter().all(|other| repeats(scan, other));
        match groups.iter_mut().find(fits) {
            Some(group) => group.push(scan),
            None => groups.push(vec![scan]),
        }
    }
    groups.iter().filter_map(|group| evaluate(group)).collect()
}

fn evaluate(group: &[&ScanValues<'_>]) -> Option<Repeats> {
    let first = group.first()?;
    let reason = match group.len() {
        1 => Some("one-repeat"),
        n if n < FEWEST => Some("few-repeats"),
        _ => None,
    };
    let quantities = if group.len() > 1 { quantities(group) } else { Vec::new() };
    Some(Repeats {
        scans: group.iter().map(|scan| scan.id.to_owned()).collect(),
        role: first.role.as_str().to_owned(),
        level: first.level,
        range: first.range.map(str::to_owned),
        proportion: PROPORTION,
        confidence: CONFIDENCE,
        quantities,
        reason: reason.map(str::to_owned),
    })
}

/// Quantities that every scan of a group gives, lower bounds left out.
fn quantities(group: &[&ScanValues<'_>]) -> Vec<Repeated> {
    let Some((first, others)) = group.split_first() else { return Vec::new() };
    first
        .quantities
        .iter()
        .filter_map(|quantity| {
            let value_in = |scan: &ScanValues<'_>| {
                let same = |q: &&crate::base::quantity::Quantity| {
                    q.id == quantity.id && q.time_base == quantity.time_base && !q.lower_bound
                };
                scan.quantities.iter().find(same).and_then(|q| q.outcome.as_ref().ok().copied())
            };
            let mut values = vec![value_in(first)?];
            for other in others {
                values.push(value_in(other)?);
            }
            of_values(quantity.id, &values)
        })
        .collect()
}

fn repeats(a: &ScanValues<'_>, b: &ScanValues<'_>) -> bool {
    let level = match (a.level, b.level) {
        (Some(a), Some(b)) => same(a, b),
        (a, b) => a == b,
    };
    let place = a.place_m.iter().zip(&b.place_m).all(|pair| match pair {
        (Some(a), Some(b)) => (a - b).abs() <= ONE_PLACE_M,
        (a, b) => a == b,
    });
    a.role == b.role && level && a.range == b.range && place
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::finding::Severity;
    use crate::base::quantity::Quantity;

    /// Factors of the one-sided limits for p = γ = 0.95 (noncentral t; ISO 16269-6, scipy.stats.nct).
    #[test]
    fn published_factors() {
        for (n, k) in [(3, 7.655_900_133_15), (5, 4.202_680_741_26), (10, 2.910_963_413_08)] {
            let values: Vec<f64> = (0..n).map(f64::from).collect();
            let found = of_values("pc", &values).unwrap();
            assert!((found.factor.unwrap() - k).abs() < 1e-6, "{n} {:?}", found.factor);
        }
    }

    /// By hand: 1, 2, 3; and no limits from two values or one.
    #[test]
    fn small_sets_by_hand() {
        let found = of_values("pc", &[1.0, 2.0, 3.0]).unwrap();
        assert_eq!((found.mean, found.s, found.n), (2.0, 1.0, 3));
        assert!((found.u_mean - 1.0 / 3f64.sqrt()).abs() < 1e-12);
        let k = found.factor.unwrap();
        assert!((found.high.unwrap() - 2.0 - k).abs() < 1e-12);
        assert!((found.low.unwrap() - 2.0 + k).abs() < 1e-12);
        let two = of_values("pc", &[1.0, 2.0]).unwrap();
        assert!(
            (two.s - 0.5f64.sqrt()).abs() < 1e-12 && two.factor.is_none() && two.high.is_none()
        );
        assert!(of_values("pc", &[1.0]).is_none() && of_values("pc", &[]).is_none());
    }

    fn scan<'a>(id: &'a str, level: f64, z_m: f64, quantities: &'a [Quantity]) -> ScanValues<'a> {
        ScanValues {
            id,
            role: Role::Plane,
            level: Some(level),
            range: None,
            place_m: [None, None, Some(z_m)],
            fitness: Severity::Note,
            sign_doubted: false,
            quantities,
        }
    }

    #[test]
    fn only_like_scans_are_repeats() {
        let values: Vec<[Quantity; 1]> =
            (0..4).map(|i| [Quantity::value("pc", f64::from(i))]).collect();
        let scans = [
            scan("a", 40.0, 0.045, &values[0]),
            scan("b", 40.0, 0.045, &values[1]),
            scan("deep", 40.0, 0.060, &values[3]),
            scan("c", 40.0, 0.045_05, &values[2]),
            scan("loud", 60.0, 0.045, &values[3]),
            ScanValues { role: Role::Axial, ..scan("axis", 40.0, 0.045, &values[3]) },
        ];
        let found = groups(&scans);
        assert_eq!(found.len(), 3);
        assert_eq!(found[0].scans, ["a", "b", "c"]);
        assert_eq!((found[0].quantities[0].mean, found[0].reason.as_deref()), (1.0, None));
        assert_eq!(
            (found[1].reason.as_deref(), found[1].quantities.len()),
            (Some("one-repeat"), 0)
        );
        let two = groups(&scans[..2]);
        assert_eq!(two[0].reason.as_deref(), Some("few-repeats"));
        assert!(two[0].quantities[0].factor.is_none() && two[0].quantities[0].n == 2);
    }
}

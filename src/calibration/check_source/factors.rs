//! From the readings of both sensors to one factor a range, with its sources of uncertainty.

use super::reading::{FEATURES, Together};
use crate::base::transfer::{
    ByFeature, LevelReading, RangeComparison, RangeFactor, SourceShare, TransferSource,
};

/// Levels closer than this, relative, are the same.
const SAME_LEVEL: f64 = 1e-6;
/// A correction for unequal sizes is uncertain by at least this part of itself.
const OF_SIZE_CORRECTION: f64 = 1.0 / 3.0;

/// Relative standard uncertainties that the record states.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Stated {
    pub certificate: Option<f64>,
    pub flatness: Option<f64>,
    pub linearity: Option<f64>,
    pub temperature: Option<f64>,
}

/// This sensor's readings at one range.
#[derive(Debug, Clone, PartialEq)]
pub struct DeviceReadings {
    pub range: Option<String>,
    pub scan: String,
    pub levels: Vec<Together>,
}

/// Readings of the calibrated sensor, Pa, levels in order.
#[derive(Debug, Clone, PartialEq)]
pub struct ReferenceReadings {
    pub levels: Vec<Together>,
    /// Change of the source from the first to the second measurement; `None` for one alone.
    pub drift: Option<f64>,
}

/// Joins the measurements before and after: the mean of both, and the change between them at the
/// highest level that both have.
pub fn joined(before: &[Together], after: &[Together], feature: usize) -> ReferenceReadings {
    let mut drift: Option<(f64, f64)> = None;
    let levels = before
        .iter()
        .map(|first| {
            let Some(second) = after.iter().find(|second| same(first.level, second.level)) else {
                return *first;
            };
            let change = second.mean[feature] / first.mean[feature] - 1.0;
            if drift.is_none_or(|(top, _)| first.mean[feature] > top) {
                drift = Some((first.mean[feature], change));
            }
            let both = |k: usize| 0.5 * (first.mean[k] + second.mean[k]);
            let half = |a: f64, b: f64| 0.5 * a.hypot(b);
            let each = |f: &dyn Fn(usize) -> f64| [f(0), f(1), f(2)];
            Together {
                level: first.level,
                count: first.count + second.count,
                mean: each(&both),
                noise: each(&|k| half(first.noise[k], second.noise[k])),
                scatter: first
                    .scatter
                    .zip(second.scatter)
                    .map(|(a, b)| each(&|k| half(a[k], b[k]))),
            }
        })
        .collect();
    ReferenceReadings { levels, drift: drift.map(|(_, change)| change) }
}

fn same(a: Option<f64>, b: Option<f64>) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() <= SAME_LEVEL * a.abs().max(b.abs()),
        _ => true,
    }
}

/// The factor of one range: the straight line through zero of volts against pressure over the levels
/// that both sensors have, M = Σ V P / Σ P², over the size factor. `None` without a common level.
///
/// `size` is what this sensor averages re what the calibrated one does, in the source's field; volts
/// are that much smaller (or larger) than those of a sensor of the calibrated one's size.
///
/// The sources: certificate; scatter of the calibrated sensor and drift of the source between its two
/// measurements (rectangular, half the change to either side); scatter and noise of this sensor, at
/// each level, weighted as the line weighs them; a third of the correction for sizes; what is stated
/// of flatness, linearity and temperature. With several levels the departures from the line beyond
/// repeatability are an estimate of the linearity's, and the larger of both counts.
pub fn factor(
    reference: &ReferenceReadings,
    device: &DeviceReadings,
    feature: usize,
    size: f64,
    stated: &Stated,
) -> Option<RangeFactor> {
    let pairs: Vec<(&Together, &Together)> = device
        .levels
        .iter()
        .filter_map(|d| reference.levels.iter().find(|r| same(r.level, d.level)).map(|r| (r, d)))
        .collect();
    if pairs.is_empty() {
        return None;
    }
    let line = |k: usize| {
        let products: f64 = pairs.iter().map(|(r, d)| r.mean[k] * d.mean[k]).sum();
        products / pairs.iter().map(|(r, _)| r.mean[k].powi(2)).sum::<f64>()
    };
    let v_per_volt_free = line(feature);
    let weight: Vec<f64> = {
        let squares: Vec<f64> = pairs.iter().map(|(r, _)| r.mean[feature].powi(2)).collect();
        let all: f64 = squares.iter().sum();
        squares.iter().map(|s| s / all).collect()
    };
    let weighted = |f: &dyn Fn(&Together, &Together) -> Option<f64>| -> Option<f64> {
        pairs
            .iter()
            .zip(&weight)
            .map(|((r, d), w)| f(r, d).map(|u| (w * u).powi(2)))
            .sum::<Option<f64>>()
            .map(f64::sqrt)
    };
    let levels: Vec<LevelReading> = pairs
        .iter()
        .map(|(r, d)| LevelReading {
            level: d.level.or(r.level),
            pressure_pa: r.mean[feature],
            volts: d.mean[feature],
            departure: d.mean[feature] / r.mean[feature] / v_per_volt_free - 1.0,
        })
        .collect();
    let beyond = (levels.len() > 1).then(|| {
        let excess = levels.iter().zip(&pairs).map(|(level, (r, d))| {
            level.departure.powi(2) - r.u(feature).powi(2) - d.u(feature).powi(2)
        });
        (excess.sum::<f64>() / (levels.len() - 1) as f64).max(0.0).sqrt()
    });
    let linearity = match (stated.linearity, beyond) {
        (Some(a), Some(b)) => Some(a.max(b)),
        (a, b) => a.or(b),
    };
    let shots = |together: fn(&(&Together, &Together)) -> usize| {
        pairs.iter().map(together).sum::<usize>().saturating_sub(pairs.len()) as f64
    };
    let found = [
        (TransferSource::ReferenceCertificate, stated.certificate, None),
        (
            TransferSource::ReferenceRepeatability,
            weighted(&|r, _| Some(r.u(feature))),
            Some(shots(|(r, _)| r.count)),
        ),
        (TransferSource::SourceDrift, reference.drift.map(|d| 0.5 * d.abs() / 3f64.sqrt()), None),
        (
            TransferSource::ElementSize,
            (size != 1.0).then_some((size - 1.0).abs() * OF_SIZE_CORRECTION),
            None,
        ),
        (
            TransferSource::TransferRepeatability,
            weighted(&|_, d| d.scatter.map(|s| s[feature])),
            Some(shots(|(_, d)| d.count)),
        ),
        (TransferSource::TransferNoise, weighted(&|_, d| Some(d.noise[feature])), None),
        (TransferSource::Flatness, stated.flatness, None),
        (TransferSource::Linearity, linearity, None),
        (TransferSource::Temperature, stated.temperature, None),
    ];
    let sources: Vec<SourceShare> = found
        .into_iter()
        .filter_map(|(source, u, nu)| {
            let u_relative = u?;
            let nu = nu.filter(|nu| *nu >= 1.0);
            Some(SourceShare { source, u_relative, common: source.is_common(), nu })
        })
        .collect();
    let by_feature = [line(0), line(1), line(2)].map(|m| m / size);
    Some(RangeFactor {
        range: device.range.clone(),
        scan: device.scan.clone(),
        repeats: device.levels.iter().map(|l| l.count).min().unwrap_or(0),
        v_per_pa: v_per_volt_free / size,
        u_relative: sources.iter().map(|s| s.u_relative.powi(2)).sum::<f64>().sqrt(),
        sources,
        by_feature: ByFeature::from_array(by_feature),
        levels,
    })
}

/// Pressures of the source at each level by each pair of ranges, by every feature: each range's volts
/// over its own factor. With one level the chosen feature agrees by construction and is left out.
pub fn comparisons(
    factors: &[RangeFactor],
    device: &[DeviceReadings],
    feature: usize,
) -> Vec<RangeComparison> {
    let sides: Vec<(&RangeFactor, &DeviceReadings)> = factors
        .iter()
        .filter_map(|f| device.iter().find(|d| d.range == f.range).map(|d| (f, d)))
        .collect();
    let mut out = Vec::new();
    for (i, (factor_a, a)) in sides.iter().enumerate() {
        for (factor_b, b) in &sides[i + 1..] {
            let shared: Vec<(&Together, &Together)> = a
                .levels
                .iter()
                .filter_map(|x| b.levels.iter().find(|y| same(x.level, y.level)).map(|y| (x, y)))
                .collect();
            for (x, y) in &shared {
                for (k, name) in FEATURES.into_iter().enumerate() {
                    if k == feature && shared.len() == 1 {
                        continue;
                    }
                    let (p, q) = (x.mean[k] / factor_a.v_per_pa, y.mean[k] / factor_b.v_per_pa);
                    out.push(RangeComparison {
                        range_a: factor_a.range.clone().unwrap_or_default(),
                        range_b: factor_b.range.clone().unwrap_or_default(),
                        level: x.level.or(y.level),
                        feature: name.to_owned(),
                        difference: p / q - 1.0,
                        u: x.u(k).hypot(y.u(k)).hypot(x.u(feature)).hypot(y.u(feature)),
                    });
                }
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(level: Option<f64>, value: f64, scatter: Option<f64>) -> Together {
        Together {
            level,
            count: if scatter.is_some() { 10 } else { 1 },
            mean: [value, 0.7 * value, 1.1 * value],
            noise: [1e-3; 3],
            scatter: scatter.map(|s| [s; 3]),
        }
    }

    fn device(range: &str, levels: Vec<Together>) -> DeviceReadings {
        DeviceReadings { range: Some(range.to_owned()), scan: format!("s-{range}"), levels }
    }

    fn u_of(factor: &RangeFactor, source: TransferSource) -> Option<f64> {
        factor.sources.iter().find(|s| s.source == source).map(|s| s.u_relative)
    }

    /// 250 mV where the calibrated sensor reads 5 MPa: 50 nV/Pa (0.25 V → 5 MPa, definition).
    /// Sources add as squares (JCGM 100:2008, 5.1.2).
    #[test]
    fn one_level() {
        let reference = joined(&[at(None, 5e6, Some(2e-3))], &[], 0);
        let stated = Stated { certificate: Some(0.03), flatness: Some(0.02), ..Stated::default() };
        let found =
            factor(&reference, &device("a", vec![at(None, 0.25, Some(4e-3))]), 0, 1.0, &stated)
                .expect("a common level");
        assert!((found.v_per_pa - 50e-9).abs() < 1e-20);
        assert_eq!(u_of(&found, TransferSource::SourceDrift), None);
        assert_eq!(u_of(&found, TransferSource::TransferRepeatability), Some(4e-3));
        let squares: [f64; 5] = [0.03, 0.02, 4e-3, 1e-3, (2e-3f64).hypot(1e-3)];
        let expected = squares.iter().map(|u| u * u).sum::<f64>().sqrt();
        assert!((found.u_relative - expected).abs() < 1e-12);
        assert_eq!(found.levels[0].departure, 0.0);
    }

    /// A-B-A: the mean of both, and half the change as the limits of a rectangular distribution.
    #[test]
    fn before_and_after() {
        let reference = joined(&[at(None, 1e5, Some(1e-3))], &[at(None, 1.02e5, Some(1e-3))], 0);
        assert!((reference.levels[0].mean[0] - 1.01e5).abs() < 1e-6);
        assert!((reference.drift.expect("both") - 0.02).abs() < 1e-12);
        let found = factor(
            &reference,
            &device("a", vec![at(None, 1e-3, None)]),
            0,
            1.0,
            &Stated::default(),
        )
        .expect("common");
        let u = u_of(&found, TransferSource::SourceDrift).expect("known");
        assert!((u - 0.01 / 3f64.sqrt()).abs() < 1e-12);
        assert_eq!(u_of(&found, TransferSource::TransferRepeatability), None);
    }

    /// A smaller volume of sound: this sensor averages to 0.95 of what the calibrated one does, so its
    /// volts are 5 % low and the factor is raised; a third of the correction is its uncertainty.
    #[test]
    fn unequal_sizes() {
        let reference = joined(&[at(None, 1e5, None)], &[], 0);
        let found = factor(
            &reference,
            &device("a", vec![at(None, 0.95e-3, None)]),
            0,
            0.95,
            &Stated::default(),
        )
        .expect("common");
        assert!((found.v_per_pa - 1e-8).abs() < 1e-20);
        let u = u_of(&found, TransferSource::ElementSize).expect("known");
        assert!((u - 0.05 / 3.0).abs() < 1e-12);
    }

    /// Volts that fall short by 4 % at the highest of three levels: the line, the departures, and a
    /// linearity that is estimated from them; the larger of it and the stated one counts.
    #[test]
    fn several_levels_show_the_linearity() {
        let pressures = [1e5, 2e5, 4e5];
        let levels = |factor: [f64; 3]| -> Vec<Together> {
            pressures
                .iter()
                .zip(factor)
                .enumerate()
                .map(|(i, (p, f))| at(Some(i as f64 + 1.0), p * f, Some(1e-4)))
                .collect()
        };
        let reference = joined(&levels([1.0; 3]), &[], 0);
        let bent = device("a", levels([1e-8, 1e-8, 0.96e-8]));
        let found = factor(&reference, &bent, 0, 1.0, &Stated::default()).expect("common");
        let squares: f64 = pressures.iter().map(|p| p * p).sum();
        let expected = (1e10 + 4e10 + 0.96 * 16e10) / squares * 1e-8;
        assert!((found.v_per_pa - expected).abs() < 1e-18);
        let estimated = u_of(&found, TransferSource::Linearity).expect("estimated");
        assert!(estimated > 0.02 && estimated < 0.05, "{estimated}");
        let stated = Stated { linearity: Some(0.1), ..Stated::default() };
        let found = factor(&reference, &bent, 0, 1.0, &stated).expect("common");
        assert_eq!(u_of(&found, TransferSource::Linearity), Some(0.1));
        let lone = device("a", vec![at(Some(9.0), 1.0, None)]);
        assert!(factor(&reference, &lone, 0, 1.0, &Stated::default()).is_none());
    }

    /// Two ranges on the same source: the pressures that they give differ where one of them bends.
    #[test]
    fn ranges_are_compared() {
        let reference =
            joined(&[at(Some(1.0), 1e5, Some(1e-3)), at(Some(2.0), 2e5, Some(1e-3))], &[], 0);
        let a = device("a", vec![at(Some(1.0), 1e-3, Some(1e-3)), at(Some(2.0), 2e-3, Some(1e-3))]);
        let b =
            device("b", vec![at(Some(1.0), 1e-2, Some(1e-3)), at(Some(2.0), 1.8e-2, Some(1e-3))]);
        let factors: Vec<RangeFactor> = [&a, &b]
            .into_iter()
            .filter_map(|d| factor(&reference, d, 0, 1.0, &Stated::default()))
            .collect();
        let found = comparisons(&factors, &[a, b], 0);
        assert_eq!(found.len(), 6);
        // b's factor is (1e-2·1 + 1.8e-2·2)/5 = 0.92e-2 per 1e5: at level 1, b reads 8.7 % high.
        assert!((found[0].difference - (0.92 - 1.0)).abs() < 1e-9, "{}", found[0].difference);
        assert!(found[0].difference.abs() > 2.0 * found[0].u);
    }
}

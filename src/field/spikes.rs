//! Spikes and dropped rows: values that do not belong to the field around them.

use super::Scale;
use crate::dsp::statistics::median;

/// Part of the neighbours' median energy by which a point may stand off: 12 % of the pressure.
const RELATIVE: f64 = 0.25;
/// Multiple of the points' own unevenness about it by which it may.
const UNEVEN: f64 = 6.0;
/// Multiple of the noise by which it may.
const NOISES: f64 = 6.0;
/// Part of the largest energy by which it may: −20 dB.
const OF_LARGEST: f64 = 0.01;
/// Part of the energy by which a whole row may stand off from the rows about it: 20 % of the pressure.
const ROW_RELATIVE: f64 = 0.36;
/// Part of the largest energy from which a row's points count: −15 dB. On the skirts of a beam the course
/// itself is off by more than rows may be.
const ROW_OF_LARGEST: f64 = 0.03;
/// Part of a row's lively points that have to stand off to the same side.
const ROW_AGREE: f64 = 0.8;
/// Fewest lively points of a row.
const ROW_FEWEST: usize = 5;
/// The four directions through a point.
const DIRECTIONS: [(i64, i64); 4] = [(0, 1), (1, 0), (1, 1), (1, -1)];

/// What does not belong.
#[derive(Debug, Clone, PartialEq)]
pub struct Spikes {
    /// Single points (row-major).
    pub points: Vec<usize>,
    /// Rows of which most points stand off alike.
    pub rows: Vec<usize>,
}

/// Single points and whole rows that stand off from the field around them.
///
/// Energies are compared (of an amplitude its square), since these have no cusps at the nulls of the
/// field. A point is a spike when it differs both from the median of its up to eight neighbours and from
/// the course of the field through it by more than the largest of: 25 % of that median, six times the
/// unevenness, six times the noise, 1 % of the largest energy (the largest such median). The course is the
/// median, over the row, the column and the two diagonals, of (−a + 4b + 4c − d)/6 of the two points on
/// either side, of which one of the outer may lack: a parabola goes through unharmed, so
/// that a sharp peak is no spike, and a spike beside a point spoils one direction of four. The unevenness
/// is the median of what the up to 24 points around differ from their own courses: where the steps are
/// too coarse for the field, all points do.
///
/// A row is dropped when at least 80 % of its lively points (their course stands over twelve times the
/// noise in pressure and over 3 % of the largest energy), five or more, differ to the same side by more than 36 % of the energy from their
/// course over the rows before and after; the worst row first, then the rest without it. Points of
/// dropped rows are not told singly and serve nowhere.
///
/// # Units
/// `noise_rms`: standard deviation of a pressure: of an amplitude map its own unit, of an energy map the
/// root of its unit.
///
/// # Shape
/// `values`: (rows, columns), row-major. Points already excluded are NaN.
///
/// # References
/// Common practice, no source; the limits are our own.
pub fn spikes(columns: usize, values: &[f64], scale: Scale, noise_rms: f64) -> Spikes {
    if columns == 0 || !values.len().is_multiple_of(columns) {
        return Spikes { points: Vec::new(), rows: Vec::new() };
    }
    let energy = values.iter().map(|v| match scale {
        Scale::Energy => *v,
        Scale::Amplitude => v * v,
    });
    let mut field = Field { columns, rows: values.len() / columns, energy: energy.collect() };
    let mut rows = Vec::new();
    while let Some(worst) = field.worst_row(noise_rms) {
        field.energy[worst * columns..(worst + 1) * columns].fill(f64::NAN);
        rows.push(worst);
    }
    rows.sort_unstable();
    Spikes { points: field.points(noise_rms), rows }
}

struct Field {
    columns: usize,
    rows: usize,
    energy: Vec<f64>,
}

impl Field {
    /// An energy by its distance from a point, if it is there and known.
    fn at(&self, i: usize, rows: i64, columns: i64) -> Option<f64> {
        let r = (i / self.columns) as i64 + rows;
        let c = (i % self.columns) as i64 + columns;
        let inside = r >= 0 && c >= 0 && r < self.rows as i64 && c < self.columns as i64;
        let value = inside.then(|| self.energy[r as usize * self.columns + c as usize])?;
        value.is_finite().then_some(value)
    }

    fn points(&self, noise_rms: f64) -> Vec<usize> {
        let all = 0..self.energy.len();
        let courses: Vec<Option<f64>> = all
            .clone()
            .map(|i| {
                let through = |(r, c)| self.course(i, r, c);
                median(&DIRECTIONS.into_iter().filter_map(through).collect::<Vec<f64>>())
            })
            .collect();
        let off = |i: usize| courses[i].map_or(f64::NAN, |course| (self.energy[i] - course).abs());
        let uneven = Self { energy: all.clone().map(off).collect(), ..*self };
        let medians: Vec<Option<f64>> = all.clone().map(|i| median(&self.around(i, 1))).collect();
        let largest = medians.iter().flatten().copied().fold(0.0, f64::max);
        all.filter(|i| {
            let (Some(here), Some(middle)) = (self.at(*i, 0, 0), medians[*i]) else { return false };
            let pressure = middle.max(courses[*i].unwrap_or(0.0)).max(0.0).sqrt();
            // (p + e)² − p² with e of so many deviations.
            let noise = 2.0 * pressure * NOISES * noise_rms + (NOISES * noise_rms).powi(2);
            let unevenness = median(&uneven.around(*i, 2)).unwrap_or(0.0);
            let allowed = (RELATIVE * middle.abs())
                .max(UNEVEN * unevenness)
                .max(noise)
                .max(OF_LARGEST * largest);
            (here - middle).abs() > allowed
                && courses[*i].is_none_or(|course| (here - course).abs() > allowed)
        })
        .collect()
    }

    /// Known energies of the points around one, up to some steps away.
    fn around(&self, i: usize, steps: i64) -> Vec<f64> {
        (-steps..=steps)
            .flat_map(|r| (-steps..=steps).map(move |c| (r, c)))
            .filter(|step| *step != (0, 0))
            .filter_map(|(r, c)| self.at(i, r, c))
            .collect()
    }

    /// The field's course through a point in one direction, without the point.
    fn course(&self, i: usize, rows: i64, columns: i64) -> Option<f64> {
        let (before, after) = (self.at(i, -rows, -columns)?, self.at(i, rows, columns)?);
        match (self.at(i, -2 * rows, -2 * columns), self.at(i, 2 * rows, 2 * columns)) {
            (Some(first), Some(last)) => Some((4.0 * (before + after) - first - last) / 6.0),
            (Some(first), None) => Some(before + (after - first) / 3.0),
            (None, Some(last)) => Some(after + (before - last) / 3.0),
            (None, None) => Some(0.5 * (before + after)),
        }
    }

    /// The row that stands off most, if any does.
    fn worst_row(&self, noise_rms: f64) -> Option<usize> {
        (0..self.rows)
            .filter_map(|row| Some((row, self.row_off(row, noise_rms)?)))
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(row, _)| row)
    }

    /// Energy by which a dropped row stands off from its course.
    fn row_off(&self, row: usize, noise_rms: f64) -> Option<f64> {
        let largest = self.energy.iter().copied().filter(|e| e.is_finite()).fold(0.0, f64::max);
        let lively = (2.0 * NOISES * noise_rms).powi(2).max(ROW_OF_LARGEST * largest);
        let points: Vec<(f64, f64)> = (row * self.columns..(row + 1) * self.columns)
            .filter_map(|i| Some((self.at(i, 0, 0)?, self.course(i, 1, 0)?)))
            .filter(|(_, course)| *course > lively)
            .collect();
        let off: Vec<f64> = points.iter().map(|(here, course)| (here - course) / course).collect();
        let side = median(&off)?.signum();
        let alike = off.iter().filter(|v| **v * side > ROW_RELATIVE).count();
        let dropped = off.len() >= ROW_FEWEST && alike as f64 >= ROW_AGREE * off.len() as f64;
        dropped.then(|| points.iter().map(|(here, course)| (here - course).abs()).sum())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::noise::Noise;
    use std::f64::consts::PI;

    /// A Gaussian beam without any noise has neither spikes nor dropped rows, down to its skirts: 7.7
    /// points across −6 dB.
    #[test]
    fn skirts_of_a_gaussian() {
        let values: Vec<f64> = (0..25 * 27)
            .map(|i| {
                let x = (f64::from(i % 25) - 12.0) * 0.25;
                let y = (f64::from(i / 25) - 13.0) * 0.3 / 1.4;
                (-x * x - y * y).exp()
            })
            .collect();
        let found = spikes(25, &values, Scale::Amplitude, 0.0);
        assert_eq!(found, Spikes { points: Vec::new(), rows: Vec::new() });
    }

    /// J₁ by its integral.
    fn jinc(x: f64) -> f64 {
        let sum: f64 = (0..200)
            .map(|i| (f64::from(i) + 0.5) * PI / 200.0)
            .map(|t| (t - x * t.sin()).cos())
            .sum();
        if x < 1e-9 { 1.0 } else { (2.0 * sum / 200.0 / x).abs() }
    }

    const N: usize = 31;

    /// Focal plane of a bowl, |2 J₁(x)/x|, with some points across −6 dB.
    fn focal_plane(points: f64, off: (f64, f64), sigma: f64) -> Vec<f64> {
        let step = 2.0 * 2.211_785 / points;
        let mut noise = Noise::new(3);
        (0..N * N)
            .map(|i| ((i % N) as f64 - 15.0 + off.0, (i / N) as f64 - 15.0 + off.1))
            .map(|(x, y)| jinc(x.hypot(y) * step) + sigma * noise.next())
            .collect()
    }

    /// A sharp beam is none of it: five points or more across −6 dB, its peak on and between points, with
    /// and without noise, in amplitude and in energy.
    #[test]
    fn a_sharp_peak_stays() {
        for points in [5.0, 6.5, 9.0, 15.0] {
            for off in [(0.0, 0.0), (0.5, 0.5), (0.3, 0.1), (0.0, 0.5)] {
                for sigma in [0.0, 1e-3, 0.02] {
                    let plane = focal_plane(points, off, sigma);
                    let found = spikes(N, &plane, Scale::Amplitude, sigma);
                    assert!(
                        found.points.is_empty() && found.rows.is_empty(),
                        "{points} {off:?} {sigma} {found:?}"
                    );
                    if sigma < 0.01 {
                        let energy: Vec<f64> = plane.iter().map(|v| v * v).collect();
                        let found = spikes(N, &energy, Scale::Energy, sigma);
                        assert!(
                            found.points.is_empty() && found.rows.is_empty(),
                            "energy {points} {off:?} {sigma} {found:?}"
                        );
                    }
                }
            }
        }
    }

    /// Single points 30 % too high or too low, at the peak and where the beam is not steep, and none of
    /// their neighbours.
    #[test]
    fn single_outliers() {
        for (points, places) in [(5.0, vec![(15, 15)]), (12.0, vec![(15, 15), (14, 16), (13, 15)])]
        {
            for (r, c) in places {
                for factor in [0.7, 1.3, 1.6, 0.1] {
                    let mut plane = focal_plane(points, (0.2, 0.1), 1e-3);
                    plane[r * N + c] *= factor;
                    let found = spikes(N, &plane, Scale::Amplitude, 1e-3);
                    assert_eq!(found.points, vec![r * N + c], "{points} {factor}");
                    assert!(found.rows.is_empty());
                }
            }
        }
    }

    /// Rows that were lost, repeated at half gain, or doubled; the rows beside them stay.
    #[test]
    fn dropped_rows() {
        for points in [5.0, 9.0] {
            for (rows, factor) in
                [(vec![15], 0.0), (vec![13], 0.5), (vec![17], 2.0), (vec![12, 16], 0.02)]
            {
                let mut plane = focal_plane(points, (0.2, 0.1), 1e-3);
                for row in &rows {
                    plane[row * N..(row + 1) * N].iter_mut().for_each(|v| *v *= factor);
                }
                let found = spikes(N, &plane, Scale::Amplitude, 1e-3);
                assert_eq!(found.rows, rows, "{points} {factor}");
                assert!(found.points.is_empty(), "{points} {factor} {found:?}");
            }
        }
    }

    #[test]
    fn small_and_odd_shapes() {
        assert!(spikes(0, &[], Scale::Energy, 0.0).points.is_empty());
        assert!(spikes(2, &[1.0; 3], Scale::Energy, 0.0).points.is_empty());
        let lonely = spikes(1, &[1.0], Scale::Energy, 0.0);
        assert!(lonely.points.is_empty() && lonely.rows.is_empty());
        let mut map = vec![1.0; 25];
        (map[0], map[12], map[20]) = (3.0, f64::NAN, 0.2);
        assert_eq!(spikes(5, &map, Scale::Energy, 0.01).points, vec![0, 20]);
    }
}

//! Quantities by id, symbol or name.

use crate::base::quantity::{CATALOGUE, is_safety};

/// English names by id, in the order of the catalogue; those of the sheet (a test compares them).
const NAMES: &[(&str, &str)] = &[
    ("pc", "peak compressional pressure"),
    ("pr", "peak rarefactional pressure"),
    ("pc_ss", "peak compressional pressure, steady state"),
    ("pr_ss", "peak rarefactional pressure, steady state"),
    ("ppsi", "pulse-pressure-squared integral"),
    ("pii", "pulse-intensity integral"),
    ("td", "pulse duration"),
    ("i_on", "intensity while on"),
    ("isppa", "spatial-peak pulse-average intensity"),
    ("ispta", "spatial-peak temporal-average intensity"),
    ("f_awf_zero", "acoustic working frequency, zero crossings"),
    ("f_awf_mean", "acoustic working frequency, arithmetic mean"),
    ("bandwidth", "bandwidth at −3 dB"),
    ("p1", "amplitude of the fundamental"),
    ("h2", "second harmonic re fundamental"),
    ("h3", "third harmonic re fundamental"),
    ("h4", "fourth harmonic re fundamental"),
    ("h5", "fifth harmonic re fundamental"),
    ("h6", "sixth harmonic re fundamental"),
    ("h7", "seventh harmonic re fundamental"),
    ("h8", "eighth harmonic re fundamental"),
    ("h9", "ninth harmonic re fundamental"),
    ("h10", "tenth harmonic re fundamental"),
    ("thd", "total harmonic distortion"),
    ("arrival", "arrival"),
    ("snr_db", "signal-to-noise ratio"),
    ("nep", "noise-equivalent pressure"),
    ("nep_density", "noise-equivalent pressure density"),
    ("dynamic_range_db", "dynamic range"),
    ("x_peak", "position of the peak, x"),
    ("y_peak", "position of the peak, y"),
    ("x_peak_pc", "position of the largest p_{c}, x"),
    ("y_peak_pc", "position of the largest p_{c}, y"),
    ("x_peak_pr", "position of the largest p_{r}, x"),
    ("y_peak_pr", "position of the largest p_{r}, y"),
    ("width_x_3", "beam width in x at −3 dB"),
    ("width_x_6", "beam width in x at −6 dB"),
    ("width_x_12", "beam width in x at −12 dB"),
    ("width_y_3", "beam width in y at −3 dB"),
    ("width_y_6", "beam width in y at −6 dB"),
    ("width_y_12", "beam width in y at −12 dB"),
    ("width_major_6", "largest beam width at −6 dB"),
    ("width_minor_6", "smallest beam width at −6 dB"),
    ("axis_angle", "angle of the beam's long axis"),
    ("area_6", "beam area at −6 dB"),
    ("width_x_3_pc", "beam width in x at −3 dB, of p_{c}"),
    ("width_x_6_pc", "beam width in x at −6 dB, of p_{c}"),
    ("width_x_12_pc", "beam width in x at −12 dB, of p_{c}"),
    ("width_y_3_pc", "beam width in y at −3 dB, of p_{c}"),
    ("width_y_6_pc", "beam width in y at −6 dB, of p_{c}"),
    ("width_y_12_pc", "beam width in y at −12 dB, of p_{c}"),
    ("area_6_pc", "beam area at −6 dB, of p_{c}"),
    ("width_x_3_pr", "beam width in x at −3 dB, of p_{r}"),
    ("width_x_6_pr", "beam width in x at −6 dB, of p_{r}"),
    ("width_x_12_pr", "beam width in x at −12 dB, of p_{r}"),
    ("width_y_3_pr", "beam width in y at −3 dB, of p_{r}"),
    ("width_y_6_pr", "beam width in y at −6 dB, of p_{r}"),
    ("width_y_12_pr", "beam width in y at −12 dB, of p_{r}"),
    ("area_6_pr", "beam area at −6 dB, of p_{r}"),
    ("sidelobe_db", "highest side lobe"),
    ("tilt_x", "tilt of the beam toward x"),
    ("tilt_y", "tilt of the beam toward y"),
    ("axis_offset_x", "offset of the beam’s axis at the head, x"),
    ("axis_offset_y", "offset of the beam’s axis at the head, y"),
    ("isal", "spatial-average intensity, linear"),
    ("isata", "spatial-average temporal-average intensity"),
    ("power_on_plane_wave", "power while on, plane wave"),
    ("power_ta_plane_wave", "temporal-average power, plane wave"),
    ("power_on_angular", "power while on, angular spectrum"),
    ("power_ta_angular", "temporal-average power, angular spectrum"),
    ("era", "effective radiating area"),
    ("bnr", "beam non-uniformity ratio"),
    ("z_peak", "position of the peak, z"),
    ("z_peak_pc", "position of the largest p_{c}, z"),
    ("z_peak_pr", "position of the largest p_{r}, z"),
    ("focus_shift", "pressure focus re geometric focus"),
    ("length_3", "depth of focus at −3 dB"),
    ("length_6", "depth of focus at −6 dB"),
    ("length_6_pc", "depth of focus at −6 dB, of p_{c}"),
    ("length_6_pr", "depth of focus at −6 dB, of p_{r}"),
    ("pc_slope", "slope of the compressional peak pressure"),
    ("pr_slope", "slope of the rarefactional peak pressure"),
    ("level_linear_max", "highest linear drive level"),
    ("level_no_bubble_signature_max", "highest drive level without signs of bubbles"),
    ("sigma_q", "local distortion parameter"),
    ("sigma_m", "nonlinear propagation parameter"),
    ("i_on_lin", "intensity while on, linear equivalent"),
    ("isal_lin", "spatial-average intensity, linear equivalent"),
    ("p1_lin", "amplitude of the fundamental, linear equivalent"),
    ("sensitivity_change", "change of the sensor’s sensitivity"),
    ("pr_derated", "derated peak rarefactional pressure"),
    ("isppa_derated", "derated spatial-peak pulse-average intensity"),
    ("ispta_derated", "derated spatial-peak temporal-average intensity"),
    ("mi", "mechanical index"),
    ("tis", "thermal index, soft tissue"),
    ("tib", "thermal index, bone at the focus"),
    ("tic", "thermal index, cranial bone"),
];

/// Ids that a typed word means: that id alone, else those with this symbol or name. Case, braces,
/// underscores and the kind of a dash do not count.
///
/// # Examples
/// `pc`, `p_c`, `p_{c}` and `Peak compressional pressure` are all `pc`.
pub fn ids_of(typed: &str) -> Vec<&'static str> {
    let wanted = plain(typed);
    let exact = CATALOGUE.iter().find(|entry| plain(entry.id) == wanted);
    if let Some(entry) = exact {
        return vec![entry.id];
    }
    let symbols = CATALOGUE.iter().filter(|entry| plain(entry.symbol) == wanted);
    let named = NAMES.iter().filter(|(_, name)| plain(name) == wanted);
    let mut ids: Vec<&str> = symbols.map(|entry| entry.id).collect();
    for (id, _) in named {
        if !ids.contains(id) {
            ids.push(id);
        }
    }
    ids
}

/// Ids and names of what may be stated, to suggest the one that was meant, each with its id.
pub fn known() -> impl Iterator<Item = (&'static str, &'static str)> {
    let all = CATALOGUE.iter().map(|entry| (entry.id, entry.id));
    all.chain(NAMES.iter().map(|(id, n)| (*n, *id))).filter(|(_, id)| !is_safety(id))
}

fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for word in text.split_whitespace() {
        if !out.is_empty() {
            out.push(' ');
        }
        out.extend(word.chars().filter(|c| !"_{}".contains(*c)).map(|c| match c {
            '−' | '–' => '-',
            '’' => '\'',
            other => other,
        }));
    }
    out.to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::wording::{Wording, en::English};

    #[test]
    fn names_are_those_of_the_sheet() {
        for (entry, (id, name)) in CATALOGUE.iter().zip(NAMES) {
            assert_eq!(entry.id, *id);
            assert_eq!(English.quantity(id).unwrap().name, *name);
            assert!(ids_of(name).contains(id) && ids_of(id) == [*id], "{id}");
            assert!(ids_of(entry.symbol).contains(id) || ids_of(entry.symbol).len() == 1, "{id}");
        }
        assert_eq!(CATALOGUE.len(), NAMES.len());
    }

    #[test]
    fn typed_words() {
        for typed in ["pc", "p_c", "p_{c}", "PC", " Peak  Compressional pressure "] {
            assert_eq!(ids_of(typed), ["pc"], "{typed}");
        }
        assert_eq!(ids_of("beam width in x at -6 dB"), ["width_x_6"]);
        assert_eq!(ids_of("f_awf"), ["f_awf_zero", "f_awf_mean"]);
        assert_eq!(ids_of("I_spta"), ["ispta"]);
        assert!(ids_of("loudness").is_empty());
    }
}

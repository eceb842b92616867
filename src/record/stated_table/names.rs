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

/// Other names by id, as the trade writes them. One that stands with several ids is ambiguous.
///
/// # References
/// Peak-compressional and peak-rarefactional acoustic pressure, arithmetic-mean acoustic-working
/// frequency: IEC 62127-1 (terms from memory). Derated values with `.3`, centre frequency: terms of
/// declared output in the trade (from memory). All others: common practice, no source.
const OTHER_NAMES: &[(&str, &[&str])] = &[
    (
        "pc",
        &[
            "p+",
            "PPP",
            "peak positive pressure",
            "peak positive acoustic pressure",
            "peak compressional acoustic pressure",
            "peak compression pressure",
            "peak pressure",
        ],
    ),
    (
        "pr",
        &[
            "p-",
            "PNP",
            "PRP",
            "peak negative pressure",
            "peak negative acoustic pressure",
            "peak rarefactional acoustic pressure",
            "peak rarefaction pressure",
            "peak pressure",
        ],
    ),
    ("td", &["pulse width", "PD"]),
    ("isppa", &["SPPA", "SPPA intensity"]),
    ("ispta", &["SPTA", "SPTA intensity"]),
    ("isata", &["SATA", "SATA intensity"]),
    ("f_awf_zero", &["acoustic frequency"]),
    ("f_awf_mean", &["fc", "centre frequency", "center frequency", "acoustic frequency"]),
    ("bandwidth", &["-3 dB bandwidth"]),
    ("p1", &["fundamental pressure", "fundamental amplitude"]),
    ("h2", &["2nd harmonic", "second harmonic"]),
    ("h3", &["3rd harmonic", "third harmonic"]),
    ("thd", &["harmonic distortion"]),
    ("sidelobe_db", &["side lobe level", "sidelobe level"]),
    ("length_6", &["depth of field at -6 dB", "axial width at -6 dB"]),
    ("power_ta_plane_wave", &["acoustic power", "output power", "total power"]),
    ("power_ta_angular", &["acoustic power", "output power", "total power"]),
    ("pr_derated", &["pr.3", "pra.3"]),
    ("isppa_derated", &["isppa.3"]),
    ("ispta_derated", &["ispta.3"]),
];

/// Other names of quantities that may be stated and what they mean; an ambiguous one once for each.
pub fn other_names() -> impl Iterator<Item = (&'static str, &'static str)> {
    let all = OTHER_NAMES.iter().flat_map(|(id, names)| names.iter().map(|name| (*name, *id)));
    all.filter(|(_, id)| !is_safety(id))
}

/// Ids that a typed word means: that id alone, else those with this symbol or name. Case, braces,
/// underscores, hyphens between words and the kind of a dash do not count.
///
/// # Examples
/// `pc`, `p_c`, `p_{c}`, `Peak compressional pressure` and `peak-positive pressure` are all `pc`.
pub fn ids_of(typed: &str) -> Vec<&'static str> {
    let wanted = plain(typed);
    let exact = CATALOGUE.iter().find(|entry| plain(entry.id) == wanted);
    if let Some(entry) = exact {
        return vec![entry.id];
    }
    let symbols = CATALOGUE.iter().filter(|entry| plain(entry.symbol) == wanted);
    let named = NAMES.iter().filter(|(_, name)| plain(name) == wanted).map(|(id, _)| *id);
    let is_other = |names: &[&str]| names.iter().any(|name| plain(name) == wanted);
    let other = OTHER_NAMES.iter().filter(|(_, names)| is_other(names)).map(|(id, _)| *id);
    let mut ids: Vec<&str> = symbols.map(|entry| entry.id).collect();
    for id in named.chain(other) {
        if !ids.contains(&id) {
            ids.push(id);
        }
    }
    ids
}

/// Ids and names of what may be stated, to suggest the one that was meant, each with its id.
pub fn known() -> impl Iterator<Item = (&'static str, &'static str)> {
    let all = CATALOGUE.iter().map(|entry| (entry.id, entry.id));
    let named = all.chain(NAMES.iter().map(|(id, n)| (*n, *id)));
    named.chain(other_names()).filter(|(_, id)| !is_safety(id))
}

fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    // A hyphen between words; not a sign.
    let hyphen = |part: &&str| part.ends_with(char::is_alphabetic);
    let mut parts = text.split_inclusive(['-', '‐', '‑']).peekable();
    let mut spaced = String::with_capacity(text.len());
    while let Some(part) = parts.next() {
        let bare = part.trim_end_matches(['-', '‐', '‑']);
        let next = parts.peek().is_some_and(|next| next.starts_with(char::is_alphabetic));
        if next && hyphen(&bare) {
            spaced.push_str(bare);
            spaced.push(' ');
        } else {
            spaced.push_str(part);
        }
    }
    for word in spaced.split_whitespace() {
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
        for (typed, ids) in [
            ("Peak Positive Pressure", &["pc"][..]),
            ("peak-positive pressure", &["pc"]),
            ("peak-compressional acoustic pressure", &["pc"]),
            ("p+", &["pc"]),
            ("P_+", &["pc"]),
            ("peak negative pressure", &["pr"]),
            ("p−", &["pr"]),
            ("p-", &["pr"]),
            ("PRP", &["pr"]),
            ("peak pressure", &["pc", "pr"]),
            ("Isppa", &["isppa"]),
            ("I_SPTA", &["ispta"]),
            ("spatial peak pulse average intensity", &["isppa"]),
            ("pulse intensity integral", &["pii"]),
            ("MI", &["mi"]),
            ("p_r.3", &["pr_derated"]),
            ("acoustic power", &["power_ta_plane_wave", "power_ta_angular"]),
        ] {
            assert_eq!(ids_of(typed), ids, "{typed}");
        }
    }

    /// No other name is the id, symbol or name of another quantity, and each has one.
    #[test]
    fn other_names_take_none_away() {
        for (id, names) in OTHER_NAMES {
            assert!(CATALOGUE.iter().any(|entry| entry.id == *id), "{id}");
            for name in *names {
                let taken = |entry: &&crate::base::quantity::Entry| {
                    entry.id != *id
                        && [entry.id, entry.symbol].iter().any(|t| plain(t) == plain(name))
                };
                assert!(!CATALOGUE.iter().any(|entry| taken(&entry)), "{name}");
                assert!(!NAMES.iter().any(|(of, n)| of != id && plain(n) == plain(name)), "{name}");
                assert!(ids_of(name).contains(id), "{name}");
            }
        }
    }
}

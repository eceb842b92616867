//! How quantities go with the amplitude of the pressure and with the scale of the axes.

/// Power of the pressure's amplitude with which a quantity goes.
pub fn of_amplitude(id: &str) -> f64 {
    match id {
        "pc" | "pr" | "pc_ss" | "pr_ss" | "p1" | "p1_lin" | "nep" | "nep_density" => 1.0,
        "pr_derated" | "mi" => 1.0,
        "ppsi" | "pii" | "i_on" | "isppa" | "ispta" | "isal" | "isata" => 2.0,
        "i_on_lin" | "isal_lin" => 2.0,
        "isppa_derated" | "ispta_derated" | "tis" | "tib" | "tic" => 2.0,
        _ if id.starts_with("power_") => 2.0,
        _ => 0.0,
    }
}

/// Whether it goes with the drive as well: noise does not.
pub fn goes_with_drive(id: &str) -> bool {
    !id.starts_with("nep")
}

/// Power of the axes' scale with which a quantity goes. Positions go with it from the origin of the
/// axes, wherever that is.
pub fn of_axes(id: &str) -> f64 {
    let starts = |prefix: &str| id.starts_with(prefix);
    if starts("area_") || starts("power_") || id == "era" {
        2.0
    } else if starts("width_")
        || starts("length_")
        || starts("z_peak")
        || starts("x_peak")
        || starts("y_peak")
    {
        1.0
    } else {
        0.0
    }
}

/// Which feature of the waveform at the peak a quantity rests on: pc, pr, ppsi in this order.
pub fn feature_of(id: &str) -> Option<usize> {
    match id {
        "pc" | "pc_ss" => Some(0),
        "pr" | "pr_ss" | "pr_derated" | "mi" => Some(1),
        "ppsi"
        | "pii"
        | "i_on"
        | "isppa"
        | "ispta"
        | "isal"
        | "isata"
        | "isppa_derated"
        | "ispta_derated"
        | "power_on_plane_wave"
        | "power_ta_plane_wave" => Some(2),
        _ => None,
    }
}

/// Quantities whose budgets are drawn as well.
pub const MAIN: [&str; 8] =
    ["pc", "pr", "isppa", "ispta", "width_x_6", "width_y_6", "area_6", "power_on_angular"];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::quantity::CATALOGUE;

    /// Every quantity in pascals, watts or joules goes with the amplitude, and the indices with the pressure
    /// (MI) or the power (TI) that they are made of; no other one.
    #[test]
    fn units_tell_the_power_of_the_amplitude() {
        for entry in CATALOGUE {
            let expected = match entry.unit {
                "Pa" | "Pa/Hz^0.5" => 1.0,
                "Pa2 s" | "J/m2" | "W/m2" | "W" => 2.0,
                _ if entry.id == "mi" => 1.0,
                _ if entry.symbol.starts_with("TI") => 2.0,
                _ => 0.0,
            };
            assert_eq!(of_amplitude(entry.id), expected, "{}", entry.id);
            assert!(of_axes(entry.id) == 0.0 || matches!(entry.unit, "m" | "m2" | "W"));
        }
    }
}

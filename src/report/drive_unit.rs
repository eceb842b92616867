//! Units in which the operator's unit of the drive level stands.

/// A unit, or a text that ends with one, with the operator's `unit` for `level`. Slopes of a power are per
/// its root, written in the manner of `root_like` (`W^0.5` or `√W`).
///
/// # Examples
/// `kPa/level` is `kPa/V` for volts, `kPa/√W` for watts.
pub fn in_level_unit(text: &str, unit: &str, is_power: bool, root_like: &str) -> String {
    let Some(before) = text.strip_suffix("level") else { return text.to_owned() };
    let own = if before.ends_with('/') && is_power {
        root_like.replace('W', unit)
    } else {
        unit.to_owned()
    };
    match before.strip_suffix('/') {
        Some(before) if unit.is_empty() => before.to_owned(),
        _ => format!("{before}{own}").trim_end().to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amplitudes_and_powers() {
        assert_eq!(in_level_unit("Pa/level", "", false, "W^0.5"), "Pa");
        assert_eq!(in_level_unit("Pa/level", "Vpp", false, "W^0.5"), "Pa/Vpp");
        assert_eq!(in_level_unit("60\u{a0}level", "Vpp", false, "√W"), "60\u{a0}Vpp");
        assert_eq!(in_level_unit("3.1\u{a0}MPa", "Vpp", false, "√W"), "3.1\u{a0}MPa");
        assert_eq!(in_level_unit("2\u{a0}kPa/level", "W", true, "√W"), "2\u{a0}kPa/√W");
        assert_eq!(in_level_unit("level", "W", true, "√W"), "W");
    }
}

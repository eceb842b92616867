//! Colours of figures: ink, accent, and the three scales of maps.

use crate::report::model::ColourScale;

/// Red, green, blue.
pub type Rgb = (u8, u8, u8);

/// Words, axes, strong lines.
pub const INK: Rgb = (0x1a, 0x1a, 0x1a);
/// Second words and reference curves.
pub const GREY: Rgb = (0x6b, 0x6b, 0x6b);
/// Level and position marks.
pub const SOFT: Rgb = (0x9a, 0x9a, 0x9a);
/// Grid where values are read.
pub const GRID: Rgb = (0xe4, 0xe4, 0xe1);
/// Ground of an analysis window.
pub const SHADE: Rgb = (0xee, 0xf2, 0xf2);
/// The measured curve: a deep blue-green.
pub const ACCENT: Rgb = (0x0b, 0x55, 0x63);
/// Uncertainty band, the accent thinned on white.
pub const BAND: Rgb = (0xc3, 0xd8, 0xdb);
/// Hatch over cells without a value.
pub const FAINT: Rgb = (0xcf, 0xcf, 0xcb);
/// Paper.
pub const PAPER: Rgb = (0xff, 0xff, 0xff);

/// Colour at `fraction` of a scale, 0 to 1; outside it is held at the ends (a phase wraps).
pub fn colour(scale: ColourScale, fraction: f64) -> Rgb {
    let fraction = if fraction.is_finite() { fraction } else { 0.0 };
    match scale {
        ColourScale::Sequential => {
            colorous::CIVIDIS.eval_continuous(fraction.clamp(0.0, 1.0)).as_tuple()
        }
        // Purple below zero, orange above; told apart by every common kind of colour blindness.
        ColourScale::Diverging => {
            colorous::PURPLE_ORANGE.eval_continuous(fraction.clamp(0.0, 1.0)).as_tuple()
        }
        ColourScale::Cyclic => cyclic(fraction.rem_euclid(1.0)),
    }
}

/// Relative luminance, 0 black to 1 white.
///
/// # References
/// IEC 61966-2-1 (sRGB), luminance weights of ITU-R BT.709.
pub fn luminance((r, g, b): Rgb) -> f64 {
    0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b)
}

/// Ink on light ground, paper on dark.
pub fn readable_on(ground: Rgb) -> Rgb {
    if luminance(ground) > 0.3 { INK } else { PAPER }
}

fn linear(value: u8) -> f64 {
    let v = f64::from(value) / 255.0;
    if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
}

/// A ring through OKLab: light at the ends, dark in the middle, blue on one side, red on the
/// other, so that a turn of phase has no seam.
fn cyclic(turn: f64) -> Rgb {
    let angle = turn * std::f64::consts::TAU;
    let lightness = 0.62 + 0.29 * angle.cos();
    let side = angle.sin();
    let (a, b) =
        if side >= 0.0 { (-0.03 * side, -0.13 * side) } else { (-0.13 * side, -0.06 * side) };
    oklab(lightness, a, b)
}

/// OKLab to sRGB, clipped to its gamut.
///
/// # References
/// B. Ottosson, "A perceptual color space for image processing" (2020), inverse matrices (value
/// from memory).
fn oklab(lightness: f64, a: f64, b: f64) -> Rgb {
    let l = (lightness + 0.396_337_777_4 * a + 0.215_803_757_3 * b).powi(3);
    let m = (lightness - 0.105_561_345_8 * a - 0.063_854_172_8 * b).powi(3);
    let s = (lightness - 0.089_484_177_5 * a - 1.291_485_548 * b).powi(3);
    (
        byte(4.076_741_662_1 * l - 3.307_711_591_3 * m + 0.230_969_929_2 * s),
        byte(-1.268_438_004_6 * l + 2.609_757_401_1 * m - 0.341_319_396_5 * s),
        byte(-0.004_196_086_3 * l - 0.703_418_614_7 * m + 1.707_614_701 * s),
    )
}

fn byte(value: f64) -> u8 {
    let v = value.clamp(0.0, 1.0);
    let v = if v <= 0.003_130_8 { 12.92 * v } else { 1.055 * v.powf(1.0 / 2.4) - 0.055 };
    (v * 255.0).round() as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    // J. R. Nuñez, C. R. Anderton, R. S. Renslow, PLOS ONE 13 (2018) e0199239: cividis runs from
    // (0, 32, 76)-like dark blue to (255, 233, 69)-like yellow (value from memory), lightness
    // rising throughout.
    #[test]
    fn cividis_runs_from_dark_blue_to_yellow_and_only_lightens() {
        let (r, g, b) = colour(ColourScale::Sequential, 0.0);
        assert!(r < 20 && g < 50 && b > 60, "{r} {g} {b}");
        let (r, g, b) = colour(ColourScale::Sequential, 1.0);
        assert!(r > 240 && g > 220 && b < 90, "{r} {g} {b}");
        let light: Vec<f64> = (0..=20)
            .map(|n| luminance(colour(ColourScale::Sequential, f64::from(n) / 20.0)))
            .collect();
        assert!(light.windows(2).all(|w| w[1] > w[0]));
    }

    #[test]
    fn diverging_is_lightest_at_zero() {
        let middle = luminance(colour(ColourScale::Diverging, 0.5));
        assert!(middle > 0.85);
        let (below, above) =
            (colour(ColourScale::Diverging, 0.0), colour(ColourScale::Diverging, 1.0));
        assert!(luminance(below) < 0.2 && luminance(above) < 0.2);
        assert!(below.2 > below.0 && above.0 > above.2, "purple below, orange above");
    }

    #[test]
    fn a_phase_has_no_seam() {
        let near = |a: Rgb, b: Rgb| {
            a.0.abs_diff(b.0) <= 3 && a.1.abs_diff(b.1) <= 3 && a.2.abs_diff(b.2) <= 3
        };
        assert!(near(colour(ColourScale::Cyclic, 0.0), colour(ColourScale::Cyclic, 0.9999)));
        for n in 0..200 {
            let t = f64::from(n) / 200.0;
            let (a, b) = (colour(ColourScale::Cyclic, t), colour(ColourScale::Cyclic, t + 0.005));
            assert!(
                a.0.abs_diff(b.0) < 16 && a.1.abs_diff(b.1) < 16 && a.2.abs_diff(b.2) < 16,
                "{t}"
            );
        }
    }

    // OKLab's own white: L = 1, a = b = 0 is sRGB white.
    #[test]
    fn oklab_white_is_white() {
        assert_eq!(oklab(1.0, 0.0, 0.0), (255, 255, 255));
        assert_eq!(oklab(0.0, 0.0, 0.0), (0, 0, 0));
    }
}

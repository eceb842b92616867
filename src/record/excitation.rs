//! How the head was driven in the tank, and the exposure in use to which averages may refer.

use serde::{Deserialize, Serialize};

use super::Uncertainty;

/// How the head was driven in the tank.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Excitation {
    /// Frequency of the drive, Hz.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frequency_hz: Option<f64>,
    /// Cycles in a burst.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cycles: Option<f64>,
    /// Bursts a second, Hz.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub repetition_hz: Option<f64>,
    /// Bursts, or a continuous wave.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mode: Option<ExcitationMode>,
    /// Drive level, in `level_unit`; a scan may state its own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub level: Option<f64>,
    /// Unit of all drive levels of this record, as the operator reads it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub level_unit: Option<String>,
    /// What the level measures: pressure goes with an amplitude and with the root of a power.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub level_kind: Option<LevelKind>,
    /// Where the level is read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub level_point: Option<LevelPoint>,
    /// Electrical power into the head during the burst, W.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub power_electrical_w: Option<f64>,
    /// Electrical power reflected by the head during the burst, W.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub power_reflected_w: Option<f64>,
    /// Relative uncertainty of the drive's amplitude: how far it may wander between scans and days.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_drive: Option<Uncertainty>,
    /// Relative uncertainty of the repetition rate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_repetition: Option<Uncertainty>,
}

impl Excitation {
    /// Duration of the stated burst, s: cycles over frequency. `None` for a continuous wave or
    /// where one of the two is blank.
    pub fn burst_s(&self) -> Option<f64> {
        match self.mode {
            Some(ExcitationMode::Cw) => None,
            _ => Some(self.cycles? / self.frequency_hz?),
        }
    }

    /// Fraction of the time during which the drive is on: 1 for a continuous wave, else burst
    /// duration times repetition rate.
    pub fn duty(&self) -> Option<f64> {
        match self.mode {
            Some(ExcitationMode::Cw) => Some(1.0),
            _ => Some(self.burst_s()? * self.repetition_hz?),
        }
    }
}

/// Bursts, or a continuous wave.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum ExcitationMode {
    /// Bursts with pauses.
    Burst,
    /// Continuous wave: duty factor 1.
    Cw,
}

impl ExcitationMode {
    /// The word of the record.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Burst => "burst",
            Self::Cw => "cw",
        }
    }
}

/// What a drive level measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum LevelKind {
    /// A voltage or another amplitude.
    Amplitude,
    /// A power.
    Power,
    /// Percent of the largest amplitude.
    PercentOfAmplitude,
    /// Percent of the largest power.
    PercentOfPower,
    /// Not known; no slope is then reported.
    Unknown,
}

impl LevelKind {
    /// Whether pressure goes with the root of the level. `None` where that is not known.
    pub fn is_power(self) -> Option<bool> {
        match self {
            Self::Amplitude | Self::PercentOfAmplitude => Some(false),
            Self::Power | Self::PercentOfPower => Some(true),
            Self::Unknown => None,
        }
    }
}

/// Where a drive level is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum LevelPoint {
    /// Set at the signal generator.
    Generator,
    /// Measured at the output of the amplifier.
    AmplifierOutput,
    /// Measured at the terminals of the head.
    HeadTerminals,
}

/// The exposure in use, to which temporal averages shall also refer.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Exposure {
    /// Bursts, or a continuous wave.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mode: Option<ExcitationMode>,
    /// Duration of a burst, s.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub burst_s: Option<f64>,
    /// Bursts a second, Hz.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub repetition_hz: Option<f64>,
    /// Duration of the whole train of bursts, s.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub train_s: Option<f64>,
    /// Drive level, in `excitation.level_unit`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub level: Option<f64>,
    /// Where these values are stated, in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source_of_values: Option<String>,
}

impl Exposure {
    /// Fraction of the time during which the drive is on: 1 for a continuous wave, else burst
    /// duration times repetition rate.
    pub fn duty(&self) -> Option<f64> {
        match self.mode {
            Some(ExcitationMode::Cw) => Some(1.0),
            _ => Some(self.burst_s? * self.repetition_hz?),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 20 cycles of 2 MHz last 10 µs; 1000 of them a second fill 1 %.
    #[test]
    fn burst_and_duty() {
        let mut drive = Excitation {
            frequency_hz: Some(2e6),
            cycles: Some(20.0),
            repetition_hz: Some(1e3),
            ..Excitation::default()
        };
        assert!((drive.burst_s().unwrap() - 10e-6).abs() < 1e-18);
        assert!((drive.duty().unwrap() - 0.01).abs() < 1e-15);
        drive.mode = Some(ExcitationMode::Cw);
        assert_eq!((drive.burst_s(), drive.duty()), (None, Some(1.0)));
        let exposure =
            Exposure { burst_s: Some(0.02), repetition_hz: Some(10.0), ..Exposure::default() };
        assert!((exposure.duty().unwrap() - 0.2).abs() < 1e-15);
        assert_eq!(Exposure::default().duty(), None);
    }
}

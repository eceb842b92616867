//! Why a verdict is undecided, what would settle it, and the rules.

use super::Filled;
use super::{labels, reasons};

/// The sentence of a remark on a verdict.
pub fn remark(code: &str, a: &Filled<'_>) -> Option<String> {
    Some(match code {
        "verdict-not-measured" => "Kein Scan ergibt diese Größe.".to_owned(),
        "verdict-no-value" => format!("Sie ließ sich nicht messen: {}.", why(a)),
        "verdict-no-uncertainty" => {
            format!("Ohne Messunsicherheit keine Konformitätsaussage: {}.", why(a))
        }
        "verdict-no-tolerance" => "Eine Toleranz ist nicht angegeben.".to_owned(),
        "verdict-unfit" => {
            a.fill("Der Scan {scan} ist ungeeignet; siehe Eignung der Daten.")
        }
        "verdict-lower-bound" => {
            "Der Messwert ist eine untere Schranke: der wahre Wert kann höher sein.".to_owned()
        }
        "verdict-level-differs" => format!(
            "Angegeben ist sie für die Stufe {}, gemessen wurde bei {}.",
            decimal(&a.get("stated")),
            decimal(&a.get("measured"))
        ),
        "verdict-level-unknown" => format!(
            "Angegeben ist sie für die Stufe {}; die Stufe der Messung ist nicht angegeben.",
            decimal(&a.get("stated"))
        ),
        "verdict-window-differs" => format!(
            "Angegeben ist sie für {}, gemessen wurde über {}.",
            window(&a.get("stated")),
            window(&a.get("measured"))
        ),
        "verdict-time-base-differs" => format!(
            "Angegeben ist sie {}, gemessen wurde sie {}.",
            base(&a.get("stated")),
            base(&a.get("measured"))
        ),
        "verdict-medium-differs" => {
            "Angegeben ist sie mit einem Abschlag für Gewebe, gemessen wurde in Wasser.".to_owned()
        }
        "verdict-probability" => a.fill("Die Konformitätswahrscheinlichkeit, {probability}, liegt zwischen {most} und {least}."),
        "verdict-straddles" => {
            "Der Messwert mit seiner Unsicherheit liegt über einer Grenze.".to_owned()
        }
        "settle-measurement" => a.fill("Um zu entscheiden: die erweiterte Unsicherheit dieser Messung von {from} auf {to} senken; derselbe Wert ergäbe dann: {would}."),
        "settle-calibration" => a.fill("Um zu entscheiden: die erweiterte Unsicherheit der Kalibrierung von {from} auf {to} senken; derselbe Wert ergäbe dann: {would}."),
        "settle-both" => a.fill("Um zu entscheiden: die erweiterte Unsicherheit dieser Messung von {from} auf {to} senken, wofür auch eine bessere Kalibrierung nötig ist (jetzt {calibration}); derselbe Wert ergäbe dann: {would}."),
        "settle-out-of-reach" => a.fill("Nötig wäre eine erweiterte Unsicherheit von {to} statt {from}, weniger als die besten Kalibrierungen übrig lassen: dass eine bessere Messung dieses Wertes entscheidet, ist nicht zu erwarten."),
        "verdict-sign-doubted" => {
            "Zuerst die Polarität prüfen: Der Spitzen-Unterdruck ist der größere, beide könnten vertauscht sein; siehe Eignung der Daten.".to_owned()
        }
        "settle-none" => {
            "Keine kleinere Unsicherheit würde entscheiden: der Wert liegt auf der Grenze."
                .to_owned()
        }
        "rule-guarded-both-sides" => a.fill("Regel (JCGM 106): erfüllt ab einer Wahrscheinlichkeit von {least}, nicht erfüllt bis {most}, sonst nicht entschieden."),
        "rule-simple" => {
            "Regel (JCGM 106, einfache Annahme): erfüllt, wenn der Messwert in der Toleranz liegt."
                .to_owned()
        }
        "rule-guard-expanded" => {
            "Regel (JCGM 106): erfüllt, wenn y ± U in der Toleranz liegt, nicht erfüllt, wenn außerhalb, sonst nicht entschieden.".to_owned()
        }
        _ => return None,
    })
}

/// A stated condition as a short text: `Stufe 90 Vpp`.
pub fn condition(condition: &str, stated: &str) -> String {
    match (condition, stated) {
        ("level", level) => format!("Stufe {}", decimal(level)),
        ("window", "whole-pulse") => "ganzer Puls".to_owned(),
        ("window", "steady-state") => "eingeschwungen".to_owned(),
        ("time_base", word) => base(word).to_owned(),
        ("medium", "water") => "in Wasser".to_owned(),
        ("medium", _) => "mit Abschlag für Gewebe".to_owned(),
        (_, other) => other.to_owned(),
    }
}

/// A level with its unit, `7.5 Vpp`, with the comma of the language.
fn decimal(level: &str) -> String {
    match level.split_once(' ') {
        Some((number, unit)) => format!("{} {unit}", number.replace('.', ",")),
        None => level.replace('.', ","),
    }
}

/// Why there is no value or no uncertainty.
fn why(a: &Filled<'_>) -> String {
    let code = a.get("reason");
    let reason = match code.as_str() {
        "" => "keine wurde ausgewertet".to_owned(),
        code => reasons::reason(code).unwrap_or(code).to_owned(),
    };
    if a.has("blank") {
        let path = a.get("blank");
        format!("{reason}: {}", labels::blank(&path).unwrap_or(&path))
    } else {
        reason
    }
}

fn window(word: &str) -> &str {
    match word {
        "whole-pulse" => "den ganzen Puls",
        "steady-state" => "den eingeschwungenen Zustand",
        other => other,
    }
}

fn base(word: &str) -> &str {
    match word {
        "on" => "während des Bursts",
        "tank" => "als Mittel über die Anregung im Messbecken",
        "exposure" => "als Mittel über die Beschallung bei der Behandlung",
        other => other,
    }
}

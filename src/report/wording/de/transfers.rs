//! Findings on the transfer of a calibration by a check source.

use super::findings::s;
use super::{Filled, Sentence};

pub fn findings(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "transfer-no-certificate" => s(
            "Die Empfindlichkeit des kalibrierten Sensors hat keine Unsicherheit: die übertragenen Faktoren erscheinen sicherer, als sie sind.",
            "Die Unsicherheit aus seinem Kalibrierschein angeben.",
        ),
        "transfer-no-flatness" => s(
            "Die Prüfquelle zeigt die Empfindlichkeit bei ihrer eigenen Frequenz; wie eben der Frequenzgang des Sensors sonst ist, ist nicht angegeben und nicht in der Unsicherheit.",
            "Angeben, wie eben der Frequenzgang dieses Sensors im verwendeten Band ist.",
        ),
        "transfer-no-drift" => s(
            "Die Prüfquelle wurde nur einmal mit dem kalibrierten Sensor gemessen: eine Drift der Quelle dazwischen bliebe unbemerkt.",
            "Sie zum Schluss noch einmal mit dem kalibrierten Sensor messen (Referenz, Sensor, Referenz).",
        ),
        "source-drifted" => s(
            a.fill("Die Prüfquelle änderte sich zwischen ihren beiden Messungen mit dem kalibrierten Sensor um {found}; verwendet wurde der Mittelwert beider."),
            "Warmlaufen lassen, Wassertemperatur und Positionen prüfen und die Übertragung wiederholen.",
        ),
        "transfer-without-repeats" => s(
            "Ein einziger Zeitverlauf der Prüfquelle: ihre Wiederholbarkeit ist nicht in der Unsicherheit.",
            "In jedem Messbereich etwa zehn Aufnahmen machen.",
        ),
        "features-disagree" => s(
            format!(
                "{}Der Faktor der Prüfquelle nach {} weicht um {} von dem nach {} ab, mehr, als Rauschen und Wiederholbarkeit erklären: der Sensor hat keinen ebenen Frequenzgang oder ist nicht linear.",
                in_range(a),
                feature(&a.get("feature")),
                a.get("found"),
                feature(&a.get("chosen"))
            ),
            "Beide Zeitverläufe ansehen; eine Tabelle verwenden oder einen Frequenzgang angeben, der den Unterschied abdeckt.",
        ),
        "ranges-disagree" => s(
            format!(
                "Die Messbereiche {} und {} ergeben Drücke der Prüfquelle (nach {}), die um {} voneinander abweichen, bei einer Standardunsicherheit von {}.",
                a.get("first"),
                a.get("second"),
                feature(&a.get("feature")),
                a.get("found"),
                a.get("u")
            ),
            "Wo Messbereiche sich überlappen, müssen sie übereinstimmen: nach Stauchung in einem von ihnen suchen und die Übertragung wiederholen.",
        ),
        "check-source-clipped" => s(
            a.fill("{points} von {all} Zeitverläufen der Prüfquelle erreichten das Ende des Digitalisierbereichs."),
            "Mit weiterem Bereich oder schwächerer Quelle wiederholen: der Faktor ist zu klein.",
        ),
        _ => return None,
    })
}

/// What is read off a waveform, in the dative.
fn feature(key: &str) -> &str {
    match key {
        "fundamental" => "der Grundschwingung",
        "rms" => "dem Effektivwert",
        "peak" => "dem Spitzenwert",
        other => other,
    }
}

/// `Messbereich high: `, or nothing for a sensor without ranges.
fn in_range(a: &Filled<'_>) -> String {
    let range = a.get("range");
    if range.is_empty() { String::new() } else { format!("Messbereich {range}: ") }
}

//! Findings on signs of bubbles, and on the sensor before and after.

use super::findings::s;
use super::{Filled, Sentence};

pub fn findings(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "bubble-signs" => s(
            format!(
                "Der Monitor zeigt Anzeichen von Blasen in {} ({}): Rauschen zwischen den Harmonischen oder Linien bei ungeraden Vielfachen der halben Antriebsfrequenz bis {} über der Grundlinie (ab {} gilt eine Aufnahme als markiert).",
                shots(a),
                a.get("fraction"),
                a.get("worst"),
                a.get("limit")
            ),
            "Das Wasser entgasen und warten; das gilt für das Wasser dieses Beckens, nicht für Gewebe.",
        ),
        "bubble-signs-own" => s(
            format!(
                "Der Zeitverlauf des Sensors selbst zeigt Anzeichen von Blasen in {} ({}): Rauschen zwischen den Harmonischen oder Linien bei ungeraden Vielfachen der halben Antriebsfrequenz bis {} über der Grundlinie (ab {} gilt eine Aufnahme als markiert). Keine Aufnahme bleibt deshalb außer Betracht.",
                shots(a),
                a.get("fraction"),
                a.get("worst"),
                a.get("limit")
            ),
            "Den Sensor auf Blasen ansehen, das Wasser entgasen; ein passiver Detektor daneben würde mehr zeigen.",
        ),
        "bubble-baseline-high" => s(
            a.fill("Schon bei den niedrigsten Pegeln liegen Rauschen oder Linien {found} über dem ruhigen Teil vor dem Burst: Blasen oder Rauschen des Antriebs verdecken dort schwächere Anzeichen bei den anderen Pegeln."),
            "Die Reihe bei einem niedrigeren Pegel beginnen.",
        ),
        "bubble-baseline-own" => s(
            "Es gibt keinen niedrigeren Pegel und keinen ruhigen Teil vor dem Burst: die Aufnahmen werden mit ihrem eigenen Median verglichen. Blasen in mehr als der Hälfte blieben unbemerkt.",
            "Auch bei einem niedrigeren Pegel aufnehmen, oder von vor dem Burst an.",
        ),
        "bubble-no-baseline" => s(
            "Es gibt nichts zum Vergleich: keinen niedrigeren Pegel, keinen ruhigen Teil vor dem Burst, zu wenige Aufnahmen. Über Anzeichen von Blasen wird nichts gesagt.",
            "Auch bei einem niedrigeren Pegel aufnehmen, oder von vor dem Burst an.",
        ),
        "bubble-burst-short" => s(
            "Der Burst ist zu kurz für die Suche nach Blasen: sein eingeschwungener Teil hat weniger als 20 Perioden, zu wenige für das, was zwischen den Harmonischen liegt.",
            "",
        ),
        "bubble-band-narrow" => s(
            "Die Aufzeichnung reicht nicht bis zum Dreifachen der Antriebsfrequenz: zwischen den Harmonischen liegt zu wenig für die Suche nach Blasen.",
            "Schneller abtasten.",
        ),
        "bubble-shots-left" => s(
            a.fill("Anzeichen von Blasen wurden in den ersten 1024 von {all} Aufnahmen gesucht."),
            "",
        ),
        "monitor-beside-nothing" => s(
            "Der Monitor steht neben keinem Scan, der ausgewertet wird: er wurde nicht verwendet.",
            "Den Scan in seinem beside nennen.",
        ),
        "monitor-levels-differ" => s(
            a.fill("Der Monitor hat {found} Pegel, der Scan daneben {expected}: er wurde nicht verwendet."),
            "Beiden dieselben Pegel in derselben Reihenfolge geben.",
        ),
        "monitor-shots-differ" => s(
            a.fill("Der Monitor hat {found} Aufnahmen, {beside} hat {expected}: welche zusammengehören, ist nicht zu erkennen, und er wurde nicht verwendet."),
            "Zu jeder Aufnahme einen Zeitverlauf des Monitors aufzeichnen.",
        ),
        "monitor-own-time-base" => s(
            a.fill("Der Monitor wurde alle {found} abgetastet, der Scan daneben alle {expected}; beide wurden auf ihrer eigenen Zeitachse verwendet."),
            "",
        ),
        "monitor-without-burst" => s(
            "Die Aufzeichnung enthält keine 20 Perioden des eingeschwungenen Teils des Bursts: über Anzeichen von Blasen wird nichts gesagt.",
            "Sie vor der Ankunft des Bursts beginnen und nach ihm enden lassen.",
        ),
        "sensor-changed" => s(
            format!(
                "Zwischen den Aufnahmen der Prüfquelle vor und nach den Scans änderte sich die Anzeige des Sensors ({}) um {}, mehr als ihre erweiterte Unsicherheit von {}.",
                feature(&a.get("feature")),
                a.get("found"),
                a.get("u")
            ),
            "Den Sensor ansehen, neu positionieren und die Quelle noch einmal messen. Bleibt es dabei, den Sensor kalibrieren und die Scans wiederholen: welche vor der Änderung entstanden, ist nicht bekannt.",
        ),
        "sensor-unchanged" => s(
            format!(
                "Zwischen den Aufnahmen der Prüfquelle vor und nach den Scans änderte sich die Anzeige des Sensors ({}) um {}, innerhalb ihrer erweiterten Unsicherheit von {}: keine Änderung ist zu sehen.",
                feature(&a.get("feature")),
                a.get("found"),
                a.get("u")
            ),
            "",
        ),
        "sensor-check-assumed" => s(
            a.fill("Wie gut sich Quelle und Positionierung wiederholen, ist nicht angegeben: angenommen wurden Grenzen von ± {assumed}, gängige Praxis."),
            "Die Unsicherheit der Prüfung angeben.",
        ),
        "sensor-check-few-shots" => s(
            "Die Prüfung des Sensors braucht mindestens zwei Aufnahmen vorher und nachher: aus einzelnen ist die Streuung nicht bekannt.",
            "Vorher und nachher je etwa zehn Aufnahmen machen.",
        ),
        "sensor-check-ranges-differ" => s(
            format!(
                "Die Prüfquelle wurde vorher ({}) und nachher ({}) in verschiedenen Messbereichen aufgenommen: über den Sensor lässt sich nichts sagen.",
                a.get("before"),
                a.get("after")
            ),
            "Beide im selben Messbereich aufnehmen.",
        ),
        "sensor-check-levels-differ" => s(
            "Die Aufnahmen der Prüfquelle vorher und nachher haben keinen Pegel gemeinsam: über den Sensor lässt sich nichts sagen.",
            "Beide beim selben Pegel aufnehmen.",
        ),
        "sensor-check-no-signal" => s(
            "In dieser Aufnahme ist der Burst der Prüfquelle nicht zu finden, oder kein ruhiger Teil davor: über den Sensor lässt sich nichts sagen.",
            "Anschluss, Trigger und Zeitfenster prüfen; bleibt der Sensor stumm, ist er verloren.",
        ),
        "sensor-check-unread" => s(
            a.fill("Die Aufnahme der Prüfquelle war nicht zu lesen ({found}): über den Sensor lässt sich nichts sagen."),
            "Ihre Datei dazugeben oder in sensor.checked eine andere nennen.",
        ),
        _ => return None,
    })
}

fn shots(a: &Filled<'_>) -> String {
    a.fill("{marked} von {all} Aufnahmen")
}

fn feature(id: &str) -> String {
    match id {
        "rms" => "Effektivwert",
        "peak" => "positiver Spitzenwert",
        _ => "Grundschwingung",
    }
    .to_owned()
}

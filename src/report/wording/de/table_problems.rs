//! Problems of sensitivity tables, loads and check sources.

use super::problems::{list_or_none, s};
use super::{Filled, Sentence};

pub fn tables(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    columns(code, a)
        .or_else(|| rows(code, a))
        .or_else(|| loads(code, a))
        .or_else(|| check_sources(code, a))
}

fn columns(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "table-column-missing" => s(
            format!(
                "Die Empfindlichkeitstabelle braucht eine der Spalten {}; sie hat {}.",
                a.get("expected"),
                list_or_none(&a.get("found"))
            ),
            "Die Spalte mit ihrer Einheit benennen oder die Einheit in Klammern hinter die Überschrift schreiben.",
        ),
        "table-column-twice" => s(
            format!(
                "Die Empfindlichkeitstabelle nennt {} mehr als einmal: {}.",
                column(&a.get("quantity")),
                a.get("found")
            ),
            "Eine davon behalten.",
        ),
        "table-column-length" => s(
            format!(
                "Für {} hat die Empfindlichkeitstabelle {} Werte, erwartet werden {}.",
                column(&a.get("quantity")),
                a.get("found"),
                a.get("expected")
            ),
            "Alle Spalten brauchen gleich viele Zeilen.",
        ),
        "table-unit-missing" => s(
            format!(
                "Die Einheit der Spalte {} der Empfindlichkeitstabelle ist nicht angegeben.",
                a.path()
            ),
            format!("Eine von {} angeben, in Klammern hinter der Überschrift.", a.get("expected")),
        ),
        "table-unit-unknown" => s(
            format!(
                "Die Spalte {} der Empfindlichkeitstabelle hat die Einheit „{}“, keine von {}.",
                a.path(),
                a.get("found"),
                a.get("expected")
            ),
            "Die Werte umrechnen oder die Einheit berichtigen; Großbuchstaben zählen, und ein Pegel muss seinen Bezug nennen.",
        ),
        "table-unit-conflict" => s(
            format!(
                "Die Spalte {} der Empfindlichkeitstabelle nennt als Einheit „{}“, ihr Name aber eine andere.",
                a.path(),
                a.get("found")
            ),
            "Die Werte umrechnen oder die Einheit berichtigen.",
        ),
        "table-coverage-missing" => s(
            format!(
                "Die Spalte {} der Empfindlichkeitstabelle ist eine erweiterte Unsicherheit (großes U) ohne ihren Erweiterungsfaktor.",
                a.path()
            ),
            "Ihren Namen auf _k2 enden lassen oder eine Standardunsicherheit unter u angeben.",
        ),
        _ => return None,
    })
}

fn rows(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "table-too-short" => s(
            format!(
                "Zeilen der Empfindlichkeitstabelle: {}; mindestens zwei sind nötig.",
                a.get("found")
            ),
            "Den Export prüfen.",
        ),
        "table-bad-frequency" => s(
            format!("Die Frequenz bei {} ist {}.", a.path(), a.get("found")),
            "Frequenzen müssen null oder größer sein.",
        ),
        "table-not-rising" => s(
            format!("Die Frequenz bei {} steigt nicht.", a.path()),
            "Die Tabelle nach Frequenz ordnen und doppelte Zeilen entfernen.",
        ),
        "table-bad-sensitivity" => s(
            format!("Die Empfindlichkeit bei {} ist {}.", a.path(), a.get("found")),
            "Empfindlichkeiten müssen über null liegen.",
        ),
        "table-bad-phase" => s(
            format!("Die Phase bei {} ist {}.", a.path(), a.get("found")),
            "Jede Zeile braucht eine Phase, oder die ganze Spalte muss weg.",
        ),
        "table-bad-uncertainty" => s(
            format!("Bei {} ist {} {}.", a.path(), column(&a.get("quantity")), a.get("found")),
            "Unsicherheiten müssen null oder größer sein.",
        ),
        _ => return None,
    })
}

fn loads(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "response-load-missing" => s(
            format!(
                "{} Dazu wird die Angabe {} gebraucht.",
                if a.get("plane") == "open-circuit" {
                    "Die Tabelle gilt für den Leerlauf und muss auf die verwendete Last umgerechnet werden."
                } else {
                    "Eine Last ist angegeben; die Tabelle muss von der Last ihrer Kalibrierung auf die verwendete umgerechnet werden."
                },
                a.path()
            ),
            "Die Kapazität (0 für keine) oder den Widerstand angeben; oder eine Tabelle für das Kabelende unter der verwendeten Last.",
        ),
        "response-load-zero" => s(
            format!("Die Impedanz des Sensors bei {} ist unendlich.", a.path()),
            "Die Kapazität des Sensors mit seinem Kabel angeben.",
        ),
        _ => return None,
    })
}

fn check_sources(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "check-source-no-signal" => s(
            "Kein Burst der Prüfquelle ragt aus dem Rauschen.",
            "Prüfen, ob es die richtige Datei ist, oder mehr Aufnahmen mitteln.",
        ),
        "check-source-no-quiet-part" => s(
            "Vor dem Burst der Prüfquelle gibt es keinen ruhigen Teil: ihr Rauschen lässt sich nicht bestimmen.",
            "Die Aufzeichnung einige Perioden vor der Welle beginnen.",
        ),
        "check-source-not-held" => s(
            format!(
                "Die Aufzeichnung der Prüfquelle endet vor ihrem Burst: {} Abtastwerte, nötig sind {}.",
                a.get("found"),
                a.get("expected")
            ),
            "Mit beiden Sensoren den ganzen Burst aufzeichnen, mit zwei Perioden davor und danach.",
        ),
        "check-source-no-common-level" => s(
            format!(
                "Keine Stufe der Prüfquelle wurde sowohl hier als auch mit dem kalibrierten Sensor (Scan {}) gemessen.",
                a.get("reference")
            ),
            "Beide auf denselben Stufen messen und sie gleich angeben.",
        ),
        "check-source-range-missing" => s(
            format!(
                "{}: für den Messbereich „{}“ dieses Scans ist kein Scan der Prüfquelle genannt.",
                a.path(),
                a.get("range")
            ),
            format!(
                "Dort einen nennen oder den Messbereich des Scans nennen (kalibriert: {}).",
                list_or_none(&a.get("found"))
            ),
        ),
        _ => return None,
    })
}

/// What a column of a sensitivity table gives.
fn column(key: &str) -> &'static str {
    match key {
        "frequency" => "die Frequenz",
        "magnitude" => "die Empfindlichkeit",
        "real" => "den Realteil",
        "imaginary" => "den Imaginärteil",
        "phase" => "die Phase",
        "u-magnitude" => "die Unsicherheit der Empfindlichkeit",
        _ => "die Unsicherheit der Phase",
    }
}

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
            a.fill("Die Einheit der Spalte {} der Empfindlichkeitstabelle ist nicht angegeben."),
            a.fill("Eine von {expected} angeben, in Klammern hinter der Überschrift."),
        ),
        "table-unit-unknown" => s(
            a.fill("Die Spalte {} der Empfindlichkeitstabelle hat die Einheit „{found}“, keine von {expected}."),
            "Die Werte umrechnen oder die Einheit berichtigen; Großbuchstaben zählen, und ein Pegel muss seinen Bezug nennen.",
        ),
        "table-unit-conflict" => s(
            a.fill("Die Spalte {} der Empfindlichkeitstabelle nennt als Einheit „{found}“, ihr Name aber eine andere."),
            "Die Werte umrechnen oder die Einheit berichtigen.",
        ),
        "table-coverage-missing" => s(
            a.fill("Die Spalte {} der Empfindlichkeitstabelle ist eine erweiterte Unsicherheit (großes U) ohne ihren Erweiterungsfaktor."),
            "Ihren Namen auf _k2 enden lassen oder eine Standardunsicherheit unter u angeben.",
        ),
        _ => return None,
    })
}

fn rows(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "table-too-short" => s(
            a.fill("Zeilen der Empfindlichkeitstabelle: {found}; mindestens zwei sind nötig."),
            "Den Export prüfen.",
        ),
        "table-bad-frequency" => s(
            a.fill("Die Frequenz bei {} ist {found}."),
            "Frequenzen müssen null oder größer sein.",
        ),
        "table-not-rising" => s(
            a.fill("Die Frequenz bei {} steigt nicht."),
            "Die Tabelle nach Frequenz ordnen und doppelte Zeilen entfernen.",
        ),
        "table-bad-sensitivity" => s(
            a.fill("Die Empfindlichkeit bei {} ist {found}."),
            "Empfindlichkeiten müssen über null liegen.",
        ),
        "table-bad-phase" => s(
            a.fill("Die Phase bei {} ist {found}."),
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
            a.fill("Die Impedanz des Sensors bei {} ist unendlich."),
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
            a.fill("Die Aufzeichnung der Prüfquelle endet vor ihrem Burst: {found} Abtastwerte, nötig sind {expected}."),
            "Mit beiden Sensoren den ganzen Burst aufzeichnen, mit zwei Perioden davor und danach.",
        ),
        "check-source-no-common-level" => s(
            a.fill("Keine Stufe der Prüfquelle wurde sowohl hier als auch mit dem kalibrierten Sensor (Scan {reference}) gemessen."),
            "Beide auf denselben Stufen messen und sie gleich angeben.",
        ),
        "check-source-range-missing" => s(
            a.fill("{}: für den Messbereich „{range}“ dieses Scans ist kein Scan der Prüfquelle genannt."),
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

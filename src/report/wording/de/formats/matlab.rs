//! Problems of MAT files.

use super::{Filled, Sentence, s};

pub fn matlab(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    levels(code, a).or_else(|| elements(code, a)).or_else(|| skipped(code, a))
}

fn levels(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "mat-level-4" => s(
            "Dies ist eine MAT-Datei der Stufe 4, die nicht gelesen wird.",
            "Als Version 6, 7 oder 7.3 noch einmal speichern.",
        ),
        "mat-version" => s(
            a.fill("Die MAT-Datei nennt die Version {found}; gelesen wird hier Stufe 5 (1.0)."),
            "Als Version 6 oder 7 noch einmal speichern.",
        ),
        "mat-unknown" => s(
            "Die ersten 128 Bytes sind nicht die einer MAT-Datei der Stufe 5.",
            "Die Datei ist beschädigt; noch einmal kopieren oder speichern.",
        ),
        _ => return None,
    })
}

fn elements(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    let damaged = "Die Datei ist beschädigt; noch einmal kopieren oder speichern.";
    let place = if a.path().is_empty() { "Die Datei".to_owned() } else { a.path() };
    let at = if a.path().is_empty() { "In der Datei".to_owned() } else { a.fill("Bei {}") };
    Some(match code {
        "mat-short" => s(
            format!(
                "{place} soll noch {} Bytes lang sein, gefunden wurden {}.",
                a.get("expected"),
                a.get("found")
            ),
            "Die Datei ist abgeschnitten; noch einmal kopieren oder speichern.",
        ),
        "mat-unreadable" => s(
            format!("{place} lässt sich nicht lesen: {}.", a.get("found")),
            "Vielleicht ist die Datei abgeschnitten oder beschädigt; noch einmal kopieren oder speichern.",
        ),
        "mat-damaged" => s(
            format!(
                "Das komprimierte Feld {place} lässt sich nicht auspacken: {}.",
                a.get("found")
            ),
            damaged,
        ),
        "mat-long" => s(
            format!(
                "{at} hat ein Teil des Feldkopfs {} Bytes; erwartet werden höchstens {}.",
                a.get("found"),
                a.get("limit")
            ),
            damaged,
        ),
        "mat-element" => s(
            format!(
                "{at} werden {} erwartet, gefunden wurde ein Element der Art {}.",
                part(&a.get("expected")),
                a.get("found")
            ),
            damaged,
        ),
        "mat-class" => s(
            format!("{at} steht ein Feld der unbekannten Klasse {}.", a.get("found")),
            "Als Zahlen, Text oder Struktur daraus speichern.",
        ),
        "mat-dimensions" => s(
            format!("{at} kann das Feld nicht die Dimensionen {} haben.", a.get("found")),
            damaged,
        ),
        "mat-size" => s(
            format!(
                "Nach seinen Dimensionen hat {place} {} Bytes, gefunden wurden {}.",
                a.get("expected"),
                a.get("found")
            ),
            damaged,
        ),
        "mat-duplicate" => s(
            format!("{place} steht mehr als einmal da."),
            "Jeder Variablen ihren eigenen Namen geben.",
        ),
        "mat-packed-size" => s(
            format!(
                "{place} nennt {} ausgepackte Bytes; möglich sind höchstens {}.",
                a.get("found"),
                a.get("expected")
            ),
            damaged,
        ),
        _ => return None,
    })
}

/// Names of the parts of an array, plural.
fn part(key: &str) -> &'static str {
    match key {
        "flags" => "Kennzeichen des Felds",
        "dimensions" => "Dimensionen",
        "name" => "Buchstaben eines Namens",
        "name-length" | "field-names" => "Namen von Komponenten",
        "text" => "Zeichen",
        "numbers" => "Zahlen",
        _ => "die Teile eines Felds",
    }
}

fn skipped(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "mat-kind-skipped" => s(
            format!("{} wurde nicht gelesen: es ist {}.", a.path(), kind(&a.get("found"))),
            "Wird es gebraucht, als Feld von Zahlen speichern.",
        ),
        "mat-text-skipped" => s(
            format!(
                "Der Text {} wurde nicht gelesen: er {}.",
                a.path(),
                if a.get("found") == "long" { "ist zu lang" } else { "ist keine Zeichenzeile" }
            ),
            "Nichts ist zu tun, sofern er nicht zum Scan gehört.",
        ),
        "mat-struct-skipped" => s(
            a.fill("Das Strukturfeld {} hat {found} Elemente, von denen {limit} gelesen werden."),
            "Zahlen als ein Feld speichern statt in vielen Strukturen.",
        ),
        "mat-more-skipped" => s(
            a.fill("{found} weitere Variablen oder Komponenten wurden nicht gelesen."),
            "Den Scan allein speichern.",
        ),
        "mat-element-skipped" => s(
            a.fill("Was bei {} steht, wurde nicht gelesen: es ist ein Element der Art {found}, kein Feld."),
            "Nichts ist zu tun, sofern keine Variable fehlt.",
        ),
        _ => return None,
    })
}

fn kind(key: &str) -> &'static str {
    match key {
        "cell" => "ein Zellenfeld",
        "sparse" => "eine dünn besetzte Matrix",
        "function" => "ein Funktionsverweis",
        _ => "ein Objekt",
    }
}

//! Problems and notes of text files.

use super::{Filled, Sentence, s};

pub fn text(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    problem(code, a).or_else(|| note(code, a))
}

/// A place of a text file: `line 12` → `Zeile 12`.
fn place(path: &str) -> String {
    match path.split_once(' ') {
        Some(("line", n)) => format!("Zeile {n}"),
        Some(("row", n)) => format!("Tabellenzeile {n}"),
        Some(("byte", n)) => format!("Byte {n}"),
        _ => path.to_owned(),
    }
}

fn problem(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    let (at, found, expected) = (place(&a.path()), a.get("found"), a.get("expected"));
    Some(match code {
        "text-broken" => s(
            format!("Der Text lässt sich bei {at} nicht lesen: {found}."),
            "Vielleicht hat die Datei sich geändert oder ist abgeschnitten; noch einmal kopieren oder speichern.",
        ),
        "text-utf16" => s(
            "Die Datei ist Text in UTF-16; erwartet wird UTF-8 oder ein Acht-Bit-Code.",
            "Als Text in UTF-8 speichern.",
        ),
        "text-no-rows" => s(
            format!("Bis {at} wurde keine Zeile mit Zahlen gefunden; dort steht „{found}“."),
            "Prüfen, ob der Export eine Tabelle von Zahlen mit durchweg einem Trennzeichen enthält.",
        ),
        "text-header-width" => s(
            format!(
                "Die Überschrift bei {at} nennt {found} Spalten, aber die Zeile {} hat {expected} Zellen.",
                a.get("row")
            ),
            "Jede Spalte einmal benennen, mit demselben Trennzeichen wie in den Zeilen.",
        ),
        "text-header-too-large" => s(
            format!(
                "Vor der ersten Tabellenzeile ({at}) stehen mehr als {} Bytes.",
                a.get("limit")
            ),
            "Kürzen, was vor der Tabelle steht, oder den Scan als HDF5 speichern.",
        ),
        "text-line-too-long" => s(
            format!("{at} ist länger als {} Bytes.", a.get("limit")),
            "Prüfen, ob Zeilen mit einem Zeilenumbruch enden; Scans mit so langen Zeilen als HDF5 speichern.",
        ),
        "text-row-width" => s(
            format!("{at}: {expected} Zellen werden erwartet, gefunden wurden {found}."),
            "Diese Zeile auf ein fehlendes oder doppeltes Trennzeichen prüfen.",
        ),
        "text-not-a-number" => s(
            format!(
                "{at}, Spalte {}: erwartet wird eine Zahl, gefunden wurde „{found}“.",
                a.get("column")
            ),
            "Durchweg ein Dezimalzeichen verwenden und keine Einheiten in die Zellen schreiben.",
        ),
        "text-nul" => s(
            format!(
                "{at}, Spalte {}: ein NUL-Byte steht, wo eine Zahl erwartet wird.",
                a.get("column")
            ),
            "Die Datei ist beschädigt oder nicht durchweg Text; noch einmal kopieren oder exportieren.",
        ),
        "text-more-problems" => s(
            a.fill("{count} weitere Zellen oder Zeilen dieser Datei lassen sich nicht lesen."),
            "Die genannten beheben und noch einmal sehen.",
        ),
        "text-column-order" => s(
            format!("Spalte {} ist {at}, erwartet wird {expected}.", a.get("column")),
            "Die Spalten eines Felds lückenlos von 0 an nummerieren.",
        ),
        "text-column-twice" => s(
            format!("Der Spaltenname {at} steht bei Spalte {} zum zweiten Mal.", a.get("column")),
            "Jeder Spalte ihren eigenen Namen geben; Einheiten unterscheiden Namen nicht.",
        ),
        "text-too-many-rows" => s(
            a.fill("Die Tabelle hat mehr als {limit} Zeilen."),
            "Die Datei teilen oder den Scan als HDF5 speichern.",
        ),
        _ => return None,
    })
}

fn note(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "text-folded" => s(
            a.fill("Die lange Tabelle wurde gelesen als {points} Punkte zu {samples} Abtastwerten, längs {}."),
            "Prüfen, ob das die Punkte und Abtastwerte des Scans sind.",
        ),
        "text-index-columns" => s(
            a.fill("Die Tabelle hat keine Überschriften; ihre ersten zwei Spalten nennen jeden Platz eines Gitters von {columns} × {rows} genau einmal und gelten als x und y, die übrigen {samples} Spalten als Abtastwerte."),
            "Prüfen, ob das stimmt.",
        ),
        "text-empty-cells" => s(
            format!(
                "{} Zellen sind leer und gelten nicht als Zahl; die erste steht bei {}.",
                a.get("count"),
                place(&a.path())
            ),
            "Den Export prüfen, falls diese Zellen Werte enthalten sollten.",
        ),
        "text-after-table" => s(
            format!(
                "Eine Leerzeile beendet die Tabelle; der Text ab {} wird nicht gelesen.",
                place(&a.path())
            ),
            "Gehört er zur Tabelle, die Leerzeile entfernen; andere Tabellen als eigene Dateien speichern.",
        ),
        _ => return None,
    })
}

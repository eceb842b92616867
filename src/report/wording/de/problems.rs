//! Problems: where, expected, found, what to do.

use super::formats::formats;
use super::layouts;
use super::record_problems::records;
use super::{Filled, Sentence};

pub fn problem(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    files(code, a)
        .or_else(|| formats(code, a))
        .or_else(|| scans(code, a))
        .or_else(|| layouts::problems(code, a))
        .or_else(|| super::table_problems::tables(code, a))
        .or_else(|| records(code, a))
        .or_else(|| super::typed_problems::problems(code, a))
}

fn files(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "file-empty" => s("Die Datei ist leer.", "Noch einmal speichern."),
        "file-unknown-format" => s(
            format!(
                "Die Datei ist weder HDF5 noch netCDF, MAT, NPY, NPZ oder Text (sie beginnt mit {}).",
                a.get("found")
            ),
            "Den Scan in einem dieser Formate speichern; die Dokumentation sagt, wie.",
        ),
        "file-netcdf-classic" => s(
            "Die Datei ist netCDF der klassischen Art, die nicht gelesen wird.",
            "Als netCDF-4 speichern.",
        ),
        "file-missing" => s(
            format!(
                "Das Protokoll nennt diese Datei, aber sie ist nicht unter den vorhandenen ({}).",
                list_or_none(&a.get("found"))
            ),
            "Die Datei hinzufügen oder den Namen im Protokoll berichtigen.",
        ),
        "file-unreadable" => s(
            format!("Die Datei ließ sich nicht lesen: {}.", a.get("found")),
            "Prüfen, ob sie da ist und gelesen werden darf.",
        ),
        "file-too-deep" => s(
            format!(
                "Gruppen sind mehr als {} Ebenen tief verschachtelt, bei {}.",
                a.get("limit"),
                a.path()
            ),
            "Die Datei ist beschädigt oder kein Scan.",
        ),
        "file-too-many-arrays" => s(
            format!("Die Datei enthält mehr als {} Felder.", a.get("limit")),
            "Den Scan allein speichern.",
        ),
        "array-missing" => s(format!("Ein Feld {} gibt es nicht.", a.path()), "Den Namen prüfen."),
        "array-too-large" => s(
            format!(
                "Das Feld {} hat {} Werte; erwartet werden dort höchstens {}.",
                a.path(),
                a.get("found"),
                a.get("limit")
            ),
            "Prüfen, ob das richtige Feld diesen Namen hat.",
        ),
        "array-not-numbers" => s(
            format!("Das Feld {} enthält {}, keine Zahlen.", a.path(), a.get("found")),
            "Als Ganzzahlen oder Gleitkommazahlen speichern.",
        ),
        "file-short" => s(
            format!("Die Datei endet vor {}: {}.", a.path(), a.get("found")),
            "Die Datei wurde abgeschnitten; noch einmal kopieren oder speichern.",
        ),
        "box-outside-array" => s(
            format!("Die Datei endet vor {}.", a.path()),
            "Vielleicht hat sie sich beim Lesen geändert; noch einmal laden.",
        ),
        "number-not-finite" => s(
            format!("Ein Ergebnis bei {} ist keine endliche Zahl.", a.path()),
            "Bitte mit den Dateien melden.",
        ),
        "sheet-not-writable" => s(
            format!("Das Blatt ließ sich nicht schreiben: {}.", a.get("detail")),
            "Prüfen, ob Platz und Berechtigung vorhanden sind.",
        ),
        "figure-length"
        | "figure-not-monotonic"
        | "figure-too-small"
        | "figure-raster"
        | "figure-backend" => s(
            format!("Die Abbildung {} ließ sich nicht zeichnen.", a.path()),
            "Bitte mit den Dateien melden.",
        ),
        _ => return None,
    })
}

fn scans(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "scan-no-waveforms" => s(
            format!(
                "Ein Feld mit Zeitverläufen wurde nicht gefunden; die Datei enthält {}.",
                list_or_none(&a.get("found"))
            ),
            "Es waveforms nennen, seine Anordnung angeben oder die Gruppe im Protokoll prüfen.",
        ),
        "scan-several-waveforms" => s(
            format!("Mehrere Gruppen enthalten Zeitverläufe: {}.", a.get("found")),
            "Im Protokoll sagen, welche Gruppe dieser Scan ist.",
        ),
        "scan-empty" => s(format!("{} enthält keine Abtastwerte.", a.path()), "Den Export prüfen."),
        "scan-not-numbers" => s(
            format!("{} enthält keine Zahlen.", a.path()),
            "Die Zeitverläufe als Ganzzahlen oder Gleitkommazahlen speichern.",
        ),
        "scan-axis-missing" => {
            s(format!("Die Koordinaten {} fehlen.", a.path()), "Sie ergänzen, in Metern.")
        }
        "scan-axis-length" => s(
            format!(
                "{} soll {} Werte enthalten, gefunden wurden {}.",
                a.path(),
                a.get("expected"),
                a.get("found")
            ),
            "Die Reihenfolge der Achsen prüfen: (y, x, Zeit).",
        ),
        "scan-axis-not-monotonic" => s(
            format!("Die Koordinaten {} steigen oder fallen nicht durchgehend.", a.path()),
            "Auf wiederholte oder vertauschte Positionen prüfen.",
        ),
        "scan-not-a-grid" => s(
            format!(
                "Die {} Positionen füllen kein Gitter von {} Spalten und {} Zeilen.",
                a.get("points"),
                a.get("columns"),
                a.get("rows")
            ),
            "Auf fehlende oder doppelte Positionen prüfen.",
        ),
        "scan-line-axis" => s(
            format!(
                "Keine Koordinate dieser Linie ändert sich über ihre {} Punkte (gesucht: {}).",
                a.get("points"),
                a.path()
            ),
            "Der Koordinate längs der Linie einen Wert je Punkt geben, oder eine andere Rolle.",
        ),
        "scan-line-two-axes" => s(
            "Längs dieser Linie ändern sich x und y.",
            "Gelesen werden Linien längs x oder längs y.",
        ),
        "scan-role-shape" => s(
            format!(
                "Die Rolle verlangt {}, {} enthält {}.",
                shape(&a.get("expected")),
                a.path(),
                a.get("found")
            ),
            "Dem Scan eine andere Rolle geben oder die Datei prüfen.",
        ),
        "scan-unit-conflict" => s(
            format!(
                "{} nennt als Einheit „{}“, sein Name aber verlangt {}.",
                a.path(),
                a.get("found"),
                a.get("expected")
            ),
            "Die Werte umrechnen oder die Einheit berichtigen.",
        ),
        "scan-not-a-number" => s(
            format!("{} soll eine Zahl sein, gefunden wurde „{}“.", a.path(), a.get("found")),
            "Berichtigen.",
        ),
        "scan-not-finite" => s(format!("{} ist keine endliche Zahl.", a.path()), "Berichtigen."),
        "scan-interval-missing" => s(
            format!("Das Abtastintervall {} fehlt.", a.path()),
            "dt_s ergänzen, oder eine Zeitachse t_s.",
        ),
        "scan-interval-not-positive" => s(
            format!(
                "Das Abtastintervall {} ist {}; es muss über null liegen.",
                a.path(),
                a.get("found")
            ),
            "Berichtigen.",
        ),
        "scan-interval-varies" => s(
            format!("{} ist von Punkt zu Punkt verschieden.", a.path()),
            "Gelesen wird ein Abtastintervall je Scan.",
        ),
        "scan-time-not-uniform" => s(
            format!("Die Zeitachse ist bei {} nicht gleichmäßig geteilt.", a.path()),
            "Zeitverläufe müssen in gleichen Abständen abgetastet sein.",
        ),
        "scan-zero-scale" => {
            s(format!("{} ist null.", a.path()), "Die Volt eines Zählwerts angeben.")
        }
        "scan-counts-without-scale" => s(
            format!(
                "{} enthält Zählwerte, aber nichts sagt, wie viele Volt ein Zählwert ist.",
                a.path()
            ),
            "volts_per_count ergänzen.",
        ),
        "scan-short-read" => s(
            "Die Datei gab weniger Abtastwerte her, als sie angibt.",
            "Vielleicht ist sie abgeschnitten; noch einmal kopieren.",
        ),
        "band-missing" => {
            s("Ein Teil des Scans fehlt der Rechnung.", "Die Dateien noch einmal laden.")
        }
        _ => return None,
    })
}

/// What a role asks of the array, in words.
fn shape(expected: &str) -> String {
    match expected {
        "one waveform" => "einen Zeitverlauf".to_owned(),
        "one row of waveforms" => "eine Reihe von Zeitverläufen".to_owned(),
        "ny × nx waveforms, or a position for each" => {
            "ny × nx Zeitverläufe oder für jeden eine Position".to_owned()
        }
        other => other.to_owned(),
    }
}

pub fn list_or_none(list: &str) -> String {
    if list.is_empty() { "nichts".to_owned() } else { list.to_owned() }
}

pub fn s(text: impl Into<String>, hint: impl Into<String>) -> Sentence {
    Sentence::new(text, hint)
}

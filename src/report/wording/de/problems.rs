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
            a.fill("Die Datei ist weder HDF5 noch netCDF, MAT, NPY, NPZ oder Text (sie beginnt mit {found})."),
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
            a.fill("Die Datei ließ sich nicht lesen: {found}."),
            "Prüfen, ob sie da ist und gelesen werden darf.",
        ),
        "file-too-deep" => s(
            a.fill("Gruppen sind mehr als {limit} Ebenen tief verschachtelt, bei {}."),
            "Die Datei ist beschädigt oder kein Scan.",
        ),
        "file-too-many-arrays" => s(
            a.fill("Die Datei enthält mehr als {limit} Felder."),
            "Den Scan allein speichern.",
        ),
        "array-missing" => s(a.fill("Ein Feld {} gibt es nicht."), "Den Namen prüfen."),
        "array-too-large" => s(
            a.fill("Das Feld {} hat {found} Werte; erwartet werden dort höchstens {limit}."),
            "Prüfen, ob das richtige Feld diesen Namen hat.",
        ),
        "array-not-numbers" => s(
            a.fill("Das Feld {} enthält {found}, keine Zahlen."),
            "Als Ganzzahlen oder Gleitkommazahlen speichern.",
        ),
        "file-short" => s(
            a.fill("Die Datei endet vor {}: {found}."),
            "Die Datei wurde abgeschnitten; noch einmal kopieren oder speichern.",
        ),
        "box-outside-array" => s(
            a.fill("Die Datei endet vor {}."),
            "Vielleicht hat sie sich beim Lesen geändert; noch einmal laden.",
        ),
        "number-not-finite" => s(
            a.fill("Ein Ergebnis bei {} ist keine endliche Zahl."),
            "Bitte mit den Dateien melden.",
        ),
        "sheet-not-writable" => s(
            a.fill("Das Blatt ließ sich nicht schreiben: {detail}."),
            "Prüfen, ob Platz und Berechtigung vorhanden sind.",
        ),
        "figure-length"
        | "figure-not-monotonic"
        | "figure-too-small"
        | "figure-raster"
        | "figure-backend" => s(
            a.fill("Die Abbildung {} ließ sich nicht zeichnen."),
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
            a.fill("Mehrere Gruppen enthalten Zeitverläufe: {found}."),
            "Im Protokoll sagen, welche Gruppe dieser Scan ist.",
        ),
        "scan-empty" => s(a.fill("{} enthält keine Abtastwerte."), "Den Export prüfen."),
        "scan-not-numbers" => s(
            a.fill("{} enthält keine Zahlen."),
            "Die Zeitverläufe als Ganzzahlen oder Gleitkommazahlen speichern.",
        ),
        "scan-axis-missing" => {
            s(a.fill("Die Koordinaten {} fehlen."), "Sie ergänzen, in Metern.")
        }
        "scan-axis-length" => s(
            a.fill("{} soll {expected} Werte enthalten, gefunden wurden {found}."),
            "Die Reihenfolge der Achsen prüfen: (y, x, Zeit).",
        ),
        "scan-axis-not-monotonic" => s(
            a.fill("Die Koordinaten {} steigen oder fallen nicht durchgehend."),
            "Auf wiederholte oder vertauschte Positionen prüfen.",
        ),
        "scan-not-a-grid" => s(
            a.fill("Die {points} Positionen füllen kein Gitter von {columns} Spalten und {rows} Zeilen."),
            "Auf fehlende oder doppelte Positionen prüfen.",
        ),
        "scan-line-axis" => s(
            a.fill("Keine Koordinate dieser Linie ändert sich über ihre {points} Punkte (gesucht: {})."),
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
            a.fill("{} nennt als Einheit „{found}“, sein Name aber verlangt {expected}."),
            "Die Werte umrechnen oder die Einheit berichtigen.",
        ),
        "scan-not-a-number" => s(
            a.fill("{} soll eine Zahl sein, gefunden wurde „{found}“."),
            "Berichtigen.",
        ),
        "scan-not-finite" => s(a.fill("{} ist keine endliche Zahl."), "Berichtigen."),
        "scan-interval-missing" => s(
            a.fill("Das Abtastintervall {} fehlt."),
            "dt_s ergänzen, oder eine Zeitachse t_s.",
        ),
        "scan-interval-not-positive" => s(
            a.fill("Das Abtastintervall {} ist {found}; es muss über null liegen."),
            "Berichtigen.",
        ),
        "scan-interval-varies" => s(
            a.fill("{} ist von Punkt zu Punkt verschieden."),
            "Gelesen wird ein Abtastintervall je Scan.",
        ),
        "scan-time-not-uniform" => s(
            a.fill("Die Zeitachse ist bei {} nicht gleichmäßig geteilt."),
            "Zeitverläufe müssen in gleichen Abständen abgetastet sein.",
        ),
        "scan-zero-scale" => {
            s(a.fill("{} ist null."), "Die Volt eines Zählwerts angeben.")
        }
        "scan-counts-without-scale" => s(
            a.fill("{} enthält Zählwerte, aber nichts sagt, wie viele Volt ein Zählwert ist."),
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

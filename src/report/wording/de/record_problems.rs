//! Problems of the record: where, expected, found, what to do.

use super::{Filled, Sentence};

/// Problems of the record.
pub fn records(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    shape(code, a)
        .or_else(|| statements(code, a))
        .or_else(|| super::stated_problems::problems(code, a))
}

fn shape(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "record-no-scans" => s(
            "Das Protokoll nennt keinen Scan.",
            "Mindestens einen Scan mit Datei und Rolle eintragen.",
        ),
        "record-no-evaluated-scans" => s(
            "Kein Scan des Protokolls hat eine Rolle, die ausgewertet wird.",
            "Die Rollen plane, line, axial oder point verwenden.",
        ),
        "record-too-large" => s(
            format!(
                "Das Protokoll hat {} Bytes; höchstens {} werden gelesen.",
                a.get("found_bytes"),
                a.get("maximum_bytes")
            ),
            "Ein Protokoll enthält Angaben, keine Zeitverläufe: den Scan als eigene Datei ablegen.",
        ),
        "record-empty" => s(
            "Das Protokoll ist leer.",
            "Mit dem Gerüst beginnen, das „focalsheet record“ schreibt.",
        ),
        "record-not-json" => s(
            format!(
                "Das Protokoll ist in Zeile {}, Spalte {} kein gültiges JSON.",
                a.get("line"),
                a.get("column")
            ),
            "Dort nach einem fehlenden Komma, Anführungszeichen oder einer Klammer sehen.",
        ),
        "record-too-deep" => s(
            format!("Das Protokoll ist mehr als {} Ebenen tief verschachtelt.", a.get("maximum")),
            "Die Verschachtelung entfernen.",
        ),
        "record-key-twice" => {
            s(format!("{}: der Schlüssel steht zweimal da.", a.path()), "Einen davon behalten.")
        }
        "record-wrong-schema" => s(
            format!("Das Schema ist „{}“; erwartet wird „{}“.", a.get("found"), a.get("expected")),
            "Ein Protokoll dieser Fassung verwenden.",
        ),
        "record-unknown-key" => {
            let nearest = if a.has("nearest") {
                format!("Ist „{}“ gemeint?", a.get("nearest"))
            } else if a.has("elsewhere") {
                format!("Dieser Schlüssel gehört zu {}.", a.get("elsewhere"))
            } else {
                format!("Hier bekannt: {}.", a.get("allowed"))
            };
            Sentence::new(format!("{}: unbekannter Schlüssel.", a.path()), nearest)
        }
        "record-wrong-type" => {
            let value = if a.has("value") { format!(" {}", a.get("value")) } else { String::new() };
            s(
                format!(
                    "{}: erwartet {}, gefunden {}{value}.",
                    a.path(),
                    kinds(&a.get("expected")),
                    kinds(&a.get("found"))
                ),
                "Den Wert berichtigen.",
            )
        }
        "record-not-one-of" => {
            let hint = if a.has("nearest") {
                format!("Ist „{}“ gemeint?", a.get("nearest"))
            } else {
                String::new()
            };
            Sentence::new(
                format!("{}: „{}“ ist keines von {}.", a.path(), a.get("found"), a.get("allowed")),
                hint,
            )
        }
        "record-missing-key" => {
            s(format!("{}: der Schlüssel „{}“ fehlt.", a.path(), a.get("key")), "Ergänzen.")
        }
        "record-uncertainty-kind-missing" => s(
            format!("{}: die Unsicherheit sagt nicht, welcher Art sie ist.", a.path()),
            "„kind“ ergänzen: expanded, standard oder half-width.",
        ),
        "record-out-of-range" => range(a),
        "record-wrong-length" => {
            let wanted = match (a.has("minimum"), a.has("maximum")) {
                (true, true) => format!("{} bis {}", a.get("minimum"), a.get("maximum")),
                (true, false) => format!("mindestens {}", a.get("minimum")),
                _ => format!("höchstens {}", a.get("maximum")),
            };
            s(
                format!("{}: {wanted} Einträge erwartet, gefunden {}.", a.path(), a.get("found")),
                "Die Liste berichtigen.",
            )
        }
        "record-empty-text" => s(
            format!("{}: der Text ist leer.", a.path()),
            "Ausfüllen oder den Schlüssel entfernen.",
        ),
        "record-more-problems" => s(
            format!("Es gibt mehr als {} Probleme; nur diese werden gezeigt.", a.get("shown")),
            "Diese zuerst beheben.",
        ),
        "record-not-understood" => s(
            format!("Das Protokoll wurde nicht verstanden: {}.", a.get("detail")),
            "Bitte mit dem Protokoll melden.",
        ),
        _ => return None,
    })
}

fn range(a: &Filled<'_>) -> Sentence {
    let exclusive = a.get("exclusive");
    let low = if exclusive == "minimum" || exclusive == "both" { "über" } else { "mindestens" };
    let high = if exclusive == "maximum" || exclusive == "both" { "unter" } else { "höchstens" };
    let mut wanted = Vec::new();
    if a.has("minimum") {
        wanted.push(format!("{low} {}", a.get("minimum")));
    }
    if a.has("maximum") {
        wanted.push(format!("{high} {}", a.get("maximum")));
    }
    s(
        format!("{}: erwartet {}, gefunden {}.", a.path(), wanted.join(" und "), a.get("found")),
        "Werte stehen in SI-Einheiten: die Zehnerpotenz prüfen.",
    )
}

/// Kinds of JSON values in words.
fn kinds(list: &str) -> String {
    let word = |kind: &str| match kind {
        "string" => "Text".to_owned(),
        "number" => "Zahl".to_owned(),
        "integer" => "ganze Zahl".to_owned(),
        "boolean" => "wahr oder falsch (true, false)".to_owned(),
        "array" => "Liste".to_owned(),
        "object" => "Objekt".to_owned(),
        "null" => "nichts (null)".to_owned(),
        other => other.to_owned(),
    };
    list.split(", ").map(word).collect::<Vec<_>>().join(", ")
}

fn statements(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "record-id-twice" => s(
            format!(
                "{}: die Kennung „{}“ wird schon bei {} verwendet.",
                a.path(),
                a.get("id"),
                a.get("first")
            ),
            "Jedem seine eigene geben.",
        ),
        "record-unknown-range" | "record-unknown-scan" => {
            let hint = if a.has("nearest") {
                format!("Ist „{}“ gemeint?", a.get("nearest"))
            } else {
                format!("Bekannt: {}.", a.get("allowed"))
            };
            let what =
                if code == "record-unknown-range" { "einen Messbereich" } else { "einen Scan" };
            Sentence::new(format!("{}: {what} „{}“ gibt es nicht.", a.path(), a.get("found")), hint)
        }
        "record-reference-not-calibrated" => s(
            format!("{}: die Referenz einer Prüfquelle muss selbst kalibriert sein.", a.path()),
            "Ihre Empfindlichkeit als Faktor oder Tabelle angeben.",
        ),
        "record-one-factor" => s(
            format!(
                "{}: eine frequenzunabhängige Empfindlichkeit hat einen Faktor, angegeben sind {}.",
                a.path(),
                a.get("found")
            ),
            "Eines von v_per_pa, mv_per_mpa und db_re_1v_per_upa angeben.",
        ),
        "record-no-device-scans" => Sentence::new(
            format!("{}: kein Scan der Prüfquelle mit diesem Sensor ist genannt.", a.path()),
            format!(
                "Für jeden Messbereich einen nennen (Messbereiche dieses Protokolls: {}), als \"Messbereich\": \"Kennung des Scans\".",
                a.get("allowed")
            ),
        ),
        "record-not-relative" => s(
            format!("{}: diese Unsicherheit muss relativ sein.", a.path()),
            "Als Bruchteil ihres Werts angeben, mit \"relative\": true.",
        ),
        "record-not-absolute" => s(
            format!("{}: eine Position hat keine relative Unsicherheit.", a.path()),
            "In Metern angeben, ohne \"relative\".",
        ),
        "record-axis-twice" => s(
            format!("{}: die Achse {} steht zweimal da.", a.path(), a.get("axis")),
            "Jede Achse einmal nennen.",
        ),
        "record-no-time-axis" => {
            s(format!("{}: keine Achse ist die Zeit.", a.path()), "Die Zeitachse t nennen.")
        }
        "record-zero-step" => s(format!("{}: der Schritt ist null.", a.path()), "Berichtigen."),
        "record-not-below" => s(
            format!(
                "{}: {} ist zu groß neben {} ({}).",
                a.path(),
                a.get("found"),
                a.get("limit"),
                a.get("other")
            ),
            "Eines von beiden berichtigen.",
        ),
        "record-burst-exceeds-period" => s(
            format!(
                "{}: ein Burst von {} passt nicht in eine Wiederholperiode von {}.",
                a.path(),
                a.get("burst"),
                a.get("period")
            ),
            "Schwingungszahl, Frequenz und Wiederholrate prüfen.",
        ),
        "record-not-rising" => s(
            format!("{}: {} steigt nicht über {}.", a.path(), a.get("found"), a.get("before")),
            "Die Zeilen nach Frequenz ordnen.",
        ),
        "record-not-a-day" => s(
            format!("{}: „{}“ ist kein Datum.", a.path(), a.get("found")),
            "Als 2026-05-04 schreiben.",
        ),
        "record-not-an-instant" => s(
            format!("{}: „{}“ ist kein Datum mit Uhrzeit.", a.path(), a.get("found")),
            "Als 2026-05-04T14:30 schreiben.",
        ),
        "record-ends-before-start" => s(
            format!("{}: {} liegt vor {}.", a.path(), a.get("end"), a.get("start")),
            "Vertauschen oder berichtigen.",
        ),
        "record-not-a-fraction" => s(
            format!(
                "{}: {} ist kein glaubhafter Bruchteil; als Prozentsatz wäre es {}.",
                a.path(),
                a.get("found"),
                a.get("as_percent")
            ),
            "Relative Werte sind Bruchteile: 12 % sind 0.12.",
        ),
        "record-tolerance-reversed" => s(
            format!(
                "{}: die untere Grenze {} liegt über der oberen {}.",
                a.path(),
                a.get("lower"),
                a.get("upper")
            ),
            "Vertauschen.",
        ),
        "record-coverage-factor-unused" => s(
            format!(
                "{}: ein Erweiterungsfaktor von {} ist für eine Unsicherheit angegeben, die keine erweiterte ist.",
                a.path(),
                a.get("k")
            ),
            "kind „expanded“ angeben oder k entfernen.",
        ),
        "record-uncertainty-exceeds-value" => s(
            format!(
                "{}: die Unsicherheit {} ist größer als der Wert {}.",
                a.path(),
                a.get("found"),
                a.get("value")
            ),
            "Ist sie ein Bruchteil, „relative“: true angeben.",
        ),
        _ => return None,
    })
}

fn s(text: impl Into<String>, hint: &str) -> Sentence {
    Sentence::new(text, hint)
}

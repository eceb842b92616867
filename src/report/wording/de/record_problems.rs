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
            a.fill(
                "Das Protokoll hat {found_bytes} Bytes; höchstens {maximum_bytes} werden gelesen.",
            ),
            "Ein Protokoll enthält Angaben, keine Zeitverläufe: den Scan als eigene Datei ablegen.",
        ),
        "record-empty" => s(
            "Das Protokoll ist leer.",
            "Mit dem Gerüst beginnen, das „focalsheet record“ schreibt.",
        ),
        "record-not-json" => s(
            a.fill("Das Protokoll ist in Zeile {line}, Spalte {column} kein gültiges JSON."),
            "Dort nach einem fehlenden Komma, Anführungszeichen oder einer Klammer sehen.",
        ),
        "record-too-deep" => s(
            a.fill("Das Protokoll ist mehr als {maximum} Ebenen tief verschachtelt."),
            "Die Verschachtelung entfernen.",
        ),
        "record-key-twice" => {
            s(a.fill("{}: der Schlüssel steht zweimal da."), "Einen davon behalten.")
        }
        "record-wrong-schema" => s(
            a.fill("Das Schema ist „{found}“; erwartet wird „{expected}“."),
            "Ein Protokoll dieser Fassung verwenden.",
        ),
        "record-unknown-key" => {
            let nearest = if a.has("nearest") {
                a.fill("Ist „{nearest}“ gemeint?")
            } else if a.has("elsewhere") {
                a.fill("Dieser Schlüssel gehört zu {elsewhere}.")
            } else {
                a.fill("Hier bekannt: {allowed}.")
            };
            Sentence::new(a.fill("{}: unbekannter Schlüssel."), nearest)
        }
        "record-wrong-type" => {
            let value = if a.has("value") { a.fill(" {value}") } else { String::new() };
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
                a.fill("Ist „{nearest}“ gemeint?")
            } else {
                String::new()
            };
            Sentence::new(a.fill("{}: „{found}“ ist keines von {allowed}."), hint)
        }
        "record-missing-key" => s(a.fill("{}: der Schlüssel „{key}“ fehlt."), "Ergänzen."),
        "record-uncertainty-kind-missing" => s(
            a.fill("{}: die Unsicherheit sagt nicht, welcher Art sie ist."),
            "„kind“ ergänzen: expanded, standard oder half-width.",
        ),
        "record-out-of-range" => range(a),
        "record-wrong-length" => {
            let wanted = match (a.has("minimum"), a.has("maximum")) {
                (true, true) => a.fill("{minimum} bis {maximum}"),
                (true, false) => a.fill("mindestens {minimum}"),
                _ => a.fill("höchstens {maximum}"),
            };
            s(
                format!("{}: {wanted} Einträge erwartet, gefunden {}.", a.path(), a.get("found")),
                "Die Liste berichtigen.",
            )
        }
        "record-empty-text" => {
            s(a.fill("{}: der Text ist leer."), "Ausfüllen oder den Schlüssel entfernen.")
        }
        "record-more-problems" => s(
            a.fill("Es gibt mehr als {shown} Probleme; nur diese werden gezeigt."),
            "Diese zuerst beheben.",
        ),
        "record-not-understood" => s(
            a.fill("Das Protokoll wurde nicht verstanden: {detail}."),
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
            a.fill("{}: die Kennung „{id}“ wird schon bei {first} verwendet."),
            "Jedem seine eigene geben.",
        ),
        "record-unknown-range" | "record-unknown-scan" => {
            let hint = if a.has("nearest") {
                a.fill("Ist „{nearest}“ gemeint?")
            } else {
                a.fill("Bekannt: {allowed}.")
            };
            let what =
                if code == "record-unknown-range" { "einen Messbereich" } else { "einen Scan" };
            Sentence::new(format!("{}: {what} „{}“ gibt es nicht.", a.path(), a.get("found")), hint)
        }
        "record-reference-not-calibrated" => s(
            a.fill("{}: die Referenz einer Prüfquelle muss selbst kalibriert sein."),
            "Ihre Empfindlichkeit als Faktor oder Tabelle angeben.",
        ),
        "record-one-factor" => s(
            a.fill("{}: eine frequenzunabhängige Empfindlichkeit hat einen Faktor, angegeben sind {found}."),
            "Eines von v_per_pa, mv_per_mpa und db_re_1v_per_upa angeben.",
        ),
        "record-no-device-scans" => Sentence::new(
            a.fill("{}: kein Scan der Prüfquelle mit diesem Sensor ist genannt."),
            a.fill("Für jeden Messbereich einen nennen (Messbereiche dieses Protokolls: {allowed}), als \"Messbereich\": \"Kennung des Scans\"."),
        ),
        "record-not-relative" => s(
            a.fill("{}: diese Unsicherheit muss relativ sein."),
            "Als Bruchteil ihres Werts angeben, mit \"relative\": true.",
        ),
        "record-not-absolute" => s(
            a.fill("{}: eine Position hat keine relative Unsicherheit."),
            "In Metern angeben, ohne \"relative\".",
        ),
        "record-axis-twice" => s(
            a.fill("{}: die Achse {axis} steht zweimal da."),
            "Jede Achse einmal nennen.",
        ),
        "record-no-time-axis" => {
            s(a.fill("{}: keine Achse ist die Zeit."), "Die Zeitachse t nennen.")
        }
        "record-zero-step" => s(a.fill("{}: der Schritt ist null."), "Berichtigen."),
        "record-not-below" => s(
            a.fill("{}: {found} ist zu groß neben {limit} ({other})."),
            "Eines von beiden berichtigen.",
        ),
        "record-burst-exceeds-period" => s(
            a.fill("{}: ein Burst von {burst} passt nicht in eine Wiederholperiode von {period}."),
            "Schwingungszahl, Frequenz und Wiederholrate prüfen.",
        ),
        "record-not-rising" => s(
            a.fill("{}: {found} steigt nicht über {before}."),
            "Die Zeilen nach Frequenz ordnen.",
        ),
        "record-not-a-day" => s(
            a.fill("{}: „{found}“ ist kein Datum."),
            "Als 2026-05-04 schreiben.",
        ),
        "record-not-an-instant" => s(
            a.fill("{}: „{found}“ ist kein Datum mit Uhrzeit."),
            "Als 2026-05-04T14:30 schreiben.",
        ),
        "record-ends-before-start" => s(
            a.fill("{}: {end} liegt vor {start}."),
            "Vertauschen oder berichtigen.",
        ),
        "record-not-a-fraction" => s(
            a.fill("{}: {found} ist kein glaubhafter Bruchteil; als Prozentsatz wäre es {as_percent}."),
            "Relative Werte sind Bruchteile: 12 % sind 0.12.",
        ),
        "record-tolerance-reversed" => s(
            a.fill("{}: die untere Grenze {lower} liegt über der oberen {upper}."),
            "Vertauschen.",
        ),
        "record-coverage-factor-unused" => s(
            a.fill("{}: ein Erweiterungsfaktor von {k} ist für eine Unsicherheit angegeben, die keine erweiterte ist."),
            "kind „expanded“ angeben oder k entfernen.",
        ),
        "record-uncertainty-exceeds-value" => s(
            a.fill("{}: die Unsicherheit {found} ist größer als der Wert {value}."),
            "Ist sie ein Bruchteil, „relative“: true angeben.",
        ),
        _ => return None,
    })
}

fn s(text: impl Into<String>, hint: &str) -> Sentence {
    Sentence::new(text, hint)
}

//! Problems of stated values, in the record and in a table.

use super::{Filled, Sentence};

/// Problems of stated values.
pub fn problems(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    record(code, a).or_else(|| table(code, a)).or_else(|| cells(code, a))
}

fn record(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "record-unknown-quantity" => {
            Sentence::new(a.fill("{}: eine Größe „{found}“ gibt es nicht."), nearest(a))
        }
        "record-not-judged" => s(
            a.fill("{}: {quantity} wird hier nicht beurteilt."),
            "Sicherheitswerte stehen auf Wunsch in einem eigenen Teil; die Angabe herausnehmen.",
        ),
        "record-wrong-unit" => s(
            a.fill("{}: die Einheit „{found}“ passt nicht zu {quantity}."),
            a.fill("Einheiten, die passen: {allowed}."),
        ),
        "record-negative-value" => s(
            a.fill("{}: {quantity} kann nicht negativ sein, gefunden {found}."),
            "Auch der Rarefaktionsspitzendruck wird als positive Zahl angegeben.",
        ),
        "record-tolerance-wrong-sign" => {
            let (side, sign) = match a.get("side").as_str() {
                "lower" => ("unter", "negativ"),
                _ => ("über", "positiv"),
            };
            s(
                format!(
                    "{}: die Grenze {side} dem angegebenen Wert ist {} und sollte {sign} sein.",
                    a.path(),
                    a.get("found")
                ),
                "Grenzen zählen vom angegebenen Wert aus: −15 % und +15 % sind -0.15 und 0.15.",
            )
        }
        "record-tolerance-no-width" => {
            s(a.fill("{}: beide Grenzen sind gleich."), "Die Toleranz angeben oder weglassen.")
        }
        "record-tolerance-of-zero" => s(
            a.fill("{}: ein Bruchteil eines angegebenen Werts von null ist keine Toleranz."),
            "Die Grenzen in der Einheit des Werts angeben.",
        ),
        _ => return None,
    })
}

fn table(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "stated-table-empty" => s(
            "Die Tabelle der angegebenen Werte hat keine Zeile.",
            "Ihr eine Überschrift mit quantity und value geben und je Wert eine Zeile.",
        ),
        "stated-table-not-text" => s(
            "Die Tabelle der angegebenen Werte ist kein einfacher Text.",
            "Als CSV in UTF-8 speichern.",
        ),
        "stated-table-too-long" => s(
            a.fill("Die Tabelle der angegebenen Werte ist länger als {limit}."),
            "Prüfen, ob es die richtige Datei ist.",
        ),
        "stated-table-no-column" => s(
            a.fill("{}: keine Spalte trägt die Überschrift „{expected}“."),
            "Spalten werden an ihren Überschriften in der ersten Zeile erkannt.",
        ),
        "stated-table-column-twice" => {
            s(a.fill("{}: die Spalte „{found}“ steht zweimal da."), "Eine davon behalten.")
        }
        "stated-table-unknown-column" => {
            let hint = if a.has("nearest") { nearest(a) } else { a.fill("Bekannt: {allowed}.") };
            s(a.fill("{}: die Spalte „{found}“ ist nicht bekannt."), hint)
        }
        "stated-table-too-many-cells" => s(
            a.fill("{}: {found} Zellen unter {expected} Überschriften."),
            "Texte, die das Trennzeichen enthalten, in Anführungszeichen setzen; bei Dezimalkommas Semikolon oder Tabulator verwenden.",
        ),
        _ => return None,
    })
}

fn cells(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    let place = a.fill("{}: {column} „{found}“");
    Some(match code {
        "stated-table-unknown-quantity" => {
            s(a.fill("{}: eine Größe „{found}“ gibt es nicht."), nearest(a))
        }
        "stated-table-ambiguous-quantity" => s(
            a.fill("{}: „{found}“ kann mehrere Größen meinen."),
            a.fill("Eine davon schreiben: {allowed}."),
        ),
        "stated-table-ambiguous-number" => s(
            format!("{place} kann ein Dezimalkomma oder ein Komma zwischen Tausendern haben."),
            "Mit Dezimalpunkt schreiben, oder ohne Trennzeichen.",
        ),
        "stated-table-not-a-number" => {
            s(format!("{place} ist keine Zahl."), "Die Zelle berichtigen.")
        }
        "stated-table-not-understood" => s(
            format!("{place} wurde nicht verstanden."),
            "Formen, die gelten: ±15 %, +20 % / -10 %, ±0.5 mit einer Einheit, max, min.",
        ),
        "stated-table-no-unit" => s(
            format!("{place} hat weder % noch eine Einheit."),
            a.fill("% oder eine von {allowed} ergänzen, in der Zelle oder in der Überschrift."),
        ),
        "stated-table-wrong-unit" => s(
            format!("{place} hat eine Einheit, die nicht passt."),
            a.fill("% oder eine von {allowed} ergänzen."),
        ),
        "stated-table-percent-of-percent" => s(
            format!("{place} ist ein Prozentsatz von einem Prozentsatz."),
            "Prozentpunkte als pp schreiben: ±3 pp.",
        ),
        "stated-table-no-kind" => s(
            a.fill("{}: die Unsicherheit „{found}“ sagt nicht, welcher Art sie ist."),
            "expanded (mit k), standard oder half-width schreiben, in der Zelle oder in einer Spalte „kind“.",
        ),
        "stated-table-not-one-of" => s(
            format!("{place} ist keines von {}.", a.get("allowed")),
            "Eines dieser Wörter verwenden.",
        ),
        _ => return None,
    })
}

fn nearest(a: &Filled<'_>) -> String {
    if a.has("nearest") {
        a.fill("Ist „{nearest}“ gemeint?")
    } else {
        "Die Kennungen stehen in der Dokumentation der Größen.".to_owned()
    }
}

fn s(text: impl Into<String>, hint: impl Into<String>) -> Sentence {
    Sentence::new(text, hint)
}

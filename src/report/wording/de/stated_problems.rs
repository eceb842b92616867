//! Problems of stated values, in the record and in a table.

use super::{Filled, Sentence};

/// Problems of stated values.
pub fn problems(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    record(code, a).or_else(|| table(code, a)).or_else(|| cells(code, a))
}

fn record(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "record-unknown-quantity" => Sentence::new(
            format!("{}: eine Größe „{}“ gibt es nicht.", a.path(), a.get("found")),
            nearest(a),
        ),
        "record-wrong-unit" => s(
            format!(
                "{}: die Einheit „{}“ passt nicht zu {}.",
                a.path(),
                a.get("found"),
                a.get("quantity")
            ),
            format!("Einheiten, die passen: {}.", a.get("allowed")),
        ),
        "record-negative-value" => s(
            format!(
                "{}: {} kann nicht negativ sein, gefunden {}.",
                a.path(),
                a.get("quantity"),
                a.get("found")
            ),
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
        "record-tolerance-no-width" => s(
            format!("{}: beide Grenzen sind gleich.", a.path()),
            "Die Toleranz angeben oder weglassen.",
        ),
        "record-tolerance-of-zero" => s(
            format!(
                "{}: ein Bruchteil eines angegebenen Werts von null ist keine Toleranz.",
                a.path()
            ),
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
            format!("Die Tabelle der angegebenen Werte ist länger als {}.", a.get("limit")),
            "Prüfen, ob es die richtige Datei ist.",
        ),
        "stated-table-no-column" => s(
            format!("{}: keine Spalte trägt die Überschrift „{}“.", a.path(), a.get("expected")),
            "Spalten werden an ihren Überschriften in der ersten Zeile erkannt.",
        ),
        "stated-table-column-twice" => s(
            format!("{}: die Spalte „{}“ steht zweimal da.", a.path(), a.get("found")),
            "Eine davon behalten.",
        ),
        "stated-table-unknown-column" => {
            let hint = if a.has("nearest") {
                nearest(a)
            } else {
                format!("Bekannt: {}.", a.get("allowed"))
            };
            s(format!("{}: die Spalte „{}“ ist nicht bekannt.", a.path(), a.get("found")), hint)
        }
        "stated-table-too-many-cells" => s(
            format!(
                "{}: {} Zellen unter {} Überschriften.",
                a.path(),
                a.get("found"),
                a.get("expected")
            ),
            "Texte, die das Trennzeichen enthalten, in Anführungszeichen setzen; bei Dezimalkommas Semikolon oder Tabulator verwenden.",
        ),
        _ => return None,
    })
}

fn cells(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    let place = format!("{}: {} „{}“", a.path(), a.get("column"), a.get("found"));
    Some(match code {
        "stated-table-unknown-quantity" => {
            s(format!("{}: eine Größe „{}“ gibt es nicht.", a.path(), a.get("found")), nearest(a))
        }
        "stated-table-ambiguous-quantity" => s(
            format!("{}: „{}“ kann mehrere Größen meinen.", a.path(), a.get("found")),
            format!("Eine davon schreiben: {}.", a.get("allowed")),
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
            format!(
                "% oder eine von {} ergänzen, in der Zelle oder in der Überschrift.",
                a.get("allowed")
            ),
        ),
        "stated-table-wrong-unit" => s(
            format!("{place} hat eine Einheit, die nicht passt."),
            format!("% oder eine von {} ergänzen.", a.get("allowed")),
        ),
        "stated-table-percent-of-percent" => s(
            format!("{place} ist ein Prozentsatz von einem Prozentsatz."),
            "Prozentpunkte als pp schreiben: ±3 pp.",
        ),
        "stated-table-no-kind" => s(
            format!(
                "{}: die Unsicherheit „{}“ sagt nicht, welcher Art sie ist.",
                a.path(),
                a.get("found")
            ),
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
        format!("Ist „{}“ gemeint?", a.get("nearest"))
    } else {
        "Die Kennungen stehen in der Dokumentation der Größen.".to_owned()
    }
}

fn s(text: impl Into<String>, hint: impl Into<String>) -> Sentence {
    Sentence::new(text, hint)
}

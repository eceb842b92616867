//! Problems of text typed into a blank of the sheet.

use super::{Filled, Sentence};

/// Problems of typed text.
pub fn problems(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    let s = Sentence::new;
    let found = a.get("found");
    Some(match code {
        "typed-no-blank" => s("Hier gibt es nichts auszufüllen.".to_owned(), String::new()),
        "typed-too-long" => s(
            "Dieser Text ist zu lang.".to_owned(),
            a.fill("Höchstens {limit} Zeichen."),
        ),
        "typed-not-a-number" => s(
            format!("„{found}“ ist keine Zahl."),
            match a.get("example").replace('.', ",").as_str() {
                "" => "Eine Zahl mit ihrer Einheit, mit Dezimalkomma oder Dezimalpunkt.".to_owned(),
                example => format!(
                    "Eine Zahl mit ihrer Einheit, mit Dezimalkomma oder Dezimalpunkt: {example}."
                ),
            },
        ),
        "typed-ambiguous" => s(
            format!("„{found}“ lässt sich auf zwei Arten lesen."),
            "Das Zeichen zwischen Tausendern weglassen oder eine andere Zahl von Nachkommastellen schreiben."
                .to_owned(),
        ),
        "typed-wrong-unit" => s(
            format!("Die Einheit in „{found}“ passt hier nicht."),
            a.fill("Einheiten, die passen: {allowed}."),
        ),
        "typed-no-unit" => s(
            format!("„{found}“: diese Zahl hat keine Einheit."),
            "Die Zahl allein eingeben.".to_owned(),
        ),
        "typed-not-whole" => s(
            format!("„{found}“ ist keine ganze Zahl."),
            "Eine ganze Zahl eingeben.".to_owned(),
        ),
        "typed-not-one-of" => s(
            format!("„{found}“ ist keines der Wörter, die hier bekannt sind."),
            a.fill("Bekannt: {allowed}."),
        ),
        "typed-not-a-day" => s(
            format!("„{found}“ ist kein Tag des Kalenders."),
            "Jahr, Monat, Tag: 2026-05-04.".to_owned(),
        ),
        "typed-no-kind" => s(
            format!("„{found}“ sagt nicht, welche Art von Unsicherheit es ist."),
            "Die Art dazuschreiben: 3 % (k=2), 3 % standard (Standardunsicherheit) oder 3 % half-width (Halbbreite).".to_owned(),
        ),
        "typed-no-uncertainty" => s(
            format!("„{found}“ ist keine Unsicherheit."),
            "Eine Zahl, ihre Einheit und die Art: 3 % (k=2), 3 % standard (Standardunsicherheit) oder 3 % half-width (Halbbreite).".to_owned(),
        ),
        "typed-not-flat" => s(
            "Die Empfindlichkeit kommt aus einer Tabelle oder von einer Prüfquelle; hier wird sie nicht eingetragen.".to_owned(),
            "Diese Datei oder das Protokoll ändern; eine Tabelle über der Frequenz bleibt eine.".to_owned(),
        ),
        "typed-not-a-tolerance" => s(
            format!("„{found}“ ist keine Toleranz, die verstanden wird."),
            "Zum Beispiel ±15 %, +20 % / -10 %, ±0,5 MPa.".to_owned(),
        ),
        "typed-percent-of-percent" => s(
            format!("„{found}“: Prozent von einem Prozentsatz ist unklar."),
            "Für Prozentpunkte pp schreiben.".to_owned(),
        ),
        _ => return None,
    })
}

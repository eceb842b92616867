//! Words of the uncertainty budgets.

/// Names of sources, distributions and origins, by key.
pub fn label(key: &str) -> Option<&'static str> {
    Some(match key {
        "section-budgets" => "Unsicherheitsbudgets",
        "budgets-reading" => {
            "Jede Zeile ist eine Quelle: ihre Standardunsicherheit, die Änderung des Wertes mit ihr (bei relativen Quellen für eine Änderung um ein Prozent) und was sie beiträgt. Beiträge werden quadratisch addiert (JCGM 100:2008); eine Quelle wirkt auf alle Größen eines Blattes gleich, so dass Verhältnisse verlieren, was ihnen gemeinsam ist."
        }
        "standard-uncertainty" => "Standard\u{ad}unsicherheit",
        "distribution" => "Verteilung",
        "sensitivity" => "Sensitivität",
        "contribution" => "Beitrag",
        "share-of-variance" => "Anteil an der Varianz",
        "from" => "Woher",
        "small-sources" => "je unter 0,01 %",
        "not-in-budget" => "Nicht enthalten:",
        "assumed" => "Angenommen, weil das Protokoll nichts angibt (übliche Praxis, ohne Quelle):",
        "distribution-normal" => "normal",
        "distribution-rectangular" => "Rechteck",
        "distribution-triangular" => "Dreieck",
        "distribution-u-shaped" => "Arkussinus",
        "distribution-t" => "Student",
        "source-calibration" => "Kalibrierung, Betrag",
        "source-calibration-phase" => "Kalibrierung, Phase",
        "source-low-pass" => "Tiefpass",
        "source-gain" => "Verstärkung der Kette",
        "source-drive" => "Stabilität der Ansteuerung",
        "source-repetition-rate" => "Wiederholrate",
        "source-water-temperature" => "Wassertemperatur",
        "source-axes-scale" => "Maßstab der Achsen",
        "source-position" => "Lage der Messpunkte",
        "source-noise" => "Rauschen",
        "source-noise-bias" => "Rauschkorrektur des Spitzenwerts",
        "source-spatial-averaging" => "Korrektur für die Größe des Sensors",
        "source-peak-fit" => "Ausgleich am räumlichen Maximum",
        "source-scan-window" => "Feld außerhalb des Messfensters",
        "source-shots-before" => "Prüfquelle vorher: Streuung",
        "source-shots-after" => "Prüfquelle nachher: Streuung",
        "source-check-placing" => "Wiederholung von Quelle und Positionierung",
        "source-reference-certificate" => "kalibrierter Sensor: Kalibrierschein",
        "source-reference-repeatability" => "kalibrierter Sensor: Streuung",
        "source-source-drift" => "Drift der Prüfquelle",
        "source-element-size" => "ungleiche Größe der Sensoren",
        "source-transfer-repeatability" => "Prüfquelle: Streuung",
        "source-transfer-noise" => "Prüfquelle: Rauschen",
        "source-flatness" => "ein Faktor für alle Frequenzen",
        "source-linearity" => "ein Faktor für alle Pegel",
        "source-temperature" => "Temperatur des Sensors",
        "from-record" => "Protokoll",
        "from-common-practice" => "angenommen",
        "from-revisits" => "Wiederkehrmessungen",
        "from-check-source" => "Prüfquelle",
        "from-signal-and-low-pass" => "Signal jenseits des Tiefpasses",
        "from-pre-arrival" => "Daten vor der Ankunft",
        "from-added-noise" => "nochmals addiertes Rauschen",
        "from-third-of-correction" => "ein Drittel der Korrektur",
        "from-residual" => "Residuen des Ausgleichs",
        "from-fall-to-the-edge" => "Abfall zum Rand hin",
        _ => return None,
    })
}

/// How the lines of a budget combine. Known: u, k, coverage, expanded, common, repeatability, and nu
/// where the degrees of freedom are finite.
pub fn sum(args: &[(&str, String)]) -> String {
    let said = said(args);
    let freedom = match args.iter().find(|(name, _)| *name == "nu") {
        Some((_, nu)) => format!("effektive Freiheitsgrade {nu}"),
        None => "unbegrenzte effektive Freiheitsgrade".to_owned(),
    };
    format!(
        "Kombinierte Standardunsicherheit {}; {freedom}; Erweiterungsfaktor k = {} für {}; U = {}. Standardunsicherheit, die allen Messungen mit diesen Mitteln gemeinsam ist: {}; die von einer zur nächsten wechselt: {}.",
        said("u"),
        said("k"),
        said("coverage"),
        said("expanded"),
        said("common"),
        said("repeatability"),
    )
}

/// What drawing every line gives. Known: draws, seed, mean, low, high, and agrees or departs.
pub fn drawn(args: &[(&str, String)]) -> String {
    let said = said(args);
    let verdict = if args.iter().any(|(name, _)| *name == "agrees") {
        "das mit dem obigen auf eine Stelle von u übereinstimmt (JCGM 101:2008, 8.1)"
    } else {
        "das vom obigen um mehr als eine halbe Einheit der ersten Stelle von u abweicht (JCGM 101:2008, 8.1)"
    };
    format!(
        "Aus den Verteilungen gezogen ({} Ziehungen, Startwert {}): Mittelwert {}, kürzestes Intervall {} bis {}, {verdict}.",
        said("draws"),
        said("seed"),
        said("mean"),
        said("low"),
        said("high"),
    )
}

/// A source that was assumed, with its standard uncertainty.
pub fn assumed(name: &str, value: &str) -> String {
    format!("{name}: Standardunsicherheit {value}")
}

fn said<'a>(args: &'a [(&str, String)]) -> impl Fn(&str) -> &'a str {
    move |name| args.iter().find(|(n, _)| *n == name).map_or("", |(_, text)| text.as_str())
}

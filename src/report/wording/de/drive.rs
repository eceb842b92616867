//! Words of the drive levels.

use crate::report::wording::{Filled, QuantityWords, Sentence};

pub fn label(key: &str) -> Option<&'static str> {
    Some(match key {
        "section-drive" => "Ansteuerstufen",
        "sensor-range" => "Bereich",
        "drive-shots" => "Verwendete Schüsse",
        "front-rise" => "Anstieg der Front",
        "shock-distance" => "Abstand bis zum Stoß",
        "with-bubbles" => "Mit Blasen\u{ad}anzeichen",
        "drive-table" => "Stufen in zeitlicher Folge, mit erweiterten Unsicherheiten. Reihe",
        "steepening-table" => "Wie sich die Welle aufsteilt, je Stufe. Reihe",
        "caption-levels-pressures" => {
            "Spitzendrücke über der Ansteuerstufe mit erweiterter Unsicherheit; gestrichelt: Geraden durch den linearen Teil. Reihe"
        }
        "caption-levels-harmonics" => {
            "Harmonische bezogen auf die Grundwelle über der Ansteuerstufe. Reihe"
        }
        "caption-levels-wave" => "Zwei Perioden um die Spitze bei",
        "caption-levels-spectra" => {
            "Spektren bei der niedrigsten, der letzten linearen und der höchsten Stufe, bezogen auf den Spitzendruck der höchsten. Reihe"
        }
        "linear-to" => "linear bis",
        "bubbles-from" => "Blasen ab",
        "axis-time-from-peak" => "Zeit ab der Spitze",
        "axis-harmonics" => "bezogen auf Grundwelle",
        "axis-re-peak" => "bezogen auf eigene Spitze",
        "level-fields-table" => "Ausdehnung des Feldes je Ansteuerstufe.",
        "caption-level-fields-pc" => {
            "Spitzen-Überdruck bezogen auf die eigene Spitze, je Ansteuerstufe"
        }
        "caption-level-fields-pr" => {
            "Spitzen-Unterdruck bezogen auf die eigene Spitze, je Ansteuerstufe"
        }
        "linear-rule" => {
            "Eine Stufe gilt als linear, solange sie und jede niedrigere innerhalb von zwei Standardunsicherheiten oder 2 % der gewichteten Geraden durch alle liegt (übliche Praxis, ohne Quelle)."
        }
        "drive-line" => {
            "{symbol} ist linear bis {level} ({points} Messungen; Achsenabschnitt {intercept} MPa); bei der höchsten Stufe weicht der Wert um {departure} % von der Geraden ab."
        }
        "drive-scaling" => {
            "Von {low}, wo die Welle linear ist, nach {target} wachsen Intensitäten mit G = {ratio} (erweiterte Unsicherheit {u}, {from}) und Drücke mit der Wurzel daraus. So skalierte Werte sagen, was der Kopf ohne Aufsteilung abgäbe; sie wurden nicht gemessen, und kein angegebener Spitzendruck wird mit ihnen verglichen."
        }
        "scaling-power-readings" => "aus gemessenen Leistungen, deren Fehler als unabhängig gelten",
        "scaling-drive-amplitudes" => "aus dem quadrierten Verhältnis der Ansteuerung",
        "drive-no-bubbles" => {
            "Bis {level} fand sich in {shots} Schüssen je Stufe kein Anzeichen von Blasen."
        }
        "drive-bubbles-from" => {
            "Ab {level} zeigen Schüsse Anzeichen von Blasen; sie bleiben aus allen Werten heraus."
        }
        "drive-bubbles-by" => {
            "Betrachtet: {band}; Schwelle {threshold} über der Grundlinie (übliche Praxis, ohne Quelle); gelöster Sauerstoff {oxygen}. Das gilt im Wasser dieses Beckens und sagt nichts über Gewebe."
        }
        "source-shots" => "Streuung der Schüsse",
        "source-line-fit" => "Ausgleich der Geraden",
        "source-power-ratio" => "Verhältnis der Leistungen",
        "from-shot-scatter" => "die Schüsse",
        "from-readings" => "Ablesungen der Leistung",
        _ => return None,
    })
}

pub fn reason(code: &str) -> Option<&'static str> {
    Some(match code {
        "level-kind-unknown" => "laut Protokoll ist die Art der Ansteuerstufe nicht bekannt",
        "too-few-levels" => "weniger als drei verschiedene Stufen",
        "no-linear-part" => "nicht einmal die drei niedrigsten Stufen liegen auf einer Geraden",
        "no-monitor" => "neben der Reihe wurde kein passiver Detektor aufgezeichnet",
        "bubbles-at-lowest" => "schon die niedrigste Stufe zeigt Anzeichen von Blasen",
        "bubbles-in-all" => "alle Schüsse zeigen Anzeichen von Blasen",
        "no-linear-level-below" => "im linearen Teil liegt keine Stufe unter der angestrebten",
        "no-linear-plane" => "keine Ebene bei niedrigerer Stufe mit linearer Welle",
        _ => return None,
    })
}

pub fn method(code: &str) -> Option<&'static str> {
    Some(match code {
        "mean-of-shots" => "Mittel der Schüsse",
        "weighted-line" => "gewichtete Gerade durch den linearen Teil",
        "linear-levels" => "innerhalb von 2 % oder zwei Standardunsicherheiten der Geraden",
        "no-signs-of-bubbles" => "unter der niedrigsten Stufe mit einem markierten Schuss",
        "highest-level" => "bei der höchsten Stufe",
        "scaled-by-powers" => "skaliert mit gemessenen Leistungen; nicht gemessen",
        "scaled-by-drive" => "skaliert mit der Ansteuerung; nicht gemessen",
        _ => return None,
    })
}

pub fn quantity(id: &str) -> Option<QuantityWords> {
    let (name, explanation, reference) = match id {
        "pc_slope" => (
            "Steigung des Spitzen-Überdrucks",
            "Zunahme von p_{c} mit der Ansteuerstufe, oder mit der Wurzel einer Leistung, über die linearen Stufen: gewichtete Gerade, Achsenabschnitt beibehalten.",
            "gewichtete kleinste Quadrate",
        ),
        "pr_slope" => (
            "Steigung des Spitzen-Unterdrucks",
            "Zunahme von p_{r} mit der Ansteuerstufe, oder mit der Wurzel einer Leistung, über die linearen Stufen: gewichtete Gerade, Achsenabschnitt beibehalten.",
            "gewichtete kleinste Quadrate",
        ),
        "level_linear_max" => (
            "höchste lineare Ansteuerstufe",
            "Höchste Stufe, bei der beide Spitzendrücke noch auf den Geraden durch die niedrigeren liegen.",
            "übliche Praxis",
        ),
        "level_no_bubble_signature_max" => (
            "höchste Ansteuerstufe ohne Blasen\u{ad}anzeichen",
            "Höchste Stufe unter der niedrigsten, bei der der passive Detektor einen Schuss markiert; im Wasser dieses Beckens, es sagt nichts über Gewebe.",
            "übliche Praxis",
        ),
        "sigma_q" => (
            "lokaler Verzerrungs\u{ad}parameter",
            "Wie weit sich die Welle bis hierher aufgesteilt hat: bis 0,5 nahezu linear, über 1,5 stark verzerrt; aus Abstand, mittlerem Spitzendruck, Fläche von Quelle und Bündel.",
            "IEC TS 61949, aus dem Gedächtnis",
        ),
        "sigma_m" => (
            "Parameter der nichtlinearen Ausbreitung",
            "Wie weit sich eine fokussierte Welle bis zum Fokus aufgesteilt hat, aus Abstand, mittlerem Spitzendruck und Verstärkung der Schale.",
            "Bacon 1984, aus dem Gedächtnis",
        ),
        "i_on_lin" => (
            "Intensität während des Bursts, linear äquivalent",
            "Intensität bei einer linearen Stufe mal Verhältnis der Leistungen: was die angestrebte Stufe ohne Aufsteilung gäbe. Nicht gemessen.",
            "IEC TS 62556, aus dem Gedächtnis",
        ),
        "isal_lin" => (
            "räumlich gemittelte Intensität, linear äquivalent",
            "Räumlich gemittelte Intensität einer Ebene bei linearer Stufe mal Verhältnis der Leistungen. Nicht gemessen.",
            "IEC TS 62556, aus dem Gedächtnis",
        ),
        "p1_lin" => (
            "Amplitude der Grundwelle, linear äquivalent",
            "Amplitude der Grundwelle bei einer linearen Stufe mal Wurzel des Verhältnisses der Leistungen. Nicht gemessen.",
            "IEC TS 62556, aus dem Gedächtnis",
        ),
        _ => return None,
    };
    Some(QuantityWords { name, explanation, reference })
}

pub fn finding(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    let (text, hint) = match code {
        "sweep-level-missing" => (
            "{scans} Messungen der Reihe haben keine Ansteuerstufe und fehlen in der Kurve.",
            "Die Stufe jeder Messung angeben, oder die Stufen als Feld level neben die Zeitverläufe legen.",
        ),
        "sweep-one-level" => (
            "Die Reihe hat eine einzige Stufe: Es gibt keine Kurve.",
            "Bei drei oder mehr Stufen messen, oder der Messung die Rolle point geben.",
        ),
        "sweep-kind-missing" => (
            "Das Protokoll sagt nicht, ob die Ansteuerstufe eine Amplitude oder eine Leistung ist: Es gibt keine Steigung.",
            "excitation.level_kind angeben.",
        ),
        "sweep-kind-unknown" => (
            "Die Art der Ansteuerstufe ist als unbekannt angegeben: Es gibt keine Steigung.",
            "Herausfinden, ob der Druck mit der Stufe oder mit ihrer Wurzel wächst.",
        ),
        "sweep-range-missing" => (
            "{scans} Messungen der Reihe nennen keinen der {ranges} Messbereiche: Verwendet wurde, was für den Sensor im Ganzen gilt.",
            "Den Bereich jeder Messung angeben.",
        ),
        "line-misses-zero" => (
            "Die Gerade von {symbol} geht nicht durch null: Achsenabschnitt {intercept}, Standardunsicherheit {u}.",
            "Den Nullpunkt der Stufenanzeige und das Rauschen der niedrigsten Stufen prüfen; steilt sich die Welle schon dort auf, niedrigere Stufen hinzunehmen.",
        ),
        "beyond-linear-part" => (
            "Bei {level} weicht {symbol} von der Geraden der niedrigen Stufen um {departure} ab (Standardunsicherheit {u}); linear ist es bis {linear}.",
            "Spitzendrücke jenseits des linearen Teils nicht von Stufe zu Stufe umrechnen.",
        ),
        "level-return-differs" => (
            "Bei der Rückkehr zu {level} hatte sich {symbol} um {change} geändert (Standardunsicherheit {u}).",
            "Kopf oder Sensor haben sich erwärmt oder Schaden genommen: abkühlen lassen, die niedrigste Stufe wiederholen, mit der Prüfquelle vergleichen.",
        ),
        "range-join-differs" => (
            "Bei {level} springt {symbol} vom Bereich {first} zu {second} um {step} (Standardunsicherheit {u}).",
            "Einer der beiden Bereiche ist falsch kalibriert oder übersteuert: beide mit der Prüfquelle vergleichen.",
        ),
        "range-join-agrees" => (
            "Die Bereiche {first} und {second} stimmen bei {level} überein: Sprung von {symbol} {step}, Standardunsicherheit {u}.",
            "",
        ),
        "range-join-unchecked" => (
            "Die Bereiche {first} und {second} haben keine Stufe gemeinsam: Ob sie aneinanderpassen, ist nicht geprüft.",
            "Eine Stufe in beiden Bereichen messen.",
        ),
        "distortion-strong" => (
            "Ab {level} ist die Welle stark verzerrt (lokaler Verzerrungsparameter über 1,5; {sigma} bei der höchsten Stufe): Stöße sind nah oder da, und Werte in Wasser sagen wenig über Gewebe.",
            "Diese Werte nicht nach linearen Regeln abschwächen oder umrechnen; eine niedrige Stufe mit linear-äquivalenter Skalierung verwenden.",
        ),
        "distortion-notable" => (
            "Ab {level} ist die Welle merklich verzerrt (lokaler Verzerrungsparameter über 0,5; {sigma} bei der höchsten Stufe).",
            "Lineares Abschwächen und Umrechnen irrt von da an; mit der Leistung skalierte niedrige Stufen sind sicherer.",
        ),
        _ => return None,
    };
    Some(Sentence::new(a.fill(text), hint))
}

//! Why a quantity has no value, and how values were obtained.

pub fn reason(code: &str) -> Option<&'static str> {
    Some(match code {
        "blank" => "im Protokoll fehlt die Angabe",
        "not-finite" => "die Rechnung ergab keine endliche Zahl",
        "burst-not-held" => "die Aufzeichnung endet vor dem Burst",
        "no-pulse" => "kein Signal ragt aus dem Rauschen",
        "short-pulse" => "der Puls ist zu kurz für einen eingeschwungenen Teil",
        "no-steady-window" => "ein eingeschwungener Teil wurde nicht gefunden",
        "no-whole-cycle" => {
            "zwischen dem Einschwingen und dem Echo vom Kopf bleibt keine ganze Schwingung"
        }
        "stated-window-short" => "das angegebene Fenster fasst keine ganze Schwingung",
        "whole-pulse-chosen" => "das Protokoll verlangt den ganzen Puls",
        "no-frequency" => "die Ansteuerfrequenz ist nicht bekannt",
        "no-quiet-part" => "kein ruhiger Teil vor der Ankunft",
        "too-few-crossings" => "weniger als zwei Halbwellen",
        "no-band" => "das Spektrum fällt nicht zu beiden Seiten der Grundschwingung um 3 dB",
        "step-too-large" => "die Schrittweite ist zu groß für die Winkel des Schallbündels",
        "round-beam" => "das Schallbündel ist rund",
        "no-side-lobe" => "keine ragt aus dem Rauschen",
        "z-zero-unknown" => "z beginnt laut Angabe an einem unbekannten Punkt",
        "z-zero-cone" => {
            "z beginnt an einem Koppelkonus, und nichts sagt, wie weit dieser von der Schale entfernt ist"
        }
        "not-a-bowl" => "der Krümmungsradius ist kleiner als der Radius der Apertur",
        "too-few-points" => "zu wenige Punkte über −6 dB",
        "not-linear" => "die Welle steilt sich auf (lokaler Verzerrungsparameter über 0,5)",
        "focused-head" => "der Kopf ist fokussierend",
        "below-noise" => "ragt nicht aus dem Rauschen",
        "beyond-low-pass" => "liegt oberhalb des Tiefpasses",
        "beam-not-within-scan" => "das Feld fällt im Messfenster nicht bis auf diesen Pegel ab",
        "clipped-at-peak" => "der Spitzenwert war übersteuert",
        "excluded-at-peak" => "ein ausgeschlossener Punkt könnte den Spitzenwert getragen haben",
        "noise-not-known" => "das Rauschen ließ sich nicht messen",
        "uncertainty-not-evaluated" => "keine Unsicherheitsquelle wird dafür ausgewertet",
        "not-stated" => "nicht angegeben",
        "minimum-phase" => "die Phase wurde aus dem Betrag berechnet",
        "only-a-bound" => "eine untere Schranke hat keine Unsicherheit",
        "calibration-not-sure" => "die Unsicherheit der Kalibrierung ist nicht angegeben",
        "exposure-level-differs" => {
            "die angegebene Beschallung gehört zu einer anderen Ansteuerstufe"
        }
        "no-axial-scan" => "es gibt keinen axialen Scan",
        "no-plane-at-level" => "es gibt keine Ebene bei dieser Ansteuerung",
        "axis-behind-head" => "die Achse beginnt nach der Angabe zu z hinter dem Kopf",
        "derated-peak-at-edge" => "der größte Wert steht an einem Ende der abgetasteten Achse",
        "axis-ends-before-break-point" => {
            "die Achse endet näher am Kopf als das 1,69-Fache der Wurzel seiner Abstrahlfläche"
        }
        _ => return None,
    })
}

pub fn method(code: &str) -> Option<&'static str> {
    Some(match code {
        "" => "",
        "check-fundamental" => "Prüfquelle, Grundschwingung",
        "check-rms" => "Prüfquelle, Effektivwert",
        "check-peak" => "Prüfquelle, positiver Spitzenwert",
        "single-waveform" => "einzelner Zeitverlauf",
        "peak-pc" => "von p_{c}",
        "peak-pr" => "von p_{r}",
        "width-pc" => "von p_{c}, Amplitude",
        "width-pr" => "von p_{r}, Amplitude",
        "area-pc" => "Höhenlinie von p_{c}, Amplitude",
        "area-pr" => "Höhenlinie von p_{r}, Amplitude",
        "angular-steady" => "Winkel\u{ad}spektrum, einge\u{ad}schwungene Schwin\u{ad}gungen",
        "angular-whole-pulse" => "Winkel\u{ad}spektrum, ganzer Puls über seine Dauer",
        "second-moments" => "zweite Momente der Energie",
        "of-ppsi" => "von p_{i}",
        "peak-and-tilt" => "aus Maximum und Neigung",
        "peak-less-geometric" => "von p_{i}, abzüglich des geometrischen Fokus",
        "phase-fit" => "Ausgleich an die Phase der Grund\u{ad}schwingung",
        "half-pressure-contour" => "innerhalb des halben Drucks",
        "steady-cycles" => "Mittel über die Schwin\u{ad}gungen",
        "derated" => "gedämpft, wo das gedämpfte I_{pi} am größten ist",
        "derated-times-duty" => {
            "I_{on} × Tastverhältnis, gedämpft, wo das gedämpfte I_{pi} am größten ist"
        }
        "tis-at-surface" => "an der Oberfläche, Apertur bis 1 cm²",
        "tis-below-surface" => "unter der Oberfläche, größte Stützstelle ab 1,69 √A",
        "tib-largest-product" => {
            "wo gedämpfte Leistung × Intensität am größten ist, an den Stützstellen"
        }
        "tic-at-surface" => "an der Oberfläche",
        "half-rise" => "Halbwerts\u{ad}punkt des Anstiegs",
        "noise-record" => "aus einer Rauschaufzeichnung",
        "peak-fit-plane" => "Ausgleich über die Ebene",
        "peak-fit-line" => "Ausgleich längs der Linie",
        "peak-ppsi" => "von p_{i}",
        "steady-times-duty" => "I_{on} × Tast\u{ad}verhältnis",
        "pulse-times-rate" => "I_{pi} × Wiederholrate",
        "harmonics-steady" => "ganze Schwin\u{ad}gungen",
        "harmonics-whole-pulse" => "ganzer Puls über seine Dauer",
        "width-ppsi" => "von p_{i}",
        "area-contour" => "Höhenlinie von p_{i}",
        "power-stated-burst" => "über den angegebenen Burst",
        "power-pulse-duration" => "über die Pulsdauer am Maximum",
        _ => return None,
    })
}

//! Findings: short, exact, kind; each with what to do.

use super::formats::formats;
use super::layouts;
use super::{Filled, Sentence};

pub fn finding(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    conditions(code, a)
        .or_else(|| points(code, a))
        .or_else(|| response(code, a))
        .or_else(|| steadiness(code, a))
        .or_else(|| field(code, a))
        .or_else(|| windows(code, a))
        .or_else(|| super::transfers::findings(code, a))
        .or_else(|| super::bubbles::findings(code, a))
        .or_else(|| layouts::findings(code, a))
        .or_else(|| formats(code, a))
}

fn conditions(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "role-not-evaluated" => s(
            a.fill("Dieser Scan hat die Rolle „{role}“, die diese Fassung nicht auswertet."),
            "Seine Datei wurde nicht gelesen.",
        ),
        "temperature-assumed" => s(
            a.fill("Die Wassertemperatur ist nicht angegeben; angenommen wurden {assumed}."),
            "Bitte angeben: Intensitäten und Leistungen hängen davon ab.",
        ),
        "temperature-unusual" => s(
            a.fill("Als Wassertemperatur sind {found} angegeben, außerhalb des Bereichs, in dem die Formeln für Wasser verwendet werden."),
            "Die Temperatur prüfen.",
        ),
        "frequency-from-signal" => s(
            "Die Ansteuerfrequenz ist nicht angegeben; genommen wurde die stärkste Linie des Spektrums.",
            "Bitte angeben: Fenster und Harmonische beruhen darauf.",
        ),
        "full-scale-unknown" => s(
            "Der Vollausschlag des Digitalisierers ist nicht angegeben; auf Übersteuerung konnte nicht geprüft werden.",
            "Vollausschlag und Bits angeben.",
        ),
        "time-origin-unknown" => s(
            "Die Datei sagt nicht, wie lange nach dem Trigger die Aufzeichnung beginnt.",
            "Ankunftszeiten sind relativ; t0_s ergänzen.",
        ),
        "low-pass-without-noise" => s(
            "Der Tiefpass konnte dem Rauschen nicht folgen und steht auf einer Vorgabe.",
            "Einen ruhigen Teil vor der Ankunft aufzeichnen oder den Tiefpass angeben.",
        ),
        "no-response" => s(
            "Es ist keine Empfindlichkeit angegeben: die Zahlen sind Volt, Druck und Leistung fehlen.",
            "Die Empfindlichkeit des Sensors angeben.",
        ),
        "derating-strong-distortion" => s(
            a.fill("{scan}: Die Welle ist stark verzerrt (lokaler Verzerrungsparameter {found}, über {limit}): Nach einer linearen Regel gedämpfte Werte sagen wenig über ein dämpfendes Medium."),
            "Keine Entscheidung darauf stützen; bei geringerer Ansteuerung messen und hochrechnen, oder die Ausbreitung berechnen.",
        ),
        "derating-distortion" => s(
            a.fill("{scan}: Die Welle steilt sich auf (lokaler Verzerrungsparameter {found}, über {limit}): Die Dämpfung nach einer linearen Regel ist weniger genau als ihre Ziffern."),
            "",
        ),
        "derating-distortion-unknown" => s(
            a.fill("{scan}: Nichts sagt, wie weit sich die Welle aufsteilt, und damit, ob eine lineare Regel dämpfen darf."),
            "Eine Ebene bei gleicher Ansteuerung, die Fläche des Kopfs und der Abstand von ihm sagen es.",
        ),
        "unused-file" => {
            s("Diese Datei ist im Protokoll nicht genannt und wurde nicht gelesen.", "")
        }
        _ => return None,
    })
}

fn points(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "clipped" => s(
            a.fill("{points} von {all} Punkten erreichten das Bereichsende des Digitalisierers und wurden durch ihre Nachbarn ersetzt."),
            "Mit weiterem Bereich wiederholen.",
        ),
        "clipped-at-peak" => s(
            "Wo das Feld am stärksten ist, war der Zeitverlauf übersteuert: Spitzenwerte sind untere Schranken.",
            "Den Scan mit weiterem Bereich wiederholen.",
        ),
        "excluded-at-peak" => s(
            "Ein unbrauchbarer Punkt liegt, wo das Feld am stärksten ist: ein Spitzenwert wird nicht angegeben, weil ein schwächerer Nachbar nicht für ihn stehen darf.",
            "Die Punkte um das Maximum wiederholen.",
        ),
        "points-replaced" => s(
            format!(
                "{} von {} Punkten {} tot oder gestört; Karten und Summen verwenden das Mittel der Nachbarn, die Karten kennzeichnen es.",
                a.get("points"),
                a.get("all"),
                if a.get("points") == "1" { "ist" } else { "sind" }
            ),
            "",
        ),
        "too-many-excluded" => s(
            a.fill("{points} von {all} Punkten waren unbrauchbar, mehr als {limit}."),
            "Den Scan wiederholen.",
        ),
        "points-skipped" => s(
            format!(
                "{} nicht berechnet werden.",
                counted(&a.get("points"), "Punkt konnte", "Punkte konnten")
            ),
            "Die Dateien noch einmal laden; geschieht es wieder, ist die Datei dort beschädigt.",
        ),
        "samples-not-finite" => s(
            format!(
                "{} an {} {}; die betroffenen Punkte wurden ersetzt.",
                counted(&a.get("samples"), "Abtastwert", "Abtastwerte"),
                counted(&a.get("points"), "Punkt", "Punkten"),
                if a.get("samples") == "1" {
                    "ist keine endliche Zahl"
                } else {
                    "sind keine endlichen Zahlen"
                }
            ),
            "Nach der Lücke in der Aufzeichnung suchen.",
        ),
        "samples-zeroed" => s(
            counted(
                &a.get("samples"),
                "Abtastwert ist keine endliche Zahl und wurde als null genommen.",
                "Abtastwerte sind keine endlichen Zahlen und wurden als null genommen.",
            ),
            "Nach der Lücke in der Aufzeichnung suchen und sie wiederholen.",
        ),
        "spikes" => s(
            format!(
                "Vom Feld um sich heben sich ab: {} von {} (Spitzen, Blasen, ausgefallene Zeilen); Karten und Summen verwenden stattdessen die Nachbarn, die Karten kennzeichnen es.",
                strays(a),
                counted(&a.get("all"), "Punkt", "Punkten")
            ),
            "Ihre Zeitverläufe ansehen; wiederholen, wenn sie im Schallbündel liegen.",
        ),
        "rows-offset" => s(
            format!(
                "Im Vorbeifahren aufgenommen, ist jede zweite Zeile längs x um {} versetzt (Standardunsicherheit {}): hin und zurück gemessene Zeilen passen nicht zusammen{}.",
                a.get("found"),
                a.get("u"),
                if a.get("corrected") == "yes" {
                    "; wie verlangt, wurde jede um die Hälfte verschoben"
                } else {
                    ""
                }
            ),
            "In einer Richtung aufnehmen oder die Positionen um die Verzögerung des Triggers korrigieren lassen.",
        ),
        "few-bits" => s(
            a.fill("Der lauteste Zeitverlauf umfasst {found} Stufen des Digitalisierers; gewünscht sind {wanted}."),
            "Einen engeren Bereich verwenden: das Runden verstärkt Rauschen und Spitzenwerte.",
        ),
        "beyond-linear-limit" => s(
            a.fill("{points} von {all} Punkten überschreiten den Druck, bis zu dem der Sensor linear ist: {found} gegenüber {limit}."),
            "Anderen Messbereich oder niedrigere Stufe verwenden: der Sensor staucht, der wahre Druck ist höher.",
        ),
        "snr-low" => s(
            a.fill("Am Maximum liegt das Signal nur {found} über dem Rauschen; gewünscht sind {wanted}."),
            "Mehr Aufnahmen mitteln oder einen empfindlicheren Messbereich verwenden.",
        ),
        "no-signal" => s(
            "In diesem Scan ragt kein Signal aus dem Rauschen.",
            "Anschluss, Trigger und Zeitfenster prüfen.",
        ),
        _ => return None,
    })
}

fn response(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "table-not-covering" => s(
            a.fill("Die Empfindlichkeitstabelle reicht von {low} bis {high} und deckt das Band des Signals nicht ab (Tiefpass bei {cutoff}); jenseits ihrer Enden gelten die Endwerte."),
            "Eine Tabelle verwenden, die das Band abdeckt.",
        ),
        "peak-uncertainty-nonlinear" => s(
            a.fill("Die Unsicherheit der Empfindlichkeit ist zu groß für lineare Fortpflanzung: mit zufällig gezogenen Fehlern ist der Wert im Mittel {mean} statt {value}, mit einer Standardabweichung von {drawn} statt {linear}."),
            "Den gezogenen Werten ist mehr zu trauen; eine Empfindlichkeitstabelle mit kleineren Unsicherheiten, vor allem der Phase, würde helfen.",
        ),
        "low-pass-takes-signal" => s(
            a.fill("Das Signal ragt bis {reach} aus dem Rauschen; ließe man alles davon durch, wäre der Wert um {share} anders. Die Unsicherheit des Tiefpasses deckt das ab."),
            "Einen höheren Tiefpass angeben oder ihn dem Rauschen folgen lassen.",
        ),
        "low-pass-cuts-signal" => s(
            a.fill("Der angegebene Tiefpass bei {cutoff} schneidet Signal ab, das bis {signal} aus dem Rauschen ragt."),
            "Höher setzen oder dem Rauschen folgen lassen (auto).",
        ),
        "methods-differ" => s(
            format!(
                "Nach dem {}verfahren ({} bei {}) wäre der Wert um {} anders.",
                method(&a.get("method")),
                if a.get("method") == "narrowband" {
                    "alles geteilt durch die Empfindlichkeit"
                } else {
                    "geteilt durch die ganze Tabelle statt durch die Empfindlichkeit"
                },
                a.get("frequency"),
                a.get("share")
            ),
            "",
        ),
        "table-columns-unused" => s(
            a.fill("Spalten der Empfindlichkeitstabelle, deren Namen nichts über die Empfindlichkeit sagen, wurden nicht verwendet: {columns}."),
            "Ist eine davon gemeint, sie mit ihrer Einheit benennen.",
        ),
        "phase-minimum" => s(
            a.fill("Die Empfindlichkeitstabelle hat keine Phase. Sie wurde aus dem Betrag berechnet, als die eines minimalphasigen Sensors, mit konstantem Betrag außerhalb von {low} bis {high}."),
            "Spitzenwerte aufgesteilter Wellen beruhen darauf; wo es auf sie ankommt, eine Tabelle mit Phase verwenden.",
        ),
        "phase-sign" => s(
            a.fill("Die Phase der Empfindlichkeitstabelle passt mit umgekehrtem Vorzeichen besser zu einem minimalphasigen Sensor (Effektivwert der Abweichung {opposite} statt {stated}, ohne Laufzeit). Verwendet wurde sie, wie sie dasteht."),
            "Die Phase muss die von Volt durch Pascal sein und bei einer Verzögerung fallen (exp(+jωt)); folgt die Tabelle der anderen Festlegung, das Vorzeichen umkehren.",
        ),
        "phase-unwrapping" => s(
            a.fill("Die Phase der Empfindlichkeitstabelle springt zwischen Zeilen um fast eine halbe Umdrehung oder mehr ({rows} Mal, zuerst bei {frequency}); ganze Umdrehungen sind deshalb nicht sicher."),
            "Eine Tabelle mit kleinerem Frequenzschritt verwenden oder eine Laufzeit aus der Phase nehmen.",
        ),
        "response-load-corrected" => s(
            format!(
                "Die Empfindlichkeit der Tabelle wurde {} auf die verwendete Last umgerechnet: ein Faktor {} bei {}.",
                if a.get("plane") == "open-circuit" {
                    "vom Leerlauf"
                } else {
                    "von der Last ihrer Kalibrierung"
                },
                a.get("factor"),
                a.get("frequency")
            ),
            "",
        ),
        "response-extrapolated" => s(
            a.fill("{share} der Energie des Zeitverlaufs am Maximum liegen außerhalb der Empfindlichkeitstabelle, die von {low} bis {high} reicht; dort gilt die Empfindlichkeit als konstant."),
            "Eine Tabelle verwenden, die das Band abdeckt.",
        ),
        "calibration-uncertainty-missing" => s(
            "Die Empfindlichkeit hat keine Unsicherheit: nichts in Pascal, Watt oder Joule hat eine, und kein angegebener Wert davon lässt sich beurteilen.",
            "Die Unsicherheit der Empfindlichkeit angeben, mit ihrer Art.",
        ),
        "element-large" => s(
            a.fill("Der effektive Radius des Sensors, {found}, überschreitet die {limit}, die das Kriterium von IEC 62127-1 für diesen Kopf erlaubt: er mittelt über das Schallbündel."),
            "Einen kleineren Sensor verwenden: die Korrektur dafür, die es nur in Ebenen gibt, ist groß und unsicher.",
        ),
        "band-small" => s(
            a.fill("Das Signal ragt bis {found} aus dem Rauschen, so weit die Abtastrate sehen lässt: Harmonische darüber fehlen den Spitzenwerten."),
            "Mit höherer Abtastrate aufzeichnen.",
        ),
        "rarefaction-exceeds" => s(
            a.fill("Der Spitzen-Unterdruck ist um {found} größer als der Spitzen-Überdruck: bei einer Welle, die sich zum Fokus hin aufsteilt, ist es umgekehrt."),
            "Polarität von Sensor, Verstärker und Digitalisierer prüfen: Das Vorzeichen der Abtastwerte entscheidet, welche Spitze welche ist.",
        ),
        "monte-carlo-disagrees" => s(
            a.fill(if a.has("scans") { "Für {symbols} (Messungen {scans}) weicht das Intervall, das die Verteilungen ergeben, von y ± U ab, um mehr als eine halbe Einheit der ersten Stelle von u: es ist nicht symmetrisch. Die Ergebnisse beruhen auf y und u." } else { "Für {symbols} weicht das Intervall, das die Verteilungen ergeben, von y ± U ab, um mehr als eine halbe Einheit der ersten Stelle von u: es ist nicht symmetrisch. Die Ergebnisse beruhen auf y und u." }),
            "",
        ),
        _ => return None,
    })
}

fn steadiness(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "output-drift" => s(
            format!(
                "Bei {} Besuchen desselben Punkts schwankte {} um {} ({} vom ersten zum letzten, Streuung {}). {}",
                a.get("visits"),
                a.get("symbol"),
                a.get("range"),
                a.get("change"),
                a.get("scatter"),
                if a.get("corrected") == "yes" {
                    "Das Protokoll verlangt eine Korrektur: Werte, die eine haben, zeigen sie."
                } else {
                    "Kein Wert ist dafür korrigiert."
                }
            ),
            "Kopf und Verstärker warmlaufen lassen, Entgasung und Temperatur prüfen und noch einmal messen.",
        ),
        "steadiness-unknown" => s(
            a.fill("Der Scan dauerte {minutes} min, und kein Punkt wurde wieder besucht: nichts zeigt, ob die Abgabe gleichmäßig war."),
            "Ab und zu zu einem Punkt zurückkehren und diesen Aufzeichnungen die Rolle „reference“ (Bezugspunkt) geben.",
        ),
        "drift-not-corrected" => s(
            if a.get("why") == "times" {
                "Eine Driftkorrektur ist verlangt, aber nichts sagt, wann die Punkte gemessen wurden: es wurde keine gemacht."
            } else {
                "Eine Driftkorrektur ist verlangt, aber es gibt keine zwei Besuche eines Punkts, deren Zeiten sich mit denen dieses Scans vergleichen lassen: es wurde keine gemacht."
            },
            "Den Punkten der Scans time_s geben oder Anfang und Ende von Scans und Besuchen nach einer Uhr angeben.",
        ),
        "drift-beyond-visits" => s(
            a.fill("Punkte wurden bis zu {minutes} min vor dem ersten oder nach dem letzten Besuch gemessen: dort gilt der Faktor des nächsten Besuchs."),
            "Den Punkt vor dem Scan und danach besuchen.",
        ),
        "repeats-average-differs" => s(
            a.fill("Das Mittel von {repeats} ausgerichteten Zeitverläufen ergibt für {symbol} den Wert {averaged}, die einzelnen ergeben im Mittel {mean} (Standardunsicherheit {u}): die Form des Zeitverlaufs wechselt von Wiederholung zu Wiederholung."),
            "Die einzelnen Zeitverläufe ansehen: Blasen, eine unstete Ansteuerung, ein rutschender Trigger. Angegeben sind die Werte der einzelnen.",
        ),
        "level-drift" => s(
            a.fill("Nach dem Puls kehrt der Zeitverlauf am Maximum nicht auf null zurück: sein Mittel ist dort {found} ({share} des Spitzenwerts)."),
            "Nach einem driftenden Verstärker oder einem Hochpass in der Kette suchen; der eine Spitzenwert ist etwa um so viel zu hoch, der andere zu niedrig.",
        ),
        "trigger-jitter" => s(
            format!(
                "Der Triggerzeitpunkt streut von Aufnahme zu Aufnahme um {} ({}), das sind {} einer Periode.",
                a.get("found"),
                if a.get("from") == "record" {
                    "wie angegeben"
                } else {
                    "nach den Phasen benachbarter Punkte"
                },
                a.get("share")
            ),
            "Einzelaufnahmen behalten ihre Spitzenwerte, aber Phasen und Mittel über Aufnahmen leiden: auf die Ansteuerung selbst triggern.",
        ),
        "noise-not-quiet" => s(
            a.fill("Diese Rauschaufzeichnung enthält nicht nur Rauschen: ihre lauteste Periode hat den {found}-fachen Effektivwert der leisesten."),
            "Die Ansteuerung abschalten, nach Einstreuung suchen und noch einmal aufzeichnen.",
        ),
        _ => return None,
    })
}

fn field(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "harmonics-left-out" => s(
            a.fill("Harmonische, für die die Schrittweite zu groß ist, tragen {share} der Leistung; im Winkelspektrum fehlen sie."),
            "Mit kleinerer Schrittweite messen.",
        ),
        "evanescent-energy" => s(
            a.fill("{share} der Energie der Grundschwingung in der Ebene können sich nicht ausbreiten: Rauschen, Jitter oder Schrittweiten, die nicht die angegebenen sind."),
            "Koordinaten, Trigger und Wassertemperatur prüfen.",
        ),
        "power-beyond-window" => s(
            a.fill("Etwa {share} der Leistung liegen außerhalb des Messfensters und fehlen (geschätzt, auf die Hälfte genau)."),
            "Ein größeres Fenster messen.",
        ),
        "snr-too-low-for-width" => s(
            a.fill("Das Rauschen kommt bis auf {limit} an den Pegel heran, bei dem diese Ausdehnungen bestimmt werden: {widths}."),
            "Mehr Aufnahmen mitteln, einen empfindlicheren Messbereich verwenden oder diese Ausdehnungen auf höherer Stufe bestimmen.",
        ),
        "tilts-differ" => s(
            a.fill("Die Bündelachse neigt sich nach {axis} um {phase} laut Phase in dieser Ebene, aber um {centres} laut ihren Mittelpunkten in {planes} Ebenen längs z."),
            "Prüfen, ob die Achsen des Scanners senkrecht zueinander stehen und alle Ebenen in einem Bezugssystem gemessen wurden; auch die Ansteuerfrequenz prüfen.",
        ),
        "side-lobe-at-edge" => s(
            a.fill("Die höchste gefundene Nebenkeule, {found}, liegt am Rand des Scans: außerhalb kann sie höher sein."),
            "Ein größeres Fenster messen.",
        ),
        "beam-tilted" => s(
            a.fill("Das Schallbündel läuft um {found} schräg zur z-Achse."),
            "Den Kopf ausrichten: Breiten und Flächen sind die eines schrägen Schnitts.",
        ),
        "peak-at-edge" => s(
            "Das Feld ist am Rand des Messfensters am stärksten: das wahre Maximum kann außerhalb liegen.",
            "Das Fenster so verschieben, dass das Maximum innen liegt.",
        ),
        "peak-not-fitted" => s(
            a.fill("Das Maximum ließ sich nicht durch Ausgleich bestimmen (weniger als {wanted} Punkte innerhalb von 1,5 dB, oder keines zwischen ihnen): es ist das des nächsten Punkts."),
            "Mit kleinerer Schrittweite messen.",
        ),
        "islands" => s(
            format!(
                "Auch außerhalb des Hauptbündels {} über −6 dB; die Fläche ist die des Hauptbündels allein.",
                if a.get("points") == "1" {
                    "liegt ein Punkt".to_owned()
                } else {
                    a.fill("liegen {points} Punkte")
                }
            ),
            "Die Karte ansehen: das Schallbündel könnte geteilt sein.",
        ),
        "step-above-half-wavelength" => s(
            a.fill("Die Schrittweite von {step} ist größer als eine halbe Wellenlänge ({half})."),
            "Feine Strukturen des Schallbündels können fehlen; mit kleinerer Schrittweite messen.",
        ),
        "few-points-across" => s(
            a.fill("Über die −6-dB-Breite in {axis} liegen nur {found} Punkte; gewünscht sind mindestens {wanted}."),
            "Mit kleinerer Schrittweite messen.",
        ),
        "edge-level" => s(
            format!(
                "Der Scan endet am {} Rand, bevor der Druck auf ein Zehntel gefallen ist (dort {}, bezogen auf das Maximum; gewünscht {}): die Leistung ist zu niedrig.",
                edge(&a.get("side")),
                a.get("found"),
                a.get("wanted")
            ),
            "Ein größeres Fenster messen.",
        ),
        _ => return None,
    })
}

fn windows(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "feed-through" => s(
            a.fill("Die Ansteuerung ist von {from} bis {to} direkt zu sehen (Effektivwert {level}); dieser Teil blieb aus der Nulllinie heraus."),
            "",
        ),
        "no-quiet-part" => s(
            "Vor der Ankunft ist zu wenig der Aufzeichnung ruhig: weder Nulllinie noch Rauschen ließen sich messen.",
            "Die Aufzeichnung einige Perioden vor der Welle beginnen.",
        ),
        "burst-not-held" => s(
            "Die Aufzeichnung endet vor dem Burst: Energien des ganzen Pulses lassen sich nicht angeben.",
            "Aufzeichnen, bis die Welle abgeklungen ist.",
        ),
        "window-beyond-record" => s(
            a.fill("Das angegebene Fenster reicht über die Aufzeichnung hinaus, die von {from} bis {to} läuft: nur der Teil innerhalb wird verwendet."),
            START_AND_STOP,
        ),
        "window-beyond-burst" => s(
            a.fill("Das angegebene eingeschwungene Fenster reicht über den Burst hinaus, der von {from} bis {to} ansteht: seine Mittel sind nicht die des eingeschwungenen Teils."),
            "Anfang und Ende in den Burst legen, nach dem Einschwingen und vor dem Echo.",
        ),
        "window-cuts-pulse" => s(
            a.fill("Das angegebene Fenster lässt einen Teil des Pulses aus, der von {from} bis {to} ansteht: Energien, Dauern und Leistungen sind die des Teils."),
            "Ein Fenster angeben, das den ganzen Puls fasst, sofern nicht ein Teil gewollt ist.",
        ),
        "window-empty" => s(
            "Das angegebene Fenster enthält nichts von der Aufzeichnung; verwendet wird das gefundene.",
            START_AND_STOP,
        ),
        _ => return None,
    })
}

const START_AND_STOP: &str =
    "Anfang und Ende prüfen: sie zählen auf der Zeitachse des Scans selbst, in Sekunden.";

/// `5 einzelne Punkte und 1 Zeile`, what there is none of left out.
fn strays(a: &Filled<'_>) -> String {
    let (points, rows) = (a.get("points"), a.get("rows"));
    let points_text = counted(&points, "einzelner Punkt", "einzelne Punkte");
    let rows_text = counted(&rows, "Zeile", "Zeilen");
    match (points.as_str(), rows.as_str()) {
        (_, "0") => points_text,
        ("0", _) => rows_text,
        _ => format!("{points_text} und {rows_text}"),
    }
}

/// `1 Punkt`, `3 Punkte`.
fn counted(number: &str, one: &str, many: &str) -> String {
    format!("{number} {}", if number == "1" { one } else { many })
}

/// First part of the name of a way to divide by the response.
fn method(code: &str) -> &str {
    match code {
        "narrowband" => "Schmalband",
        "broadband" => "Breitband",
        other => other,
    }
}

/// An edge of the scan, in the dative.
fn edge(side: &str) -> &str {
    match side {
        "left" => "linken",
        "right" => "rechten",
        "bottom" => "unteren",
        "top" => "oberen",
        other => other,
    }
}

pub fn s(text: impl Into<String>, hint: &str) -> Sentence {
    Sentence::new(text, hint)
}

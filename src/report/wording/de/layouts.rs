//! Layouts of foreign files: why one is proposed, what it lacks.

use super::problems::s;
use super::{Filled, Sentence};

/// The word of an axis.
fn axis(a: &Filled<'_>) -> String {
    match a.get("axis").as_str() {
        "t" => "die Zeiten der Abtastwerte".to_owned(),
        "level" => "die Ansteuerstufen".to_owned(),
        "volts" => "die Zeitverläufe".to_owned(),
        other => format!("die Koordinate {other}"),
    }
}

/// The dimensions in words.
pub fn axes(text: &str) -> String {
    text.split(" × ")
        .map(|part| match part.split_once(' ') {
            Some(("t", n)) => format!("{n} Abtastwerte"),
            Some(("point", n)) => format!("{n} Punkte"),
            Some(("level", n)) => format!("{n} Stufen"),
            Some(("repeat", n)) => format!("{n} Wiederholungen"),
            Some(("gain", n)) => format!("{n} Messbereiche"),
            Some((axis, n)) => format!("{n} längs {axis}"),
            None => part.to_owned(),
        })
        .collect::<Vec<_>>()
        .join(" × ")
}

pub fn findings(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "layout-proposed" => s(
            format!(
                "Die Datei beschreibt sich nicht selbst; {} wurde gelesen als: {}. Keine andere Lesart passt.",
                a.path(),
                axes(&a.get("axes"))
            ),
            "Bitte prüfen; die Anordnung steht im Protokoll dieses Blatts.",
        ),
        "layout-reused" => s(
            a.fill("Die Anordnung des Scans {scan} passt zu dieser Datei und wurde verwendet."),
            "",
        ),
        "layout-largest" => s(a.fill("{} ist das größte Feld seiner Gruppe."), ""),
        "layout-named" => s(a.fill("{} heißt so, wie Zeitverläufe heißen."), ""),
        "layout-one-of" => s(
            a.fill("{} ist eines von mehreren Feldern, die Zeitverläufe sein können."),
            "",
        ),
        "layout-time-scale" => s(
            a.fill("Die Datei sagt, welche Dimension die Zeit ist ({samples} Abtastwerte)."),
            "",
        ),
        "layout-time-length" => {
            s(a.fill("Nur diese Dimension ist so lang wie die Zeiten ({samples})."), "")
        }
        "layout-time-rest" => s(
            a.fill("Die anderen Dimensionen sind bekannt; übrig bleibt die Zeit ({samples})."),
            "",
        ),
        "layout-time-longest" => {
            s(a.fill("Die längste Dimension wurde als Zeit genommen ({samples})."), "")
        }
        "layout-axis" => s(format!("{} enthält {}, nach Name und Länge.", a.path(), axis(a)), ""),
        "layout-unit-stated" => {
            s(a.fill("{}: Einheit {unit}, wie die Datei angibt."), "")
        }
        "layout-unit-named" => {
            s(a.fill("{}: Einheit {unit}, nach dem Namen."), "")
        }
        "layout-unit-plausible" => s(
            a.fill("Nichts gibt die Einheit von {} an; angenommen wurde {unit}, die einzige, mit der es ein Scan wird."),
            "Bitte prüfen und in der Anordnung angeben.",
        ),
        "layout-step-stated" => s(a.fill("Das Abtastintervall gibt {} an."), ""),
        "layout-start-stated" => s(a.fill("Den ersten Zeitpunkt gibt {} an."), ""),
        "layout-scale-stated" => {
            s(a.fill("{} sagt, wie viele Volt ein Zählwert ist."), "")
        }
        "layout-packed" => s(
            a.fill("{} ist gepackt: scale_factor und add_offset wurden angewendet."),
            "",
        ),
        "layout-volts-plausible" => s(
            a.fill("Nichts gibt die Einheit von {} an (Werte bis etwa {largest}); angenommen wurden Volt."),
            "Bitte prüfen: jeder Druck hängt davon ab. volts.unit in der Anordnung angeben.",
        ),
        "serpentine-unused" => s(
            "Die Anordnung sagt serpentine, aber die Punkte stehen nicht in Zeilen einer Ebene.",
            "Die Angabe wurde übergangen.",
        ),
        "points-missing" => s(
            a.fill("{points} von {all} Plätzen des Gitters haben keinen Punkt."),
            "Karten und Integrale sind dort interpoliert.",
        ),
        "points-gridded" => s(
            a.fill("Die Positionen liegen bis zu {scatter} neben einem Gitter (bis {tolerance} eines Schritts gelten sie als darauf)."),
            "",
        ),
        "read-in-passes" => s(
            a.fill("Die Zeit ist nicht die schnellste Dimension dieses Felds ({size} MB): die Datei wurde {passes} Mal durchlaufen."),
            "Mit der Zeit als letzter Dimension gespeichert, wird sie schneller gelesen.",
        ),
        _ => return None,
    })
}

pub fn problems(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "saved-no-data" => s(
            "Diese HTML-Datei ist kein gesichertes Blatt: Sie enthält keine Daten eines solchen.",
            "Das Blatt aus der Seite neu sichern, oder Protokoll und Dateien angeben.",
        ),
        "saved-too-long" => s(
            a.fill("Die Daten in diesem gesicherten Blatt sind länger als {limit} MB."),
            "So lang ist kein Blatt dieses Programms; Protokoll und Dateien angeben.",
        ),
        "saved-broken" => s(
            a.fill("Die Daten in diesem gesicherten Blatt sind beschädigt: {found}."),
            "Eine unbeschädigte Kopie nehmen, oder Protokoll und Dateien angeben.",
        ),
        "saved-other-kind" => s(
            a.fill("Die Daten in dieser Datei sind kein Blatt: „{expected}“ war erwartet, „{found}“ steht dort."),
            "Ein Blatt angeben, das diese Seite gesichert hat.",
        ),
        "saved-agrees" => s(a.fill("Alle {count} Größen stimmen mit dem gesicherten Blatt überein."), ""),
        "saved-differs" => s(a.fill("{found} von {count} Größen weichen vom gesicherten Blatt ab:"), ""),
        "saved-quantity" => s(a.fill("{name} ({scan}): gesichert {before}, jetzt {after}."), ""),
        "pick-needed" => s("Das muss bekannt sein, bevor die Datei gelesen werden kann.", ""),
        "pick-belongs" => s("Eine Antwort weiter unten gehört zu dieser: sie wird gebraucht.", ""),
        "pick-columns" => s(
            a.fill("„{found}“ teilt die {points} Punkte nicht in ganze Reihen."),
            "Angeben, wie viele Punkte eine Reihe hat.",
        ),
        "pick-preview" => s(
            a.fill("{seen} von {points} Punkten angesehen, je {samples} Abtastwerte im Abstand von {interval} ns, {duration} µs lang; {across} mm längs x, {up} mm längs y; der lauteste geht von {low} mV bis {high} mV."),
            "",
        ),
        "layout-choose" => s(
            format!(
                "{} lässt sich lesen als: {} (eine von {} Lesarten).",
                a.path(),
                axes(&a.get("axes")),
                a.get("candidates")
            ),
            format!(
                "Trifft das zu, im Protokoll beim Scan eintragen: \"layout\": {}",
                a.whole("snippet")
            ),
        ),
        "layout-incomplete" => s(
            format!(
                "{} sieht nach Zeitverläufen aus ({}), aber etwas fehlt.",
                a.path(),
                axes(&a.get("axes"))
            ),
            format!(
                "Vervollständigen und im Protokoll beim Scan eintragen: \"layout\": {}",
                a.whole("snippet")
            ),
        ),
        "layout-time-guessed" => s(
            a.fill("Keine Zeiten passen zu einer Dimension von {}; genommen wurde die längste ({samples})."),
            "t in den Achsen der Anordnung an die richtige Stelle setzen.",
        ),
        "layout-no-positions" => s(
            a.fill("Keine Koordinaten passen zu den Dimensionen {found} von {}."),
            "x, y oder z in der Anordnung angeben: {\"array\": …, \"unit\": …} oder {\"start\": …, \"step\": …, \"unit\": …}.",
        ),
        "layout-no-time-step" => s(
            "Nichts gibt das Abtastintervall an.",
            "In der Anordnung angeben: \"time\": {\"dt\": …, \"t0\": …, \"unit\": \"ns\"}.",
        ),
        "layout-no-volts-per-count" => s(
            a.fill("{} enthält Zählwerte, aber nichts sagt, wie viele Volt ein Zählwert ist."),
            "In der Anordnung angeben: \"volts\": {\"scale\": …, \"unit\": \"mV\"}.",
        ),
        "layout-not-volts" => s(
            a.fill("{} nennt als Einheit „{found}“, und das ist keine Spannung."),
            "Die Spannungen des Sensors angeben; die Drücke folgen aus seiner Empfindlichkeit.",
        ),
        "layout-unit-missing" => s(
            a.fill("Nichts gibt die Einheit von {} an, und die Werte verraten sie nicht."),
            "Die Einheit in der Anordnung angeben.",
        ),
        "layout-unit-unknown" => s(
            a.fill("Als Einheit von {} steht dort „{found}“, das nicht bekannt ist."),
            "Die Einheit in der Anordnung angeben, etwa mm, us, mV.",
        ),
        "layout-array-missing" => s(
            a.fill("Die Anordnung nennt {}, das die Datei nicht enthält; sie enthält {found}."),
            "Die Anordnung berichtigen oder „focalsheet look“ auf die Datei anwenden.",
        ),
        "layout-axes-count" => s(
            a.fill("Die Anordnung nennt {found} Achsen; {} hat {expected} Dimensionen ({shape})."),
            "Jede Dimension nennen, in der gezeigten Reihenfolge.",
        ),
        "scan-too-many-passes" => s(
            a.fill("Die Zeit ist nicht die schnellste Dimension von {}; das Lesen bräuchte {found} Durchläufe, höchstens {limit} werden gemacht."),
            a.fill("Mit der Zeit als letzter Dimension speichern; im Speicher bräuchte es {megabytes} MB."),
        ),
        "scan-position-twice" => s(
            a.fill("Die Punkte {first} und {second} stehen am selben Ort (x {x}, y {y})."),
            "Wiederholungen längs einer eigenen Dimension speichern, oder als eigene Scans.",
        ),
        "scan-axes-attribute" => s(
            a.fill("Das Attribut axes von {} ist „{found}“; es soll seine {expected} Dimensionen nennen, darunter t."),
            "Die Wörter t, x, y, z, point, level, repeat, gain verwenden, in der Reihenfolge der Dimensionen.",
        ),
        "scan-too-many-points" => s(
            a.fill("Die Zeitverläufe {} gehören zu {found} Punkten; höchstens {limit} werden gelesen."),
            "Die Reihenfolge der Achsen prüfen oder den Scan in mehreren Dateien speichern.",
        ),
        "scan-too-many-scans" => s(
            a.fill("Stufen, Wiederholungen, Messbereiche oder Tiefen von {} ergeben {found} Scans; höchstens {limit} werden gelesen."),
            "In mehreren Dateien speichern.",
        ),
        "scan-levels-missing" => s(
            a.fill("Die {expected} Ansteuerstufen {} fehlen."),
            "In der Einheit ergänzen, die das Protokoll angibt.",
        ),
        "scan-level-unit" => s(
            a.fill("Die Datei gibt ihre Ansteuerstufen in {found} an, das Protokoll in {expected}."),
            "In beiden dieselbe Einheit angeben: Ein Protokoll hat eine Einheit der Stufe.",
        ),
        "scan-ranges-missing" => s(
            a.fill("Die Zeitverläufe haben {expected} Messbereiche, das Protokoll nennt {found}."),
            "Die Messbereiche des Sensors in derselben Reihenfolge angeben.",
        ),
        _ => return None,
    })
}

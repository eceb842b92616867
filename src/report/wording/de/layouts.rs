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
            format!(
                "Die Anordnung des Scans {} passt zu dieser Datei und wurde verwendet.",
                a.get("scan")
            ),
            "",
        ),
        "layout-largest" => s(format!("{} ist das größte Feld seiner Gruppe.", a.path()), ""),
        "layout-named" => s(format!("{} heißt so, wie Zeitverläufe heißen.", a.path()), ""),
        "layout-one-of" => s(
            format!("{} ist eines von mehreren Feldern, die Zeitverläufe sein können.", a.path()),
            "",
        ),
        "layout-time-scale" => s(
            format!(
                "Die Datei sagt, welche Dimension die Zeit ist ({} Abtastwerte).",
                a.get("samples")
            ),
            "",
        ),
        "layout-time-length" => {
            s(format!("Nur diese Dimension ist so lang wie die Zeiten ({}).", a.get("samples")), "")
        }
        "layout-time-rest" => s(
            format!(
                "Die anderen Dimensionen sind bekannt; übrig bleibt die Zeit ({}).",
                a.get("samples")
            ),
            "",
        ),
        "layout-time-longest" => {
            s(format!("Die längste Dimension wurde als Zeit genommen ({}).", a.get("samples")), "")
        }
        "layout-axis" => s(format!("{} enthält {}, nach Name und Länge.", a.path(), axis(a)), ""),
        "layout-unit-stated" => {
            s(format!("{}: Einheit {}, wie die Datei angibt.", a.path(), a.get("unit")), "")
        }
        "layout-unit-named" => {
            s(format!("{}: Einheit {}, nach dem Namen.", a.path(), a.get("unit")), "")
        }
        "layout-unit-plausible" => s(
            format!(
                "Nichts gibt die Einheit von {} an; angenommen wurde {}, die einzige, mit der es ein Scan wird.",
                a.path(),
                a.get("unit")
            ),
            "Bitte prüfen und in der Anordnung angeben.",
        ),
        "layout-step-stated" => s(format!("Das Abtastintervall gibt {} an.", a.path()), ""),
        "layout-start-stated" => s(format!("Den ersten Zeitpunkt gibt {} an.", a.path()), ""),
        "layout-scale-stated" => {
            s(format!("{} sagt, wie viele Volt ein Zählwert ist.", a.path()), "")
        }
        "layout-packed" => s(
            format!("{} ist gepackt: scale_factor und add_offset wurden angewendet.", a.path()),
            "",
        ),
        "layout-volts-plausible" => s(
            format!(
                "Nichts gibt die Einheit von {} an (Werte bis etwa {}); angenommen wurden Volt.",
                a.path(),
                a.get("largest")
            ),
            "Bitte prüfen: jeder Druck hängt davon ab. volts.unit in der Anordnung angeben.",
        ),
        "serpentine-unused" => s(
            "Die Anordnung sagt serpentine, aber die Punkte stehen nicht in Zeilen einer Ebene.",
            "Die Angabe wurde übergangen.",
        ),
        "points-missing" => s(
            format!(
                "{} von {} Plätzen des Gitters haben keinen Punkt.",
                a.get("points"),
                a.get("all")
            ),
            "Karten und Integrale sind dort interpoliert.",
        ),
        "points-gridded" => s(
            format!(
                "Die Positionen liegen bis zu {} neben einem Gitter (bis {} eines Schritts gelten sie als darauf).",
                a.get("scatter"),
                a.get("tolerance")
            ),
            "",
        ),
        "read-in-passes" => s(
            format!(
                "Die Zeit ist nicht die schnellste Dimension dieses Felds ({} MB): die Datei wurde {} Mal durchlaufen.",
                a.get("size"),
                a.get("passes")
            ),
            "Mit der Zeit als letzter Dimension gespeichert, wird sie schneller gelesen.",
        ),
        _ => return None,
    })
}

pub fn problems(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
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
            format!(
                "Keine Zeiten passen zu einer Dimension von {}; genommen wurde die längste ({}).",
                a.path(),
                a.get("samples")
            ),
            "t in den Achsen der Anordnung an die richtige Stelle setzen.",
        ),
        "layout-no-positions" => s(
            format!(
                "Keine Koordinaten passen zu den Dimensionen {} von {}.",
                a.get("found"),
                a.path()
            ),
            "x, y oder z in der Anordnung angeben: {\"array\": …, \"unit\": …} oder {\"start\": …, \"step\": …, \"unit\": …}.",
        ),
        "layout-no-time-step" => s(
            "Nichts gibt das Abtastintervall an.",
            "In der Anordnung angeben: \"time\": {\"dt\": …, \"t0\": …, \"unit\": \"ns\"}.",
        ),
        "layout-no-volts-per-count" => s(
            format!(
                "{} enthält Zählwerte, aber nichts sagt, wie viele Volt ein Zählwert ist.",
                a.path()
            ),
            "In der Anordnung angeben: \"volts\": {\"scale\": …, \"unit\": \"mV\"}.",
        ),
        "layout-not-volts" => s(
            format!(
                "{} nennt als Einheit „{}“, und das ist keine Spannung.",
                a.path(),
                a.get("found")
            ),
            "Die Spannungen des Sensors angeben; die Drücke folgen aus seiner Empfindlichkeit.",
        ),
        "layout-unit-missing" => s(
            format!(
                "Nichts gibt die Einheit von {} an, und die Werte verraten sie nicht.",
                a.path()
            ),
            "Die Einheit in der Anordnung angeben.",
        ),
        "layout-unit-unknown" => s(
            format!(
                "Als Einheit von {} steht dort „{}“, das nicht bekannt ist.",
                a.path(),
                a.get("found")
            ),
            "Die Einheit in der Anordnung angeben, etwa mm, us, mV.",
        ),
        "layout-array-missing" => s(
            format!(
                "Die Anordnung nennt {}, das die Datei nicht enthält; sie enthält {}.",
                a.path(),
                a.get("found")
            ),
            "Die Anordnung berichtigen oder „focalsheet look“ auf die Datei anwenden.",
        ),
        "layout-axes-count" => s(
            format!(
                "Die Anordnung nennt {} Achsen; {} hat {} Dimensionen ({}).",
                a.get("found"),
                a.path(),
                a.get("expected"),
                a.get("shape")
            ),
            "Jede Dimension nennen, in der gezeigten Reihenfolge.",
        ),
        "scan-too-many-passes" => s(
            format!(
                "Die Zeit ist nicht die schnellste Dimension von {}; das Lesen bräuchte {} Durchläufe, höchstens {} werden gemacht.",
                a.path(),
                a.get("found"),
                a.get("limit")
            ),
            format!(
                "Mit der Zeit als letzter Dimension speichern; im Speicher bräuchte es {} MB.",
                a.get("megabytes")
            ),
        ),
        "scan-position-twice" => s(
            format!(
                "Die Punkte {} und {} stehen am selben Ort (x {}, y {}).",
                a.get("first"),
                a.get("second"),
                a.get("x"),
                a.get("y")
            ),
            "Wiederholungen längs einer eigenen Dimension speichern, oder als eigene Scans.",
        ),
        "scan-axes-attribute" => s(
            format!(
                "Das Attribut axes von {} ist „{}“; es soll seine {} Dimensionen nennen, darunter t.",
                a.path(),
                a.get("found"),
                a.get("expected")
            ),
            "Die Wörter t, x, y, z, point, level, repeat, gain verwenden, in der Reihenfolge der Dimensionen.",
        ),
        "scan-too-many-points" => s(
            format!(
                "Die Zeitverläufe {} gehören zu {} Punkten; höchstens {} werden gelesen.",
                a.path(),
                a.get("found"),
                a.get("limit")
            ),
            "Die Reihenfolge der Achsen prüfen oder den Scan in mehreren Dateien speichern.",
        ),
        "scan-too-many-scans" => s(
            format!(
                "Stufen, Wiederholungen, Messbereiche oder Tiefen von {} ergeben {} Scans; höchstens {} werden gelesen.",
                a.path(),
                a.get("found"),
                a.get("limit")
            ),
            "In mehreren Dateien speichern.",
        ),
        "scan-levels-missing" => s(
            format!("Die {} Ansteuerstufen {} fehlen.", a.get("expected"), a.path()),
            "In der Einheit ergänzen, die das Protokoll angibt.",
        ),
        "scan-ranges-missing" => s(
            format!(
                "Die Zeitverläufe haben {} Messbereiche, das Protokoll nennt {}.",
                a.get("expected"),
                a.get("found")
            ),
            "Die Messbereiche des Sensors in derselben Reihenfolge angeben.",
        ),
        _ => return None,
    })
}

//! Problems of NPY and NPZ files.

use super::{Filled, Sentence, s};

const DAMAGED: &str = "Die Datei ist beschädigt; noch einmal kopieren oder speichern.";
const DAMAGED_ARRAY: &str = "Die Datei ist beschädigt; das Feld noch einmal speichern.";
const CUT: &str = "Die Datei ist abgeschnitten; noch einmal kopieren oder speichern.";

pub fn numpy(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    array(code, a).or_else(|| archive(code, a)).or_else(|| members(code, a))
}

fn array(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "npy-short" => s(
            a.fill("{} soll noch {expected} Bytes lang sein, gefunden wurden {found}."),
            CUT,
        ),
        "npy-longer" => s(
            a.fill("Nach den {expected} Bytes von {} folgen weitere ({found} insgesamt), die nicht gelesen werden."),
            "Jedes Feld in einer eigenen Datei speichern, oder alle in einer NPZ-Datei.",
        ),
        "npy-magic" => s(
            a.fill("{} heißt wie ein NPY-Feld, beginnt aber mit {found}."),
            "Das Feld noch einmal speichern.",
        ),
        "npy-version" => s(
            a.fill("{} ist von der NPY-Version {found}; gelesen werden 1 bis 3."),
            "In einer dieser Versionen speichern.",
        ),
        "npy-header-long" => s(
            a.fill("Der Kopf von {} hat {found} Bytes; höchstens {limit} werden gelesen."),
            "Einfache Zahlen ohne benannte Komponenten speichern.",
        ),
        "npy-header" => s(
            a.fill("Der Kopf von {} soll descr, fortran_order und shape angeben, gefunden wurde „{found}“."),
            DAMAGED_ARRAY,
        ),
        "npy-shape" => s(
            a.fill("{} kann die Dimensionen nicht haben, die es angibt ({found})."),
            DAMAGED_ARRAY,
        ),
        "npy-unreadable" => s(
            a.fill("{} lässt sich nicht lesen: {found}."),
            "Vielleicht ist die Datei abgeschnitten oder beschädigt; noch einmal kopieren oder speichern.",
        ),
        "npy-kind-skipped" => s(
            a.fill("{} wurde nicht gelesen: seine Elemente sind „{found}“."),
            "Wird es gebraucht, als Ganzzahlen oder Gleitkommazahlen speichern.",
        ),
        _ => return None,
    })
}

fn archive(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "zip-no-directory" => s(
            a.fill("Am Ende des Archivs ({found} Bytes) wurde kein Verzeichnis gefunden."),
            CUT,
        ),
        "zip-parts" => {
            s("Das Archiv ist eines von mehreren Teilen.", "Als eine einzige Datei speichern.")
        }
        "zip-directory-place" => s(
            a.fill("Das Verzeichnis des Archivs soll bei Byte {expected} enden, sein Abschluss steht aber bei {found}."),
            DAMAGED,
        ),
        "zip-directory" => s(
            a.fill("Das Verzeichnis des Archivs soll {expected} Einträge nennen, gefunden wurden {found}."),
            DAMAGED,
        ),
        "zip-member" => {
            s(a.fill("Bei Byte {found} beginnt kein Eintrag {}."), DAMAGED)
        }
        "zip-member-short" => s(
            a.fill("Der Eintrag {} soll {expected} Bytes haben, gefunden wurden {found}."),
            CUT,
        ),
        "zip-overlap" => s(
            a.fill("Die Einträge {found} und {} überlappen sich."),
            "Die Datei ist beschädigt; noch einmal speichern.",
        ),
        "npz-too-many-members" => s(
            a.fill("Das Verzeichnis des Archivs ist zu groß ({found}; höchstens {limit})."),
            "Den Scan allein speichern.",
        ),
        "npz-no-arrays" => s(
            format!(
                "Das Archiv enthält kein NPY-Feld; seine Einträge sind: {}.",
                super::super::problems::list_or_none(&a.get("found"))
            ),
            "Die Felder in einer NPZ-Datei speichern.",
        ),
        _ => return None,
    })
}

fn members(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "npz-duplicate" => s(
            a.fill("Das Feld {} steht mehr als einmal im Archiv."),
            "Jedem Feld seinen eigenen Namen geben.",
        ),
        "npz-damaged" => s(
            a.fill("Das komprimierte Feld {} lässt sich nicht auspacken: {found}."),
            DAMAGED,
        ),
        "npz-size" => s(
            a.fill("Der Eintrag {} nennt {found} Bytes; was gespeichert ist, ergibt höchstens {expected}."),
            "Die Datei ist beschädigt; noch einmal speichern.",
        ),
        "npz-more-skipped" => s(
            a.fill("{found} weitere Einträge oder Felder wurden nicht gelesen."),
            "Den Scan allein speichern.",
        ),
        "npz-member-skipped" => s(
            a.fill("Der Eintrag {} wurde nicht gelesen: er ist kein NPY-Feld."),
            "Nichts ist zu tun, sofern er nicht zum Scan gehört.",
        ),
        "npz-method" => s(
            a.fill("Der Eintrag {} ist auf eine Weise komprimiert, die nicht gelesen wird (Verfahren {found})."),
            "Unkomprimiert oder mit deflate speichern (Verfahren 0 und 8).",
        ),
        "npz-encrypted" => {
            s(a.fill("Der Eintrag {} ist verschlüsselt."), "Ohne Kennwort speichern.")
        }
        _ => return None,
    })
}

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
            format!(
                "{} soll noch {} Bytes lang sein, gefunden wurden {}.",
                a.path(),
                a.get("expected"),
                a.get("found")
            ),
            CUT,
        ),
        "npy-longer" => s(
            format!(
                "Nach den {} Bytes von {} folgen weitere ({} insgesamt), die nicht gelesen werden.",
                a.get("expected"),
                a.path(),
                a.get("found")
            ),
            "Jedes Feld in einer eigenen Datei speichern, oder alle in einer NPZ-Datei.",
        ),
        "npy-magic" => s(
            format!("{} heißt wie ein NPY-Feld, beginnt aber mit {}.", a.path(), a.get("found")),
            "Das Feld noch einmal speichern.",
        ),
        "npy-version" => s(
            format!(
                "{} ist von der NPY-Version {}; gelesen werden 1 bis 3.",
                a.path(),
                a.get("found")
            ),
            "In einer dieser Versionen speichern.",
        ),
        "npy-header-long" => s(
            format!(
                "Der Kopf von {} hat {} Bytes; höchstens {} werden gelesen.",
                a.path(),
                a.get("found"),
                a.get("limit")
            ),
            "Einfache Zahlen ohne benannte Komponenten speichern.",
        ),
        "npy-header" => s(
            format!(
                "Der Kopf von {} soll descr, fortran_order und shape angeben, gefunden wurde „{}“.",
                a.path(),
                a.get("found")
            ),
            DAMAGED_ARRAY,
        ),
        "npy-shape" => s(
            format!(
                "{} kann die Dimensionen nicht haben, die es angibt ({}).",
                a.path(),
                a.get("found")
            ),
            DAMAGED_ARRAY,
        ),
        "npy-unreadable" => s(
            format!("{} lässt sich nicht lesen: {}.", a.path(), a.get("found")),
            "Vielleicht ist die Datei abgeschnitten oder beschädigt; noch einmal kopieren oder speichern.",
        ),
        "npy-kind-skipped" => s(
            format!("{} wurde nicht gelesen: seine Elemente sind „{}“.", a.path(), a.get("found")),
            "Wird es gebraucht, als Ganzzahlen oder Gleitkommazahlen speichern.",
        ),
        _ => return None,
    })
}

fn archive(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "zip-no-directory" => s(
            format!(
                "Am Ende des Archivs ({} Bytes) wurde kein Verzeichnis gefunden.",
                a.get("found")
            ),
            CUT,
        ),
        "zip-parts" => {
            s("Das Archiv ist eines von mehreren Teilen.", "Als eine einzige Datei speichern.")
        }
        "zip-directory-place" => s(
            format!(
                "Das Verzeichnis des Archivs soll bei Byte {} enden, sein Abschluss steht aber bei {}.",
                a.get("expected"),
                a.get("found")
            ),
            DAMAGED,
        ),
        "zip-directory" => s(
            format!(
                "Das Verzeichnis des Archivs soll {} Einträge nennen, gefunden wurden {}.",
                a.get("expected"),
                a.get("found")
            ),
            DAMAGED,
        ),
        "zip-member" => {
            s(format!("Bei Byte {} beginnt kein Eintrag {}.", a.get("found"), a.path()), DAMAGED)
        }
        "zip-member-short" => s(
            format!(
                "Der Eintrag {} soll {} Bytes haben, gefunden wurden {}.",
                a.path(),
                a.get("expected"),
                a.get("found")
            ),
            CUT,
        ),
        "zip-overlap" => s(
            format!("Die Einträge {} und {} überlappen sich.", a.get("found"), a.path()),
            "Die Datei ist beschädigt; noch einmal speichern.",
        ),
        "npz-too-many-members" => s(
            format!(
                "Das Verzeichnis des Archivs ist zu groß ({}; höchstens {}).",
                a.get("found"),
                a.get("limit")
            ),
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
            format!("Das Feld {} steht mehr als einmal im Archiv.", a.path()),
            "Jedem Feld seinen eigenen Namen geben.",
        ),
        "npz-damaged" => s(
            format!(
                "Das komprimierte Feld {} lässt sich nicht auspacken: {}.",
                a.path(),
                a.get("found")
            ),
            DAMAGED,
        ),
        "npz-size" => s(
            format!(
                "Der Eintrag {} nennt {} Bytes; was gespeichert ist, ergibt höchstens {}.",
                a.path(),
                a.get("found"),
                a.get("expected")
            ),
            "Die Datei ist beschädigt; noch einmal speichern.",
        ),
        "npz-more-skipped" => s(
            format!("{} weitere Einträge oder Felder wurden nicht gelesen.", a.get("found")),
            "Den Scan allein speichern.",
        ),
        "npz-member-skipped" => s(
            format!("Der Eintrag {} wurde nicht gelesen: er ist kein NPY-Feld.", a.path()),
            "Nichts ist zu tun, sofern er nicht zum Scan gehört.",
        ),
        "npz-method" => s(
            format!(
                "Der Eintrag {} ist auf eine Weise komprimiert, die nicht gelesen wird (Verfahren {}).",
                a.path(),
                a.get("found")
            ),
            "Unkomprimiert oder mit deflate speichern (Verfahren 0 und 8).",
        ),
        "npz-encrypted" => {
            s(format!("Der Eintrag {} ist verschlüsselt.", a.path()), "Ohne Kennwort speichern.")
        }
        _ => return None,
    })
}

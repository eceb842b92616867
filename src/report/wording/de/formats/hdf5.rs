//! Problems of HDF5 files.

use super::{Filled, Sentence, s};

pub fn hdf5(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "hdf5-broken" => s(
            format!("Die HDF5-Datei lässt sich bei {} nicht lesen: {}.", a.path(), a.get("found")),
            "Vielleicht ist sie abgeschnitten oder beschädigt; noch einmal kopieren oder speichern.",
        ),
        "hdf5-filter" => s(
            format!(
                "{} ist auf eine Weise komprimiert, die nicht gelesen wird: {}.",
                a.path(),
                a.get("found")
            ),
            "Unkomprimiert oder mit gzip (deflate) speichern.",
        ),
        "hdf5-short" => s(
            format!(
                "Die Daten von {} reichen bis Byte {}, vorhanden sind aber nur {} Bytes.",
                a.path(),
                a.get("expected"),
                a.get("found")
            ),
            "Die Datei wurde abgeschnitten oder vom schreibenden Programm nicht geschlossen; noch einmal kopieren oder speichern.",
        ),
        "hdf5-elsewhere" if a.has("found") => s(
            format!("{} steht für etwas in einer anderen Datei: {}.", a.path(), a.get("found")),
            "Es wird übergangen; wird es gebraucht, alles in einer Datei speichern.",
        ),
        "hdf5-elsewhere" => s(
            format!("Die Daten von {} liegen in einer anderen Datei.", a.path()),
            "Das Feld in der HDF5-Datei selbst speichern.",
        ),
        "hdf5-virtual" => s(
            format!("{} ist ein virtueller Datensatz, aus anderen zusammengesetzt.", a.path()),
            "Eine Kopie davon als eigenes Feld speichern.",
        ),
        "hdf5-chunk-too-large" => s(
            format!(
                "{} ist in Stücken von {} Bytes gespeichert; höchstens {} werden auf einmal gelesen.",
                a.path(),
                a.get("found"),
                a.get("limit")
            ),
            "In kleineren Stücken speichern, zum Beispiel von je einigen Zeitverläufen.",
        ),
        "hdf5-not-numbers" => s(
            format!("{} enthält {}, keine Zahlen; es wird übergangen.", a.path(), a.get("found")),
            "Wird es gebraucht, als Ganzzahlen oder Gleitkommazahlen speichern.",
        ),
        "hdf5-cells" => s(
            format!("{} enthält Zellen oder Objekte; es wird übergangen.", a.path()),
            "Wird es gebraucht, den Inhalt als Felder von Zahlen oder als Zeichen speichern.",
        ),
        "hdf5-link-lost" => s(
            format!("Der Verweis {} führt ins Leere: {}.", a.path(), a.get("found")),
            "Er wird übergangen; prüfen, ob etwas umbenannt oder gelöscht wurde.",
        ),
        "box-too-large" => s(
            format!(
                "{} Bytes von {} sollten auf einmal gelesen werden; die Grenze ist {}.",
                a.get("found"),
                a.path(),
                a.get("limit")
            ),
            "Prüfen, ob das richtige Feld diesen Namen hat und seine Form stimmt.",
        ),
        _ => return None,
    })
}

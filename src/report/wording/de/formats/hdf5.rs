//! Problems of HDF5 files.

use super::{Filled, Sentence, s};

pub fn hdf5(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "hdf5-broken" => s(
            a.fill("Die HDF5-Datei lässt sich bei {} nicht lesen: {found}."),
            "Vielleicht ist sie abgeschnitten oder beschädigt; noch einmal kopieren oder speichern.",
        ),
        "hdf5-filter" => s(
            a.fill("{} ist auf eine Weise komprimiert, die nicht gelesen wird: {found}."),
            "Unkomprimiert oder mit gzip (deflate) speichern.",
        ),
        "hdf5-short" => s(
            a.fill("Die Daten von {} reichen bis Byte {expected}, vorhanden sind aber nur {found} Bytes."),
            "Die Datei wurde abgeschnitten oder vom schreibenden Programm nicht geschlossen; noch einmal kopieren oder speichern.",
        ),
        "hdf5-elsewhere" if a.has("found") => s(
            a.fill("{} steht für etwas in einer anderen Datei: {found}."),
            "Es wird übergangen; wird es gebraucht, alles in einer Datei speichern.",
        ),
        "hdf5-elsewhere" => s(
            a.fill("Die Daten von {} liegen in einer anderen Datei."),
            "Das Feld in der HDF5-Datei selbst speichern.",
        ),
        "hdf5-virtual" => s(
            a.fill("{} ist ein virtueller Datensatz, aus anderen zusammengesetzt."),
            "Eine Kopie davon als eigenes Feld speichern.",
        ),
        "hdf5-chunk-too-large" => s(
            a.fill("{} ist in Stücken von {found} Bytes gespeichert; höchstens {limit} werden auf einmal gelesen."),
            "In kleineren Stücken speichern, zum Beispiel von je einigen Zeitverläufen.",
        ),
        "hdf5-not-numbers" => s(
            a.fill("{} enthält {found}, keine Zahlen; es wird übergangen."),
            "Wird es gebraucht, als Ganzzahlen oder Gleitkommazahlen speichern.",
        ),
        "hdf5-cells" => s(
            a.fill("{} enthält Zellen oder Objekte; es wird übergangen."),
            "Wird es gebraucht, den Inhalt als Felder von Zahlen oder als Zeichen speichern.",
        ),
        "hdf5-link-lost" => s(
            a.fill("Der Verweis {} führt ins Leere: {found}."),
            "Er wird übergangen; prüfen, ob etwas umbenannt oder gelöscht wurde.",
        ),
        "box-too-large" => s(
            a.fill("{found} Bytes von {} sollten auf einmal gelesen werden; die Grenze ist {limit}."),
            "Prüfen, ob das richtige Feld diesen Namen hat und seine Form stimmt.",
        ),
        _ => return None,
    })
}

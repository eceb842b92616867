//! Words of the page around the sheet.

/// Words by key.
pub const WORDS: &[(&str, &str)] = &[
    ("lang", "de"),
    ("title", "Focalsheet"),
    ("tray", "Dateien, Fortschritt und Feststellungen"),
    ("paper", "Das Blatt"),
    ("files", "Dateien"),
    ("choose", "Dateien auswählen"),
    ("example", "Beispiel ausprobieren"),
    ("remove", "entfernen"),
    ("progress", "Fortschritt"),
    ("reading", "Die Dateien werden gelesen …"),
    ("finishing", "Das Blatt wird ausgefüllt …"),
    ("done", "Das Blatt ist ausgefüllt."),
    ("cancel", "abbrechen"),
    ("cancelled", "Abgebrochen. Die Dateien sind noch da."),
    ("again", "noch einmal starten"),
    ("findings", "Feststellungen"),
    ("no_findings", "Nichts anzumerken."),
    ("actions", "Drucken und sichern"),
    ("hashing", "Die Prüfsummen der Dateien werden gebildet; Drucken und Sichern warten darauf."),
    ("print", "drucken"),
    ("save_sheet", "Blatt sichern"),
    ("save_numbers", "Zahlen sichern:"),
    ("save_json", "JSON"),
    ("save_csv", "CSV"),
    ("save_record", "Protokoll sichern"),
    ("start_over", "von vorn beginnen"),
    ("nothing_sent", "Alles bleibt auf diesem Rechner; nichts wird verschickt."),
    ("refused", "Das Blatt lässt sich noch nicht ausfüllen"),
    ("trapped", "Die Rechnung brach zweimal an derselben Stelle ab."),
    (
        "trapped_hint",
        "Die Dateien sind noch da. Die zuletzt hinzugefügte entfernen oder von vorn beginnen; mit anderen Dateien geht es wie zuvor.",
    ),
    ("unreadable", "Diese Datei ist nicht mehr lesbar."),
    (
        "unreadable_hint",
        "Sie wurde nach dem Ablegen verschoben oder geändert. Bitte noch einmal ablegen.",
    ),
    (
        "drop",
        "Die Scandateien irgendwo auf dieser Seite ablegen oder auswählen, mit ihrem Protokoll, falls es eines gibt.",
    ),
    ("outline_title", "Messblatt"),
];

/// Headings of the empty sheet, with what each will hold.
pub const OUTLINE: &[(&str, &str)] = &[
    ("Das Feld auf einen Blick", "Was der Kopf in Wasser abgibt"),
    ("Bedingungen und Geräte", "Kopf, Wasser, Ansteuerung, Sensor"),
    ("Kalibrierung", "Von Volt zu Pascal"),
    ("Das Feld", "Karten, Profile, die Achse"),
    ("Die Welle", "Zeitverlauf und Spektrum am Maximum"),
    ("Messgrößen", "Wert, Fenster, Verfahren, Quelle"),
    ("Eignung der Daten", "Was über die Daten zu wissen ist"),
    ("Verfahren und Herkunft", "Wie gerechnet wurde; Dateien, Prüfsummen, Unterschriften"),
];

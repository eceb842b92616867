//! Words of the page around the sheet.

/// Words by key.
pub const WORDS: &[(&str, &str)] = &[
    ("lang", "en"),
    ("title", "Focalsheet"),
    ("other_language", "Deutsch"),
    ("tray", "Files, progress and findings"),
    ("paper", "The sheet"),
    ("files", "Files"),
    ("choose", "choose files"),
    ("example", "try the example"),
    ("remove", "remove"),
    ("progress", "Progress"),
    ("reading", "Reading what the files hold …"),
    ("finishing", "Filling in the sheet …"),
    ("done", "The sheet is filled in."),
    ("cancel", "cancel"),
    ("cancelled", "Cancelled. The files are still here."),
    ("again", "start again"),
    ("findings", "Findings"),
    ("no_findings", "Nothing to remark."),
    ("actions", "Print and save"),
    ("hashing", "Taking the files’ checksums; printing and saving wait for them."),
    ("print", "print"),
    ("save_sheet", "save the sheet"),
    ("save_numbers", "save the numbers:"),
    ("save_json", "JSON"),
    ("save_csv", "CSV"),
    ("save_record", "save the record"),
    ("start_over", "start over"),
    ("nothing_sent", "Everything stays on this computer; nothing is sent."),
    ("refused", "The sheet cannot be filled in yet"),
    ("trapped", "The computation broke off twice at the same place."),
    (
        "trapped_hint",
        "The files are still here. Remove the one added last, or start over; other files work as before.",
    ),
    ("unreadable", "This file can no longer be read."),
    ("unreadable_hint", "It was moved or changed after it was dropped. Drop it again."),
    (
        "drop",
        "Drop the scan files anywhere on this page, or choose them, with their record if there is one.",
    ),
    ("outline_title", "Field sheet"),
];

/// Headings of the empty sheet, with what each will hold.
pub const OUTLINE: &[(&str, &str)] = &[
    ("The field at a glance", "What the head delivers in water"),
    ("Conditions and instruments", "Head, water, drive, sensor"),
    ("Calibration", "From volts to pascals"),
    ("The field", "Maps, profiles, the axis"),
    ("The wave", "Waveform and spectrum at the peak"),
    ("Quantities", "Value, window, method, source"),
    ("Fitness of the data", "What to know about the data"),
    ("Method and provenance", "How it was computed; files, checksums, signatures"),
];

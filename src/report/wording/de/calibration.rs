//! Sentences of the section on calibration.

/// What was compared to transfer a calibration. Known: feature, frequency, reference, cutoff; and, where
/// they apply, after, drift, size.
pub fn transfer_story(args: &[(&str, String)]) -> String {
    let get = |name: &str| args.iter().find(|(n, _)| *n == name).map(|(_, text)| text.as_str());
    let said = |name: &str| get(name).unwrap_or_default();
    let mut out = format!(
        "Dieselbe kleine Quelle wurde mit einem kalibrierten Sensor (Scan {}) und in jedem Messbereich mit diesem Sensor gemessen; verglichen wurde: {} bei {}, beides nach einem Tiefpass ab {}.",
        said("reference"),
        said("feature"),
        said("frequency"),
        said("cutoff")
    );
    match (get("after"), get("drift")) {
        (Some(after), Some(drift)) => out.push_str(&format!(
            " Eine zweite Messung mit dem kalibrierten Sensor (Scan {after}) wich um {drift} ab; verwendet wurde der Mittelwert beider."
        )),
        _ => out.push_str(
            " Mit dem kalibrierten Sensor wurde sie einmal gemessen: eine Drift bliebe unbemerkt.",
        ),
    }
    match get("size") {
        Some(size) => out.push_str(&format!(
            " Die beiden Sensoren mitteln über ungleich große Flächen: die Spannungen unterscheiden sich deshalb um {size}; das ist korrigiert."
        )),
        None => out.push_str(" Eine ungleiche Größe der beiden Sensoren wurde nicht korrigiert."),
    }
    out.push_str(" Der Faktor gilt für alle Frequenzen.");
    out
}

//! `sheet.json`: the sheet as data, SI and unrounded.

use crate::base::error::{Problem, Problems};
use crate::base::sheet::Sheet;

use super::finite::not_finite_paths;

/// The text of `sheet.json`: indented, keys in the order of the types, one line feed at the end.
/// The same sheet gives the same bytes.
///
/// # Errors
/// `number-not-finite` with the path of every NaN or infinity (JSON would carry `null` in its
/// place); `sheet-not-writable` with the writer's own words in `detail`.
///
/// # References
/// RFC 8259, section 6 (numbers).
pub fn sheet_json(sheet: &Sheet) -> Result<String, Problems> {
    let paths = not_finite_paths(sheet).map_err(|detail| not_writable(&detail))?;
    if !paths.is_empty() {
        return Err(paths
            .into_iter()
            .map(|path| Problem::new("number-not-finite").at(path))
            .collect());
    }
    let mut text =
        serde_json::to_string_pretty(sheet).map_err(|error| not_writable(&error.to_string()))?;
    text.push('\n');
    Ok(text)
}

fn not_writable(detail: &str) -> Problems {
    vec![Problem::new("sheet-not-writable").with("detail", detail)]
}

#[cfg(test)]
mod tests {
    use super::super::sample::sheet;
    use super::*;

    #[test]
    fn reads_back_as_the_same_sheet() {
        let sheet = sheet();
        let text = sheet_json(&sheet).unwrap();
        assert_eq!(serde_json::from_str::<Sheet>(&text).unwrap(), sheet);
        assert_eq!(text, sheet_json(&sheet.clone()).unwrap());
        assert!(text.ends_with("}\n"));
        assert!(text.starts_with("{\n  \"schema\": \"focalsheet-sheet/1\","));
    }

    #[test]
    fn refuses_what_is_not_finite_and_says_where() {
        let mut sheet = sheet();
        sheet.quantities[1].u_expanded = Some(f64::NAN);
        sheet.conditions.density_kg_per_m3 = f64::INFINITY;
        sheet.quantities[0].sensitivities.insert("calibration".to_owned(), f64::NEG_INFINITY);
        let problems = sheet_json(&sheet).unwrap_err();
        let places: Vec<_> =
            problems.iter().map(|problem| problem.place.path.as_deref().unwrap()).collect();
        assert_eq!(
            places,
            [
                "conditions.density_kg_per_m3",
                "quantities[0].sensitivities.calibration",
                "quantities[1].u_expanded",
            ]
        );
        assert!(problems.iter().all(|problem| problem.code == "number-not-finite"));
    }
}

//! Layouts that were proposed and used, written into the record.

use std::collections::BTreeMap;

use serde_json::Value;

use super::Layout;

/// Puts layouts into the scans of a record as typed; what is typed already stays.
pub fn with_layouts(record: &mut Value, layouts: &BTreeMap<usize, Layout>) {
    let Some(scans) = record.get_mut("scans").and_then(Value::as_array_mut) else { return };
    for (index, layout) in layouts {
        if let Some(scan) = scans.get_mut(*index).and_then(Value::as_object_mut)
            && let Ok(layout) = serde_json::to_value(layout)
        {
            scan.entry("layout").or_insert(layout);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_used_layout_is_kept_and_a_typed_one_stays() {
        let mut record = serde_json::json!({
            "scans": [{"id": "a"}, {"id": "b", "layout": {"waveforms": "/w", "axes": ["t"]}}]
        });
        let used = Layout { waveforms: "/data".to_owned(), ..Layout::default() };
        with_layouts(&mut record, &BTreeMap::from([(0, used.clone()), (1, used)]));
        assert_eq!(record["scans"][0]["layout"]["waveforms"], "/data");
        assert_eq!(record["scans"][1]["layout"]["waveforms"], "/w");
    }
}

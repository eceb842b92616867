//! All keys that a record knows, to suggest the one that was meant.

use std::sync::LazyLock;

use serde_json::Value;

use super::nearest::{distance, nearest};
use super::path::key_below;
use super::schema::DOCUMENTED;
use super::shape::Shapes;

/// All keys of the documented schema.
pub(super) static KNOWN: LazyLock<KnownKeys<'static>> =
    LazyLock::new(|| KnownKeys::of(Shapes::new(&DOCUMENTED)));

/// A key with its path, lists as `[]`: `scans[].role`.
#[derive(Debug, Clone, PartialEq)]
struct KnownKey<'s> {
    key: &'s str,
    path: String,
}

/// All keys of a schema.
#[derive(Debug)]
pub(super) struct KnownKeys<'s> {
    keys: Vec<KnownKey<'s>>,
}

/// What was probably meant by an unknown key.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Meant {
    /// A key of the same object, or the path of the one key elsewhere that fits.
    One(String),
    /// Paths of several keys elsewhere with exactly this name.
    OneOf(Vec<String>),
    Unclear,
}

impl<'s> KnownKeys<'s> {
    fn of(shapes: Shapes<'s>) -> Self {
        let mut known = Self { keys: Vec::new() };
        known.collect(shapes, shapes.root(), "", &mut Vec::new());
        known
    }

    /// Paths of all keys, lists as `[]`.
    #[cfg(test)]
    pub(super) fn paths(&self) -> impl Iterator<Item = &str> {
        self.keys.iter().map(|known| known.path.as_str())
    }

    /// Collects the keys below a schema; one that is already open is not entered again.
    fn collect(
        &mut self,
        shapes: Shapes<'s>,
        schema: &'s Value,
        path: &str,
        open: &mut Vec<*const Value>,
    ) {
        let schema = shapes.resolve(schema);
        let id = std::ptr::from_ref(schema);
        if open.contains(&id) {
            return;
        }
        open.push(id);
        for alternative in shapes.alternatives(schema).into_iter().flatten() {
            self.collect(shapes, alternative, path, open);
        }
        if let Some(items) = schema.get("items") {
            self.collect(shapes, items, &format!("{path}[]"), open);
        }
        for (key, property) in
            schema.get("properties").and_then(Value::as_object).into_iter().flatten()
        {
            let known = KnownKey { key, path: key_below(path, key) };
            let below = known.path.clone();
            if !self.keys.contains(&known) {
                self.keys.push(known);
            }
            self.collect(shapes, property, &below, open);
        }
        open.pop();
    }

    /// What an unknown key probably meant: a key of the same object with at most one typing error;
    /// else a key of exactly this name elsewhere; else a nearer miss among the same object's keys,
    /// then among all.
    pub(super) fn meant<'a>(
        &self,
        typed: &str,
        siblings: impl IntoIterator<Item = &'a str>,
    ) -> Meant {
        let sibling = nearest(typed, siblings);
        if let Some((key, 0 | 1)) = sibling {
            return Meant::One(key.to_owned());
        }
        let mut same: Vec<String> =
            self.keys.iter().filter(|known| known.key == typed).map(|k| k.path.clone()).collect();
        match (same.len(), sibling) {
            (0, Some((key, _))) => return Meant::One(key.to_owned()),
            (0, None) => {}
            (1, _) => return Meant::One(same.remove(0)),
            (2.., _) => return Meant::OneOf(same),
        }
        let far = self.keys.iter().filter_map(|known| Some((distance(typed, known.key)?, known)));
        let mut far: Vec<_> = far.filter(|(errors, _)| *errors <= 2).collect();
        far.sort_by_key(|(errors, _)| *errors);
        match far.as_slice() {
            [(_, only)] => Meant::One(only.path.clone()),
            [(first, nearest), (second, _), ..] if first < second => {
                Meant::One(nearest.path.clone())
            }
            _ => Meant::Unclear,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_key_meant_is_found_here_or_elsewhere() {
        let meant = |typed: &str| KNOWN.meant(typed, ["frequency_hz", "cycles", "level"]);
        let one = |path: &str| Meant::One(path.to_owned());
        assert_eq!(meant("frequency"), one("frequency_hz"));
        assert_eq!(meant("temperature_c"), one("water.temperature_c"));
        assert_eq!(meant("role"), one("scans[].role"));
        assert_eq!(meant("oxygen"), one("water.oxygen_mg_per_l"));
        assert_eq!(meant("burst_s"), one("exposure.burst_s"));
        assert_eq!(
            meant("full_scale_v"),
            Meant::OneOf(vec![
                "sensor.ranges[].full_scale_v".to_owned(),
                "sensor.full_scale_v".to_owned(),
            ])
        );
        assert_eq!(meant("colour"), Meant::Unclear);
    }

    #[test]
    fn every_section_is_indexed() {
        let has = |path: &str| KNOWN.keys.iter().any(|key| key.path == path);
        for path in [
            "title",
            "device.steering_m",
            "sensor.ranges[].response.v_per_pa",
            "sensor.response.reference_response",
            "scans[].layout.time.dt",
            "scans[].acquisition.motion",
            "stated[].tolerance.lower",
            "analysis.lowpass.cutoff_hz",
        ] {
            assert!(has(path), "{path}");
        }
    }
}

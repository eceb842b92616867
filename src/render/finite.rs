//! Finds numbers that are not finite in anything that can be serialised.
//!
//! JSON has no such numbers, and the JSON writer puts `null` in their place without a word. This
//! serialiser writes nothing: it walks a value and notes the path of every NaN and infinity.
//!
//! # References
//! RFC 8259, section 6: "Numeric values that cannot be represented in the grammar below (such as
//! Infinity and NaN) are not permitted."

use std::fmt;

use serde::ser::{self, Serialize};

/// Paths of all numbers that are not finite, in the order of serialisation, for example
/// `quantities[3].u_expanded`.
///
/// # Errors
/// The message of a value that refuses to be serialised.
pub fn not_finite_paths<T: Serialize + ?Sized>(value: &T) -> Result<Vec<String>, String> {
    let mut walk = Walk { path: String::new(), found: Vec::new(), marks: Vec::new() };
    value.serialize(&mut walk).map_err(|refusal| refusal.0)?;
    Ok(walk.found)
}

/// The walk: where it is, and what it has found.
struct Walk {
    path: String,
    found: Vec<String>,
    /// One entry per open compound: length of the path outside it, and the next element's index.
    marks: Vec<(usize, usize)>,
}

impl Walk {
    fn open(&mut self) {
        self.marks.push((self.path.len(), 0));
    }

    /// Leaves the last member's path and names the next one.
    fn name(&mut self, name: &str) {
        if let Some((outside, _)) = self.marks.last() {
            self.path.truncate(*outside);
        }
        if !self.path.is_empty() {
            self.path.push('.');
        }
        self.path.push_str(name);
    }

    /// Leaves the last element's path and numbers the next one.
    fn number(&mut self) {
        if let Some((outside, index)) = self.marks.last_mut() {
            self.path.truncate(*outside);
            self.path.push_str(&format!("[{index}]"));
            *index += 1;
        }
    }

    fn close(&mut self) {
        if let Some((outside, _)) = self.marks.pop() {
            self.path.truncate(outside);
        }
    }

    fn check(&mut self, finite: bool) {
        if !finite {
            self.found.push(self.path.clone());
        }
    }
}

/// A refusal of the value itself to be serialised.
#[derive(Debug)]
struct Refusal(String);

impl fmt::Display for Refusal {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.0)
    }
}

impl std::error::Error for Refusal {}

impl ser::Error for Refusal {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self(message.to_string())
    }
}

type Step = Result<(), Refusal>;

/// Scalars that cannot fail to be finite.
macro_rules! passes {
    ($($method:ident: $kind:ty),* $(,)?) => {
        $(fn $method(self, _value: $kind) -> Step { Ok(()) })*
    };
}

impl ser::Serializer for &mut Walk {
    type Ok = ();
    type Error = Refusal;
    type SerializeSeq = Self;
    type SerializeTuple = Self;
    type SerializeTupleStruct = Self;
    type SerializeTupleVariant = Self;
    type SerializeMap = Self;
    type SerializeStruct = Self;
    type SerializeStructVariant = Self;

    passes! {
        serialize_bool: bool,
        serialize_i8: i8, serialize_i16: i16, serialize_i32: i32, serialize_i64: i64,
        serialize_i128: i128,
        serialize_u8: u8, serialize_u16: u16, serialize_u32: u32, serialize_u64: u64,
        serialize_u128: u128,
        serialize_char: char, serialize_str: &str, serialize_bytes: &[u8],
        serialize_unit_struct: &'static str,
    }

    fn serialize_f32(self, value: f32) -> Step {
        self.check(value.is_finite());
        Ok(())
    }
    fn serialize_f64(self, value: f64) -> Step {
        self.check(value.is_finite());
        Ok(())
    }
    fn serialize_none(self) -> Step {
        Ok(())
    }
    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Step {
        value.serialize(self)
    }
    fn serialize_unit(self) -> Step {
        Ok(())
    }
    fn serialize_unit_variant(
        self,
        _name: &'static str,
        _index: u32,
        _variant: &'static str,
    ) -> Step {
        Ok(())
    }
    fn serialize_newtype_struct<T: Serialize + ?Sized>(
        self,
        _name: &'static str,
        value: &T,
    ) -> Step {
        value.serialize(self)
    }
    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _name: &'static str,
        _index: u32,
        variant: &'static str,
        value: &T,
    ) -> Step {
        self.open();
        self.name(variant);
        value.serialize(&mut *self)?;
        self.close();
        Ok(())
    }
    fn serialize_seq(self, _len: Option<usize>) -> Result<Self, Refusal> {
        self.open();
        Ok(self)
    }
    fn serialize_tuple(self, _len: usize) -> Result<Self, Refusal> {
        self.open();
        Ok(self)
    }
    fn serialize_tuple_struct(self, _name: &'static str, _len: usize) -> Result<Self, Refusal> {
        self.open();
        Ok(self)
    }
    fn serialize_tuple_variant(
        self,
        _name: &'static str,
        _index: u32,
        variant: &'static str,
        _len: usize,
    ) -> Result<Self, Refusal> {
        self.open();
        self.name(variant);
        self.open();
        Ok(self)
    }
    fn serialize_map(self, _len: Option<usize>) -> Result<Self, Refusal> {
        self.open();
        Ok(self)
    }
    fn serialize_struct(self, _name: &'static str, _len: usize) -> Result<Self, Refusal> {
        self.open();
        Ok(self)
    }
    fn serialize_struct_variant(
        self,
        _name: &'static str,
        _index: u32,
        variant: &'static str,
        _len: usize,
    ) -> Result<Self, Refusal> {
        self.open();
        self.name(variant);
        self.open();
        Ok(self)
    }
}

/// Compounds whose members have no names: `[0]`, `[1]`, …
macro_rules! numbered {
    ($($part:ident: $method:ident, closes $levels:literal);* $(;)?) => {
        $(impl ser::$part for &mut Walk {
            type Ok = ();
            type Error = Refusal;
            fn $method<T: Serialize + ?Sized>(&mut self, value: &T) -> Step {
                self.number();
                value.serialize(&mut **self)
            }
            fn end(self) -> Step {
                for _ in 0..$levels {
                    self.close();
                }
                Ok(())
            }
        })*
    };
}

numbered! {
    SerializeSeq: serialize_element, closes 1;
    SerializeTuple: serialize_element, closes 1;
    SerializeTupleStruct: serialize_field, closes 1;
    SerializeTupleVariant: serialize_field, closes 2;
}

/// Compounds whose members are fields.
macro_rules! named {
    ($($part:ident, closes $levels:literal);* $(;)?) => {
        $(impl ser::$part for &mut Walk {
            type Ok = ();
            type Error = Refusal;
            fn serialize_field<T: Serialize + ?Sized>(&mut self, key: &'static str, value: &T) -> Step {
                self.name(key);
                value.serialize(&mut **self)
            }
            fn end(self) -> Step {
                for _ in 0..$levels {
                    self.close();
                }
                Ok(())
            }
        })*
    };
}

named! {
    SerializeStruct, closes 1;
    SerializeStructVariant, closes 2;
}

impl ser::SerializeMap for &mut Walk {
    type Ok = ();
    type Error = Refusal;
    fn serialize_key<T: Serialize + ?Sized>(&mut self, key: &T) -> Step {
        let key = serde_json::to_value(key).map_err(|error| Refusal(error.to_string()))?;
        match key {
            serde_json::Value::String(text) => self.name(&text),
            other => self.name(&other.to_string()),
        }
        Ok(())
    }
    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Step {
        value.serialize(&mut **self)
    }
    fn end(self) -> Step {
        self.close();
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use serde::Serialize;

    use super::*;

    #[derive(Serialize)]
    enum Kind {
        One(f64),
        Two(f64, f64),
        Named { a: f64 },
        Bare,
    }

    #[derive(Serialize)]
    struct Nested {
        list: Vec<Option<f64>>,
        map: BTreeMap<String, f64>,
        pair: (f32, f64),
        kinds: Vec<Kind>,
        inner: Inner,
        last: f64,
    }

    #[derive(Serialize)]
    struct Inner {
        #[serde(skip_serializing_if = "Option::is_none")]
        skipped: Option<f64>,
        deep: Vec<Vec<f64>>,
    }

    #[test]
    fn names_every_place() {
        let value = Nested {
            list: vec![Some(1.0), None, Some(f64::NAN)],
            map: BTreeMap::from([("a".to_owned(), f64::INFINITY), ("b".to_owned(), 2.0)]),
            pair: (f32::NAN, 0.0),
            kinds: vec![
                Kind::One(f64::NAN),
                Kind::Two(0.0, f64::NEG_INFINITY),
                Kind::Named { a: f64::NAN },
                Kind::Bare,
            ],
            inner: Inner { skipped: None, deep: vec![vec![], vec![0.0, f64::NAN]] },
            last: f64::NAN,
        };
        assert_eq!(
            not_finite_paths(&value).unwrap(),
            [
                "list[2]",
                "map.a",
                "pair[0]",
                "kinds[0].One",
                "kinds[1].Two[1]",
                "kinds[2].Named.a",
                "inner.deep[1][1]",
                "last",
            ]
        );
    }

    #[test]
    fn finite_values_pass() {
        let edge = vec![0.0, -0.0, f64::MAX, f64::MIN_POSITIVE, 5e-324];
        assert!(not_finite_paths(&edge).unwrap().is_empty());
    }

    /// The reason for this file: the JSON writer alone turns NaN into `null` in silence.
    #[test]
    fn the_json_writer_alone_would_lose_it() {
        assert_eq!(serde_json::to_string(&vec![f64::NAN]).unwrap(), "[null]");
    }
}

//! A list of inputs and results.

use std::collections::BTreeSet;
use std::path::Path;

use rustfft::num_complex::Complex;
use serde_json::{Value, json};

/// One call: the file and name of the routine, what makes the case special, arguments, result.
pub struct Case {
    pub file: &'static str,
    pub routine: &'static str,
    pub name: String,
    pub input: Value,
    pub output: Value,
}

#[derive(Default)]
pub struct Cases {
    pub all: Vec<Case>,
}

impl Cases {
    pub fn add(
        &mut self,
        (file, routine): (&'static str, &'static str),
        name: impl Into<String>,
        input: Value,
        output: Value,
    ) {
        self.all.push(Case { file, routine, name: name.into(), input, output });
    }

    /// What was called: file and name.
    pub fn routines(&self) -> BTreeSet<(&'static str, &'static str)> {
        self.all.iter().map(|c| (c.file, c.routine)).collect()
    }

    /// Writes all to a file in `target/`.
    pub fn write(&self, name: &str) {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("target");
        std::fs::create_dir_all(&folder).expect("target can be made");
        let text = serde_json::to_vec(&self.to_value()).expect("no number is out of range");
        std::fs::write(folder.join(name), text).expect("target can be written");
    }

    fn to_value(&self) -> Value {
        let one = |c: &Case| {
            json!({
                "file": c.file,
                "routine": c.routine,
                "name": c.name,
                "in": c.input,
                "out": c.output,
            })
        };
        Value::Array(self.all.iter().map(one).collect())
    }
}

/// Real and imaginary parts as two lists.
pub fn complex(values: &[Complex<f64>]) -> Value {
    json!({
        "re": values.iter().map(|c| c.re).collect::<Vec<f64>>(),
        "im": values.iter().map(|c| c.im).collect::<Vec<f64>>(),
    })
}

/// Both precisions of one waveform: the narrow one is what goes in, widened again for the list.
pub fn narrow(values: &[f64]) -> (Vec<f32>, Vec<f64>) {
    let narrow: Vec<f32> = values.iter().map(|v| *v as f32).collect();
    let wide = narrow.iter().map(|v| f64::from(*v)).collect();
    (narrow, wide)
}

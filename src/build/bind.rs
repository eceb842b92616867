//! Binds the compiled module to scripts, and packs it.

use std::num::NonZeroU64;
use std::path::Path;

use wasm_bindgen_cli_support::Bindgen;

use super::eights;
use super::problem::BuildProblem;

/// Rounds of the search for a dense packing: more take longer and save little.
const ROUNDS: NonZeroU64 = NonZeroU64::MIN.saturating_add(2);

/// The engine as it goes into the page.
pub struct Engine {
    /// The script that calls into the module; defines `wasm_bindgen`.
    pub glue: String,
    /// The module, gzip, as text of a sign a byte.
    pub module: String,
}

/// Writes the scripts for the module and packs both.
pub fn engine(module: &Path) -> Result<Engine, BuildProblem> {
    let failed = |error: &dyn std::fmt::Display| BuildProblem::Bind { said: format!("{error:#}") };
    let mut bindgen = Bindgen::new();
    bindgen.input_path(module).out_name("focalsheet").typescript(false);
    bindgen.remove_producers_section(true).remove_name_section(true);
    let bindgen = bindgen.no_modules(true).map_err(|error| failed(&error))?;
    let mut output = bindgen.generate_output().map_err(|error| failed(&error))?;
    let glue = output.js().to_owned();
    let wasm = output.wasm_mut().emit_wasm();
    let module = pack(&wasm).map_err(|error| failed(&error))?;
    Ok(Engine { glue, module })
}

/// gzip without a time stamp, packed as densely as deflate allows, then text of a sign a byte: the same
/// module gives the same text.
fn pack(wasm: &[u8]) -> std::io::Result<String> {
    let mut gzip = Vec::new();
    let options = zopfli::Options { iteration_count: ROUNDS, ..zopfli::Options::default() };
    zopfli::compress(options, zopfli::Format::Gzip, wasm, &mut gzip)?;
    Ok(eights::encode(&gzip))
}

#[cfg(test)]
mod tests {
    use std::io::Read;

    use super::*;

    #[test]
    fn packing_can_be_undone_and_repeats_itself() {
        let wasm: Vec<u8> = (0..10_000_u32).map(|i| ((i * i) >> 5) as u8).collect();
        let text = pack(&wasm).unwrap();
        assert_eq!(text, pack(&wasm).unwrap());
        let bytes = eights::decode(&text);
        let mut back = Vec::new();
        flate2::read::GzDecoder::new(&bytes[..]).read_to_end(&mut back).unwrap();
        assert_eq!(back, wasm);
    }

    #[test]
    fn a_module_that_is_none_is_refused() {
        let manifest = Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.toml");
        assert!(matches!(engine(&manifest), Err(BuildProblem::Bind { .. })));
    }
}

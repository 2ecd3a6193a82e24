#![no_main]
//! Any bytes as a parameter file: read, judged, built where that is quick.

use libfuzzer_sys::fuzz_target;

#[path = "../laws.rs"]
#[allow(dead_code)]
mod laws;

fuzz_target!(|bytes: &[u8]| {
    let base = std::path::Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../../params"));
    laws::parameter_file(bytes, base);
});

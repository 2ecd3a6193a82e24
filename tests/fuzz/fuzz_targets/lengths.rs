#![no_main]
//! Any bytes as a length with its unit.

use libfuzzer_sys::fuzz_target;

#[path = "../laws.rs"]
#[allow(dead_code)]
mod laws;

fuzz_target!(|bytes: &[u8]| {
    laws::length(bytes);
});

#![no_main]
//! Any bytes as a parameter file: read, judged, built where that is quick.

use std::path::Path;
use std::sync::OnceLock;

use libfuzzer_sys::{fuzz_mutator, fuzz_target, fuzzer_mutate};

#[path = "../laws.rs"]
#[allow(dead_code)]
mod laws;
#[path = "../mutate.rs"]
mod mutate;

use mutate::{Dice, Stock};

fn root() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."))
}

fuzz_target!(|bytes: &[u8]| {
    laws::parameter_file(bytes, &root().join("params"), laws::Pains::NowAndThen);
});

// Three times of four line by line, else byte by byte.
fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    match by_lines(data.get(..size).unwrap_or_default(), seed) {
        Some(changed) => {
            let length = changed.len().min(max_size).min(data.len());
            data[..length].copy_from_slice(&changed.as_bytes()[..length]);
            length
        }
        None => fuzzer_mutate(data, size, max_size),
    }
});

fn by_lines(bytes: &[u8], seed: u32) -> Option<String> {
    static STOCK: OnceLock<Stock> = OnceLock::new();
    let folders = ["params", "tests/good", "tests/bad"];
    let stock = STOCK.get_or_init(|| Stock::of(&folders.map(|name| root().join(name))));
    let text = std::str::from_utf8(bytes).ok()?;
    (seed % 4 != 0 && !stock.is_empty())
        .then(|| stock.mutate(text, &mut Dice::new(u64::from(seed))))
}

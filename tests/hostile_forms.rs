//! Parameter files whose text no maker would write: circles of `from`, a thousand digits, brackets without
//! bottom, bytes that are no text. Each is refused at once, in words, with nothing written; or it is read.

#![cfg(unix)]
#![allow(
    clippy::expect_used,
    reason = "a test that cannot set up its case should say so and fail"
)]

mod hostile;

use std::fs;

use hostile::at_once::{refused, run};
use hostile::{demo, err, folder};

#[test]
fn from_in_a_circle() {
    let folder = folder();
    let set = |next: &str| format!("[machines]\nfrom = \"{next}\"\n");
    for (name, next) in [
        ("a", "b.toml"),
        ("b", "../here/c.toml"),
        ("c", "./a.toml"),
        ("own", "own.toml"),
    ] {
        let here = folder.path().join("here");
        fs::create_dir_all(&here).expect("a folder");
        fs::write(here.join(format!("{name}.toml")), set(next)).expect("a file");
    }
    for first in ["a.toml", "own.toml"] {
        let text = demo("curlew").replace("sets/three-and-four-35.toml", &format!("here/{first}"));
        fs::write(folder.path().join("design.toml"), text).expect("a file");
        refused(
            folder.path(),
            "design.toml",
            &["leads back to", "being read already"],
        );
    }
    let text = demo("curlew").replace("sets/three-and-four-35.toml", "design.toml");
    fs::write(folder.path().join("design.toml"), text).expect("a file");
    refused(
        folder.path(),
        "design.toml",
        &["design.toml:33:", "leads back to"],
    );
}

#[test]
fn a_thousand_digits_and_nesting_without_end() {
    let folder = folder();
    let digits = "1".repeat(1000);
    let with = |line: &str, other: &str| {
        let text = demo("dunlin");
        assert!(text.contains(line), "{line}");
        fs::write(
            folder.path().join("odd.toml"),
            text.replacen(line, other, 1),
        )
        .expect("a file");
    };
    let key = "barrel_diameter = 8.0";
    for number in [
        digits.clone(),
        format!("{digits}.5"),
        format!("-{digits}"),
        format!("1e{digits}"),
        format!("\"{digits} mm\""),
        format!("\"{digits}/{digits} in\""),
        format!("0x{}", "f".repeat(1000)),
    ] {
        with(key, &format!("barrel_diameter = {number}"));
        refused(folder.path(), "odd.toml", &["odd.toml:", "barrel_diameter"]);
    }
    let readings = ["8.0"; 5000].join(", ");
    with(
        key,
        &format!("barrel_diameter = {{ repeats = [{readings}] }}"),
    );
    refused(folder.path(), "odd.toml", &["5000 readings, more than 200"]);
    // A thousand places after the point are a number like any other.
    with(key, &format!("barrel_diameter = 8.0{}1", "0".repeat(1000)));
    let said = run(folder.path(), &["check", "odd.toml"]);
    assert_eq!(said.status.code(), Some(0), "{}", err(&said));
    let text = demo("dunlin");
    let line = text.lines().position(|line| line.starts_with(key));
    let at_line = format!("odd.toml:{}:", line.expect("the line") + 1);
    let too_deep = "brackets or dotted keys are nested too deep";
    for (open, close) in [("[", "]"), ("{a=", "}"), ("[{a=", "}]")] {
        let deep = format!(
            "barrel_diameter = {}1{}",
            open.repeat(50_000),
            close.repeat(50_000)
        );
        with(key, &deep);
        refused(folder.path(), "odd.toml", &[&at_line, too_deep]);
    }
    with(key, &format!("{}b = 1", "a.".repeat(50_000)));
    refused(folder.path(), "odd.toml", &["odd.toml:", too_deep]);
    with("[machines]", &format!("[{}b]", "a.".repeat(50_000)));
    refused(folder.path(), "odd.toml", &["odd.toml:", too_deep]);
}

#[test]
fn bytes_that_are_no_text_and_text_of_other_machines() {
    let folder = folder();
    let file = folder.path().join("odd.toml");
    let text = demo("dunlin");
    let mut bytes = text.clone().into_bytes();
    bytes.extend(b"# l\xe4nge\n");
    let last = format!("odd.toml:{}:1", text.lines().count() + 1);
    fs::write(&file, bytes).expect("a file");
    refused(
        folder.path(),
        "odd.toml",
        &[&last, "is not UTF-8 text", "0xE4"],
    );
    fs::write(&file, format!("{text}\0\n")).expect("a file");
    refused(folder.path(), "odd.toml", &["control character"]);
    fs::write(&file, vec![0; 1000]).expect("a file");
    refused(folder.path(), "odd.toml", &["control character"]);
    // What editors on other machines write is read like any other.
    fs::write(&file, format!("\u{feff}{}", text.replace('\n', "\r\n"))).expect("a file");
    let said = run(folder.path(), &["check", "odd.toml"]);
    assert_eq!(said.status.code(), Some(0), "{}", err(&said));
}

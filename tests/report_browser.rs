//! `report.html` in a real browser, headless: silent, alone, no wider than a phone, printable. Needs
//! Chromium.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod browser;
mod support {
    pub mod demos;
    pub mod designs;
    pub mod project;
}

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Value, json};

use browser::Browser;
use support::demos::{demo_file, demos};

/// The page of a demo, made by the program; beside it the pictures that this test takes.
fn page(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"))
        .join("report-page")
        .join(name);
    let made = Command::new(env!("CARGO_BIN_EXE_barrelhead"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(["make", "--only", "report"])
        .arg(demo_file(name))
        .arg("--out")
        .arg(&folder)
        .output()
        .unwrap();
    assert!(
        made.status.success(),
        "{}",
        String::from_utf8_lossy(&made.stderr)
    );
    folder.join("report.html")
}

/// Keeps what the browser took, for people to look at.
fn keep(beside: &Path, name: &str, data: &Value) -> Vec<u8> {
    let bytes = STANDARD.decode(data["data"].as_str().unwrap()).unwrap();
    fs::write(beside.with_file_name(name), &bytes).unwrap();
    bytes
}

#[test]
fn opens_from_disk_on_phone_and_desk_and_prints() {
    let Some(mut browser) = Browser::start() else {
        return;
    };
    for name in &demos() {
        let page = page(name);
        for width in [390, 1280] {
            browser.open(&page, width);
            let what = format!("{name} at {width}");
            let pictures =
                browser.value("[...document.images].map(i => i.complete && i.naturalWidth > 100)");
            let pictures = pictures.as_array().unwrap();
            assert!(
                pictures.len() >= 4 && pictures.iter().all(|p| *p == true),
                "{what}"
            );
            // Nothing is wider than the screen but what scrolls by itself.
            let cut = browser.value(&format!(
                "[...document.querySelectorAll('body *')].filter(e => !e.closest('.scroll') && \
                 !e.closest('.skip') && e.getBoundingClientRect().right > {width} + 0.5)\
                 .map(e => e.outerHTML.slice(0, 80))"
            ));
            assert_eq!(cut, json!([]), "{what}: past the right edge");
            let wide = browser.value("document.documentElement.scrollWidth");
            assert!(
                wide.as_u64().unwrap() <= u64::from(width),
                "{what}: {wide} wide"
            );
            let small = browser.value(
                "[...document.querySelectorAll('body *')].filter(e => !e.closest('svg') && \
                 e.innerText && parseFloat(getComputedStyle(e).fontSize) < 11).length",
            );
            assert_eq!(small, 0, "{what}: letters too small to read");
            for address in browser.asked_for() {
                let own = address.ends_with("/report.html") && address.starts_with("file://");
                assert!(
                    own || address.starts_with("data:image/png"),
                    "{what} asks for {address}"
                );
            }
            assert!(
                !browser.asked_for().is_empty(),
                "{what}: the test heard nothing"
            );
            assert!(
                browser.complaints().is_empty(),
                "{what}: {:?}",
                browser.complaints()
            );
            let height = browser.value("document.documentElement.scrollHeight");
            let shot = browser.ask(
                "Page.captureScreenshot",
                json!({
                    "captureBeyondViewport": true,
                    "clip": { "x": 0, "y": 0, "width": width, "height": height, "scale": 1 }
                }),
            );
            keep(&page, &format!("at-{width}.png"), &shot);
        }
        let printed = browser.ask(
            "Page.printToPDF",
            json!({ "paperWidth": 8.27, "paperHeight": 11.69, "preferCSSPageSize": false }),
        );
        let pdf = keep(&page, "printed.pdf", &printed);
        let sheets = lopdf::Document::load_mem(&pdf).unwrap().get_pages().len();
        assert!((2..=8).contains(&sheets), "{name}: {sheets} sheets of A4");
    }
}

#[test]
fn the_listener_hears_requests_and_complaints() {
    let folder = tempfile::tempdir().unwrap();
    let page = folder.path().join("loud.html");
    fs::write(
        &page,
        "<html><body><img src=\"missing.png\"/><script>console.log(1); nothing();</script></body></html>",
    )
    .unwrap();
    let Some(mut browser) = Browser::start() else {
        return;
    };
    browser.open(&page, 390);
    assert!(
        browser
            .asked_for()
            .iter()
            .any(|address| address.ends_with("missing.png"))
    );
    assert!(
        browser.complaints().len() >= 3,
        "{:?}",
        browser.complaints()
    );
}

//! Inches beside the millimetres: on screen, papers and page alike, for a file in inches or where asked for.

#![cfg(unix)]
#![allow(
    clippy::expect_used,
    reason = "a test that cannot set up its case should say so and fail"
)]

mod hostile;

use std::fs;
use std::path::Path;
use std::process::Command;

use hostile::{done, folder, run};

/// Lengths in inches in a text, as they stand beside millimetres: three decimals and the unit, or within
/// brackets. What is to be typed into a file in inches stands within a sentence and is not counted.
fn inches(text: &str) -> usize {
    let parts: Vec<&str> = text.split('.').collect();
    let beside = |before: &str, after: &str| {
        let whole = before.trim_end_matches(|c: char| c.is_ascii_digit());
        let decimals = after.trim_start_matches(|c: char| c.is_ascii_digit());
        whole.len() < before.len()
            && after.len() - decimals.len() == 3
            && (whole.is_empty() || whole.ends_with(['(', '[', '>', '\n']))
            && (decimals.starts_with([')', ']']) || decimals.starts_with(" in"))
    };
    let pairs = parts.windows(2);
    pairs.filter(|pair| beside(pair[0], pair[1])).count()
}

/// The words of a PDF; none where poppler-utils are not installed.
fn words(pdf: &Path) -> Option<String> {
    let read = Command::new("pdftotext").arg(pdf).arg("-").output().ok()?;
    Some(String::from_utf8_lossy(&read.stdout).into_owned())
}

#[test]
fn inches_stand_everywhere_or_nowhere() {
    let folder = folder();
    for (design, options, shown) in [
        ("turnstone", &[][..], true),
        ("turnstone", &["--units", "mm"], false),
        ("turnstone", &["--units", "both"], true),
        ("dunlin", &[], false),
        ("dunlin", &["--units", "both"], true),
        ("dunlin", &["--inches"], true),
    ] {
        let file = format!("{}/params/{design}.toml", env!("CARGO_MANIFEST_DIR"));
        let mut line = vec!["make", "--out", "out", &file];
        line.extend(options);
        let made = run(folder.path(), &line);
        done(&made);
        let case = format!("{design} {options:?}");
        let screen = String::from_utf8_lossy(&made.stdout);
        assert_eq!(screen.contains("Millimetres (inches)"), shown, "{case}");
        assert_eq!(inches(&screen) > 0, shown, "{case}: {screen}");
        let out = folder.path().join("out");
        let read = |name: &str| fs::read_to_string(out.join(name)).expect(name);
        let drawing = read("shop/drawing.svg");
        assert_eq!(inches(&drawing) > 0, shown, "{case}: drawing");
        // The marking sheet is laid on the wood: it has inches for a maker who measures in them.
        let marked = shown && design == "turnstone";
        let sheet = read("bench/marking-sheet.svg");
        assert_eq!(inches(&sheet) > 0, marked, "{case}: marking sheet");
        let page = read("report.html");
        assert_eq!(page.contains("class=\"inch\""), shown, "{case}");
        for name in [
            "bench/marking-sheet",
            "bench/setup-sheet",
            "bench/rig",
            "shop/drawing",
            "shop/operations",
        ] {
            let Some(text) = words(&out.join(format!("{name}.pdf"))) else {
                eprintln!("poppler-utils are not installed: {name}.pdf is not read");
                continue;
            };
            let shown = if name.ends_with("marking-sheet") {
                marked
            } else {
                shown
            };
            assert_eq!(inches(&text) > 0, shown, "{case}: {name}: {text}");
        }
    }
}

/// What the wood does has its inches too, in short and in full, and so has the list of a class.
#[test]
fn the_wood_and_a_class_are_told_in_both_units() {
    let folder = folder();
    let heads = folder.path().join("day");
    fs::create_dir(&heads).expect("a folder");
    let file = format!("{}/params/turnstone.toml", env!("CARGO_MANIFEST_DIR"));
    let text = fs::read_to_string(&file).expect("the demo");
    let wooden = text.split("[wood]").next().unwrap_or_default().to_owned()
        + "\n[wood]\nspecies = \"Spanish cedar\"\nhumidity = [35, 65]\n";
    fs::write(heads.join("one.toml"), wooden).expect("a file");
    let said = run(folder.path(), &["check", "--all", "day/one.toml"]);
    let screen = String::from_utf8_lossy(&said.stdout);
    let (_, wood) = screen.split_once("\nWood ").expect("the wood");
    let words = wood.split_whitespace().collect::<Vec<_>>().join(" ");
    let told = words.split("Coefficients").next().unwrap_or_default();
    // Every length in millimetres has its inches at once.
    assert!(told.matches(" mm").count() > 8, "{told}");
    assert_eq!(
        told.matches(" mm").count(),
        told.matches(" mm (").count(),
        "{told}"
    );
    // And in the tables of the page.
    let line = ["make", "day/one.toml", "--only", "report", "--out", "page"];
    done(&run(folder.path(), &line));
    let page = fs::read_to_string(folder.path().join("page/report.html")).expect("the page");
    for (table, columns) in [("What moves between", 3), ("Margins that the wood eats", 4)] {
        let (_, rest) = page.split_once(table).expect(table);
        let body = rest.split("</table>").next().unwrap_or_default();
        let rows = body.matches("<tr>").count() - 1;
        let inches = body.matches("class=\"inch\"").count();
        assert!(
            rows > 2 && inches == columns * rows,
            "{table}: {inches} in {rows} rows"
        );
    }
    let said = run(folder.path(), &["class", "day", "--out", "out"]);
    let screen = String::from_utf8_lossy(&said.stdout);
    for told in ["shim, mm (in)", "stop at, mm (in)", "0.00 (0.000)"] {
        assert!(screen.contains(told), "{told}: {screen}");
    }
}

//! Sheets as SVG, PDF and PNG, read back by programs that know nothing of ours.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod sheets;
mod support {
    pub mod has_poppler;
    pub mod pdf_lines;
    pub mod pdf_text;
    pub mod poppler;
    pub mod process;
    pub mod raster;
}

use std::fs;
use std::path::{Path, PathBuf};

use barrelhead::paper::{Anchor, Item, Layer, LineKind, Sheet};
use barrelhead::write::pdf::{PdfError, pdf};
use barrelhead::write::{png::png, svg::svg};
use glam::{DVec2, dvec2};

use sheets::{AWKWARD, BAR, sheet};
use support::has_poppler::has_poppler;
use support::pdf_lines;
use support::pdf_text::pdf_text;
use support::poppler::poppler;
use support::raster::Raster;

fn file(name: &str, bytes: &[u8]) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("papers");
    fs::create_dir_all(&folder).unwrap();
    let path = folder.join(name);
    fs::write(&path, bytes).unwrap();
    path
}

#[test]
fn svg_has_its_physical_size_and_true_arcs() {
    let text = svg(&sheet(210.0, 297.0));
    let document = roxmltree::Document::parse(&text).unwrap();
    let root = document.root_element();
    assert_eq!(root.attribute("width"), Some("210mm"));
    assert_eq!(root.attribute("height"), Some("297mm"));
    assert_eq!(root.attribute("viewBox"), Some("0 0 210 297"));
    let title = root.children().find(|n| n.has_tag_name("title")).unwrap();
    // What XML forbids is seen as the replacement character, as on the report page.
    let seen = AWKWARD.replace('\u{7}', "\u{fffd}");
    assert_eq!(title.text().unwrap(), seen);

    let group = |class: &str| {
        let found = root
            .children()
            .find(|n| n.attribute("class") == Some(class));
        found.unwrap().first_element_child().unwrap()
    };
    // Counted by hand: 297 less the heights on the sheet; bulging to the right, so against SVG's
    // positive turn.
    assert_eq!(
        group("slots").attribute("d").unwrap(),
        "M55 242 L85 242 A5 5 0 0 0 90 237 A5 5 0 0 0 85 232 L55 232 A5 5 0 0 0 50 237 A5 5 0 0 0 55 242Z"
    );
    let bore = group("bores");
    assert_eq!(bore.attribute("cx"), Some("100.123456"));
    assert_eq!(bore.attribute("cy"), Some("201.5"));
    assert_eq!(bore.attribute("r"), Some("5.25"));
    assert_eq!(
        group("axes").attribute("stroke-dasharray"),
        Some("6 0.75 0.125 0.75")
    );
}

#[test]
fn svg_texts_have_the_length_of_the_typeface() {
    let text = svg(&sheet(210.0, 297.0));
    let document = roxmltree::Document::parse(&text).unwrap();
    let texts = document.descendants().filter(|n| n.has_tag_name("text"));
    let texts: Vec<_> = texts.collect();
    assert_eq!(texts.len(), 5);
    let turned = texts.iter().find(|n| n.text() == Some("30.00")).unwrap();
    assert_eq!(turned.attribute("transform"), Some("rotate(-90 15 202)"));
    let note = texts
        .iter()
        .find(|n| n.text().unwrap().starts_with("Ear"))
        .unwrap();
    assert!(note.text().unwrap().contains("<wig> & \"Son's\""));
    assert!(note.text().unwrap().ends_with("(open ▯ ▯▯▯ ▯end"));
    let length: f64 = note.attribute("textLength").unwrap().parse().unwrap();
    let plain = barrelhead::paper::Weight::Plain;
    let measured = barrelhead::paper::measure::text_width(AWKWARD, 3.5, plain);
    assert!((length - measured).abs() < 1e-5);
}

#[test]
fn pdf_pages_are_exactly_as_large_as_their_sheets() {
    let sizes = [
        (210.0, 297.0),
        (215.9, 279.4),
        (420.0, 297.0),
        (841.0, 1189.0),
    ];
    let sheets = sizes.map(|(width, height)| sheet(width, height));
    let bytes = pdf(&sheets).unwrap();
    let pages = pdf_lines::pages(&bytes);
    assert_eq!(pages.len(), sizes.len());
    for (page, (width, height)) in pages.iter().zip(sizes) {
        let off = (page.size - dvec2(width, height)).abs().max_element();
        assert!(off < 0.001, "{} is not {width} by {height}", page.size);
    }
}

#[test]
fn pdf_lines_lie_where_the_sheet_has_them() {
    let mut sheet = sheet(841.0, 1189.0);
    let far = [dvec2(700.11, 1100.22), dvec2(820.33, 1188.44)];
    sheet.line(Layer::Marks, LineKind::Narrow, far[0], far[1]);
    let pages = pdf_lines::pages(&pdf(&[sheet]).unwrap());
    let near = |a: DVec2, b: DVec2| a.distance(b) < 0.001;
    for wanted in [BAR, far] {
        let found = pages[0]
            .lines
            .iter()
            .filter(|l| near(l[0], wanted[0]) && near(l[1], wanted[1]));
        assert_eq!(found.count(), 1, "{wanted:?}");
    }
    // The bore: every curve's ends and middle lie on its circle.
    let (center, radius) = (dvec2(100.123_456, 95.5), 5.25);
    let mine = pages[0]
        .curves
        .iter()
        .filter(|c| (c[0].distance(center) - radius).abs() < 0.01);
    let mut count = 0;
    for &[a, b, c, d] in mine {
        let middle = (a + 3.0 * b + 3.0 * c + d) / 8.0;
        for point in [a, middle, d] {
            assert!((point.distance(center) - radius).abs() < 0.001, "{point}");
        }
        count += 1;
    }
    assert_eq!(count, 12);
}

#[test]
fn pdf_prints_true_and_says_so() {
    if !has_poppler() {
        return;
    }
    let path = file(
        "true.pdf",
        &pdf(&[sheet(279.4, 215.9), sheet(210.0, 297.0)]).unwrap(),
    );
    for page in [1, 2] {
        let raster = Raster::of(&path, page, 300);
        let size = if page == 1 {
            dvec2(279.4, 215.9)
        } else {
            dvec2(210.0, 297.0)
        };
        assert!((raster.size() - size).abs().max_element() < 0.1);
        let out = dvec2(5.0, 0.0);
        let ends = raster
            .ink(BAR[0] - out, BAR[1] + out)
            .expect("no check bar");
        for (end, wanted) in ends.iter().zip(BAR) {
            assert!((end.x - wanted.x).abs() < 0.1, "{end} is not {wanted}");
        }
        // Across it: as thick as a wide line, and in the middle of it.
        let (up, middle) = (dvec2(0.0, 1.0), (BAR[0] + BAR[1]) / 2.0);
        let edges = raster.ink(middle - up, middle + up).expect("no check bar");
        assert!((edges[1].y - edges[0].y - 0.5).abs() < 0.1);
        assert!((f64::midpoint(edges[0].y, edges[1].y) - BAR[0].y).abs() < 0.1);
    }
    let document = lopdf::Document::load(&path).unwrap();
    let catalog = document.catalog().unwrap();
    let viewer = catalog
        .get(b"ViewerPreferences")
        .unwrap()
        .as_dict()
        .unwrap();
    assert_eq!(
        viewer.get(b"PrintScaling").unwrap().as_name().unwrap(),
        b"None"
    );
}

#[test]
fn pdf_texts_can_be_searched_and_carry_their_letters() {
    if !has_poppler() {
        return;
    }
    let path = file("texts.pdf", &pdf(&[sheet(210.0, 297.0)]).unwrap());
    let text = pdf_text(&path);
    let wanted = [
        "Bore ⌀10.50 − Ёлка Ύψος",
        "Ear <wig> & \"Son's\" ; 50%%d \\U+0041 ^I {x} (open ▯ ▯▯▯ ▯end",
        "100 mm",
        "bore 1",
        "30.00",
    ];
    for part in wanted {
        assert!(text.contains(part), "{part} is not in:\n{text}");
    }
    let fonts = String::from_utf8(poppler("pdffonts", &[], &path)).unwrap();
    let rows: Vec<&str> = fonts.lines().skip(2).collect();
    assert_eq!(rows.len(), 2, "{fonts}");
    for row in rows {
        // Embedded, cut down to what is used, with the characters' numbers.
        assert!(row.contains("yes yes yes"), "{row}");
    }
    let information = String::from_utf8(poppler("pdfinfo", &[], &path)).unwrap();
    assert!(
        information.contains("Ear <wig> & \"Son's\" ; 50%%d"),
        "{information}"
    );
    assert!(!information.contains("CreationDate"), "{information}");
    assert!(fs::metadata(&path).unwrap().len() < 60_000);
}

#[test]
fn pdf_text_is_as_wide_as_measured() {
    if !has_poppler() {
        return;
    }
    // The last stroke of an H set from its right end lies just short of that end.
    let mut sheet = Sheet::new("widths", 210.0, 297.0);
    let text = "HHHH iiii 0123456789 WWWW ÅÄÖ ∆ H";
    sheet.text(Layer::Notes, dvec2(20.0, 100.0), 5.0, Anchor::Start, text);
    sheet.text(Layer::Notes, dvec2(190.0, 80.0), 5.0, Anchor::End, text);
    let width = barrelhead::paper::measure::text_width(text, 5.0, barrelhead::paper::Weight::Plain);
    let bearing = 0.1 * 5.0 / 0.729 * 0.9;
    let path = file("widths.pdf", &pdf(&[sheet]).unwrap());
    let raster = Raster::of(&path, 1, 300);
    let row = |y: f64| raster.ink(dvec2(5.0, y), dvec2(205.0, y)).unwrap();
    for (y, start) in [(102.0, 20.0), (82.0, 190.0 - width)] {
        let [first, last] = row(y);
        assert!((first.x - (start + bearing)).abs() < 0.15, "{first}");
        assert!((last.x - (start + width - bearing)).abs() < 0.15, "{last}");
        // Capitals are 5 mm high.
        let x = first.x + 0.1;
        let [low, high] = raster.ink(dvec2(x, y - 6.0), dvec2(x, y + 6.0)).unwrap();
        assert!((high.y - low.y - 5.0).abs() < 0.1, "{low} {high}");
    }
}

#[test]
fn png_shows_the_sheet() {
    let picture = png(&sheet(210.0, 297.0), 4.0).unwrap();
    assert_eq!(&picture[1..4], b"PNG");
    let number = |at: usize| u32::from_be_bytes(picture[at..at + 4].try_into().unwrap());
    assert_eq!((number(16), number(20)), (840, 1188));
    let blank = png(&Sheet::new("", 210.0, 297.0), 4.0).unwrap();
    assert!(picture.len() > 2 * blank.len());
    assert!(png(&sheet(210.0, 297.0), 1000.0).is_err());
    assert!(png(&Sheet::new("", 0.0, 297.0), 4.0).is_err());
    assert!(png(&sheet(210.0, 297.0), f64::NAN).is_err());
}

#[test]
fn same_sheet_same_bytes() {
    let once = [sheet(210.0, 297.0), sheet(215.9, 279.4)];
    let again = [sheet(210.0, 297.0), sheet(215.9, 279.4)];
    assert_eq!(pdf(&once).unwrap(), pdf(&again).unwrap());
    assert_eq!(svg(&once[0]), svg(&again[0]));
    assert_eq!(png(&once[0], 3.0).unwrap(), png(&again[0], 3.0).unwrap());
}

#[test]
fn what_cannot_be_a_page_is_refused() {
    assert!(matches!(pdf(&[]), Err(PdfError::NoSheets)));
    for width in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e9] {
        let refused = pdf(&[sheet(210.0, 297.0), sheet(width, 297.0)]);
        assert!(
            matches!(refused, Err(PdfError::Size { sheet: 2, .. })),
            "{width}"
        );
    }
    let mut broken = sheet(210.0, 297.0);
    broken.line(Layer::Outline, LineKind::Wide, DVec2::NAN, DVec2::ZERO);
    assert!(matches!(
        pdf(&[broken.clone()]),
        Err(PdfError::NotFinite { sheet: 1 })
    ));
    let lines = |sheet: &Sheet| svg(sheet).lines().count();
    assert_eq!(lines(&broken), lines(&sheet(210.0, 297.0)));
}

#[test]
fn any_title_in_any_script_prints() {
    if !has_poppler() {
        return;
    }
    let titles = [
        "",
        " ",
        "\u{0}\u{1}\u{1b}[31m\u{7f}\u{85}\u{9f}",
        "<script>&amp;]]><!-- -->",
        "((()\\)\r\n) Tj ET endstream endobj",
        "\u{FFFE}\u{FFFF}\u{10FFFF}\u{E000}",
        "עברית العربية हिन्दी ไทย 日本語 한국어 \u{1F468}\u{200D}\u{1F469}",
        "e\u{301} A\u{30A} n\u{303}",
        "  0\nSECTION\n  2\nENTITIES\n",
    ];
    for title in titles {
        let mut sheet = Sheet::new(title, 210.0, 297.0);
        sheet.text(Layer::Notes, dvec2(10.0, 10.0), 3.5, Anchor::Start, title);
        sheet.strong(Layer::Notes, dvec2(10.0, 20.0), 3.5, Anchor::End, title);
        sheet.text(
            Layer::Notes,
            dvec2(10.0, 40.0),
            3.5,
            Anchor::Start,
            "after it",
        );
        roxmltree::Document::parse(&svg(&sheet)).expect(title);
        png(&sheet, 2.0).expect(title);
        assert!(sheet.items.iter().any(|item| matches!(item, Item::Text(_))));
        let path = file("title.pdf", &pdf(&[sheet]).expect(title));
        assert_eq!(pdf_lines::pages(&fs::read(&path).unwrap()).len(), 1);
        let text = pdf_text(&path);
        assert!(text.contains("after it"), "{title:?} {text}");
        if title.contains("日") {
            assert!(text.contains("▯▯▯ ▯▯▯"), "{text}");
        }
    }
}

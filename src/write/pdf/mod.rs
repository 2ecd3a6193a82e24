//! PDF at true size: one page a sheet, text as text, the fonts' used letters carried along.
//!
//! Each page opens with the one matrix that turns millimetres into points, so every number after
//! it in the page's content is the sheet's own. Nothing depends on a clock or on chance.

mod content;
mod fonts;

use std::io::Write as _;

use flate2::Compression;
use flate2::write::ZlibEncoder;
use pdf_writer::{Filter, Finish as _, Name, Pdf, Rect, Ref, TextStr};

use crate::paper::{Item, Sheet};
use crate::units::MM_PER_INCH;

use fonts::Fonts;

/// Points in an inch, by the format's definition.
const POINTS_PER_INCH: f64 = 72.0;

/// Longest edge of a page, points: more than the format's readers must take.
const LONGEST_EDGE: f64 = 14_400.0;

/// Why sheets cannot become a PDF.
#[derive(Debug, thiserror::Error)]
pub enum PdfError {
    /// There is nothing to print.
    #[error("a PDF needs at least one sheet")]
    NoSheets,
    /// A page of this size cannot be written.
    #[error("sheet {sheet} is {width} by {height} mm, no size of a page")]
    Size {
        /// The sheet, from 1.
        sheet: usize,
        /// Its width, mm.
        width: f64,
        /// Its height, mm.
        height: f64,
    },
    /// Something on a sheet has no place.
    #[error("sheet {sheet} holds an item with a coordinate that is not a finite number")]
    NotFinite {
        /// The sheet, from 1.
        sheet: usize,
    },
    /// The typeface could not be carried along.
    #[error("the typeface could not be put into the PDF: {0}")]
    Font(String),
    /// A stream could not be packed.
    #[error("a page could not be packed: {0}")]
    Packing(#[from] std::io::Error),
}

/// The sheets as one PDF, titled as the first; readers are asked to print it without scaling.
///
/// # Errors
/// [`PdfError`]: no sheets, a size or coordinate that no page can have, or a fault of the program.
pub fn pdf(sheets: &[Sheet]) -> Result<Vec<u8>, PdfError> {
    let first = sheets.first().ok_or(PdfError::NoSheets)?;
    let fonts = Fonts::for_texts(texts(sheets))?;
    let mut next = 1;
    let mut reference = || {
        next += 1;
        Ref::new(next - 1)
    };
    let (catalog, page_tree, info) = (reference(), reference(), reference());
    let pages: Vec<Ref> = sheets.iter().map(|_| reference()).collect();
    let contents: Vec<Ref> = sheets.iter().map(|_| reference()).collect();
    let placed = fonts.place(&mut reference);

    let mut pdf = Pdf::new();
    let mut root = pdf.catalog(catalog);
    root.pages(page_tree).lang(TextStr("en"));
    let mut viewer = root.viewer_preferences();
    viewer.display_doc_title(true);
    viewer.pair(Name(b"PrintScaling"), Name(b"None"));
    viewer.finish();
    root.finish();
    let title = plain(&first.title);
    pdf.document_info(info)
        .title(TextStr(&title))
        .producer(TextStr(concat!("barrelhead ", env!("CARGO_PKG_VERSION"))));
    let count = i32::try_from(pages.len()).unwrap_or(i32::MAX);
    pdf.pages(page_tree)
        .kids(pages.iter().copied())
        .count(count);

    for (index, sheet) in sheets.iter().enumerate() {
        let (width, height) = page_size(sheet, index + 1)?;
        let mut page = pdf.page(pages[index]);
        page.parent(page_tree)
            .media_box(Rect::new(0.0, 0.0, width, height))
            .contents(contents[index]);
        let mut resources = page.resources();
        let mut dictionary = resources.fonts();
        for font in &placed {
            dictionary.pair(font.name(), font.reference());
        }
        dictionary.finish();
        resources.finish();
        page.finish();
        let drawn = content::content(sheet, index + 1, &fonts)?;
        pdf.stream(contents[index], &pack(&drawn)?)
            .filter(Filter::FlateDecode);
    }
    for font in &placed {
        font.write(&mut pdf)?;
    }
    Ok(pdf.finish())
}

/// Every text of every sheet.
fn texts(sheets: &[Sheet]) -> impl Iterator<Item = &crate::paper::Text> {
    let items = sheets.iter().flat_map(|sheet| &sheet.items);
    items.filter_map(|item| match item {
        Item::Text(text) => Some(text),
        _ => None,
    })
}

/// A sheet's size in points.
fn page_size(sheet: &Sheet, number: usize) -> Result<(f32, f32), PdfError> {
    let points = |mm: f64| mm * POINTS_PER_INCH / MM_PER_INCH;
    let sound = |mm: f64| mm > 0.0 && points(mm) <= LONGEST_EDGE;
    if sound(sheet.width) && sound(sheet.height) {
        Ok((single(points(sheet.width)), single(points(sheet.height))))
    } else {
        Err(PdfError::Size {
            sheet: number,
            width: sheet.width,
            height: sheet.height,
        })
    }
}

/// The crate below writes single precision: 0.0001 mm on the largest sheet of paper.
#[allow(
    clippy::cast_possible_truncation,
    reason = "the longest edge is far inside the range"
)]
fn single(value: f64) -> f32 {
    value as f32
}

/// A title without line ends and other control characters.
fn plain(title: &str) -> String {
    let spaced = title.chars().map(|c| if c.is_control() { ' ' } else { c });
    spaced.collect()
}

fn pack(bytes: &[u8]) -> Result<Vec<u8>, std::io::Error> {
    let mut encoder = ZlibEncoder::new(Vec::new(), Compression::default());
    encoder.write_all(bytes)?;
    encoder.finish()
}

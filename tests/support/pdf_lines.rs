//! The straight lines of a PDF's pages, in millimetres from the lower left corner, as the file
//! itself has them.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

use glam::{DAffine2, DMat2, DVec2, dvec2};
use lopdf::content::Content;
use lopdf::{Document, Object};

/// Millimetres in a point: an inch of 25.4 mm has 72.
const MM_PER_POINT: f64 = 25.4 / 72.0;

/// One page.
pub struct PdfPage {
    /// Width and height, mm.
    pub size: DVec2,
    /// Every straight piece of every path.
    pub lines: Vec<[DVec2; 2]>,
    /// Every point a curve passes to, with its two handles.
    pub curves: Vec<[DVec2; 4]>,
}

fn real(object: &Object) -> f64 {
    match object {
        #[allow(clippy::cast_precision_loss, reason = "page coordinates are small")]
        Object::Integer(value) => *value as f64,
        Object::Real(value) => f64::from(*value),
        other => panic!("no number: {other:?}"),
    }
}

/// Reads every page.
pub fn pages(bytes: &[u8]) -> Vec<PdfPage> {
    let document = Document::load_mem(bytes).unwrap();
    let pages = document.get_pages();
    pages.values().map(|&id| page(&document, id)).collect()
}

fn page(document: &Document, id: lopdf::ObjectId) -> PdfPage {
    let dictionary = document.get_dictionary(id).unwrap();
    let sides = dictionary.get(b"MediaBox").unwrap().as_array().unwrap();
    let sides: Vec<f64> = sides.iter().map(real).collect();
    assert!(sides[0].abs() + sides[1].abs() < 1e-12);
    let content = document.get_page_content(id);
    let mut found = PdfPage {
        size: dvec2(sides[2], sides[3]) * MM_PER_POINT,
        lines: vec![],
        curves: vec![],
    };
    let mut matrix = DAffine2::IDENTITY;
    let (mut start, mut pen) = (DVec2::ZERO, DVec2::ZERO);
    for operation in Content::decode(&content).unwrap().operations {
        let numbers = || operation.operands.iter().map(real).collect::<Vec<f64>>();
        let points = |matrix: DAffine2| {
            let numbers = numbers();
            let pairs = numbers.chunks_exact(2);
            let points = pairs.map(|p| matrix.transform_point2(dvec2(p[0], p[1])) * MM_PER_POINT);
            points.collect::<Vec<DVec2>>()
        };
        match operation.operator.as_str() {
            "cm" => {
                let n = numbers();
                let linear = DMat2::from_cols(dvec2(n[0], n[1]), dvec2(n[2], n[3]));
                matrix *= DAffine2::from_mat2_translation(linear, dvec2(n[4], n[5]));
            }
            "m" => {
                start = points(matrix)[0];
                pen = start;
            }
            "l" => {
                let end = points(matrix)[0];
                found.lines.push([pen, end]);
                pen = end;
            }
            "c" => {
                let ends = points(matrix);
                found.curves.push([pen, ends[0], ends[1], ends[2]]);
                pen = ends[2];
            }
            "h" => {
                if pen.distance(start) > 0.0 {
                    found.lines.push([pen, start]);
                }
                pen = start;
            }
            "q" | "Q" | "re" | "Do" => panic!("{} is not read here", operation.operator),
            _ => {}
        }
    }
    found
}

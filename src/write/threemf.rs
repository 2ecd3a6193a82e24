//! 3MF, the printer's file: a ZIP package with one model part in XML.
//!
//! After the 3MF Core Specification 1.4.0 (3MF Consortium; read as published) and, for the package's
//! content types and relationships, the Open Packaging Conventions (names from memory, confirmed by a
//! strict reader in the tests). Points are written in the shortest digits that give back the same
//! number of single precision, which is what readers hold.

use std::fmt::Write as _;
use std::io::{Cursor, Write as _};

use glam::{DVec2, DVec3};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

use crate::solid::printed::PrintPart;
use crate::write::markup::escaped;

/// Space between the objects as they lie in the file, mm.
const GAP: f64 = 10.0;

const CONTENT_TYPES: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">\n\
 <Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>\n\
 <Default Extension=\"model\" ContentType=\"application/vnd.ms-package.3dmanufacturing-3dmodel+xml\"/>\n\
</Types>\n";

const RELATIONSHIPS: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\n\
 <Relationship Id=\"rel0\" Target=\"/3D/3dmodel.model\" \
Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/>\n\
</Relationships>\n";

/// What stands in the file beside its objects.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct About<'a> {
    /// Title of the design.
    pub title: &'a str,
    /// What the objects are, how they are told apart and read.
    pub description: &'a str,
    /// Date as typed in `[job]`, if any; no other date enters the file.
    pub date: Option<&'a str>,
}

/// Why a file cannot be written.
#[derive(Debug, thiserror::Error)]
pub enum ThreeMfError {
    /// There is nothing to print.
    #[error("a printer's file needs at least one object")]
    Empty,
    /// A point that is not finite, or a triangle that names a point that is not there.
    #[error("{part}: the mesh names a point that is not there or not finite")]
    BadMesh {
        /// Name of the object.
        part: String,
    },
    /// The package could not be put together.
    #[error("the package could not be written: {0}")]
    Package(#[from] zip::result::ZipError),
    /// A part of the package could not be written.
    #[error("the package could not be written: {0}")]
    Write(#[from] std::io::Error),
}

/// The bytes of a 3MF file: every part a named object of its own, side by side on z = 0 and in the
/// positive octant, turned as each lies on the bed. The same parts give the same bytes.
///
/// # Errors
/// [`ThreeMfError`].
pub fn threemf(parts: &[PrintPart], about: &About<'_>) -> Result<Vec<u8>, ThreeMfError> {
    let model = model(parts, about)?;
    let mut package = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        // The earliest time a ZIP can name: no clock enters a file.
        .last_modified_time(DateTime::default());
    for (name, text) in [
        ("[Content_Types].xml", CONTENT_TYPES),
        ("_rels/.rels", RELATIONSHIPS),
        ("3D/3dmodel.model", &model),
    ] {
        package.start_file(name, options)?;
        package.write_all(text.as_bytes())?;
    }
    Ok(package.finish()?.into_inner())
}

/// The model part.
fn model(parts: &[PrintPart], about: &About<'_>) -> Result<String, ThreeMfError> {
    if parts.is_empty() {
        return Err(ThreeMfError::Empty);
    }
    let mut text = String::from(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <model unit=\"millimeter\" xml:lang=\"en\" \
         xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n",
    );
    let mut metadata = |name: &str, value: &str| {
        let _ = writeln!(
            text,
            " <metadata name=\"{name}\">{}</metadata>",
            escaped(value)
        );
    };
    metadata("Title", about.title);
    metadata("Description", about.description);
    if let Some(date) = about.date {
        metadata("CreationDate", date);
    }
    metadata(
        "Application",
        concat!("barrelhead ", env!("CARGO_PKG_VERSION")),
    );
    text.push_str(" <resources>\n");
    for (index, part) in parts.iter().enumerate() {
        object(&mut text, index + 1, part)?;
    }
    text.push_str(" </resources>\n <build>\n");
    let mut y = GAP;
    for (index, part) in parts.iter().enumerate() {
        let _ = writeln!(
            text,
            "  <item objectid=\"{}\" partnumber=\"{}\" transform=\"{}\"/>",
            index + 1,
            escaped(&part.number),
            transform(part, DVec2::new(GAP, y))
        );
        y += part.on_bed().y + GAP;
    }
    text.push_str(" </build>\n</model>\n");
    Ok(text)
}

fn object(text: &mut String, id: usize, part: &PrintPart) -> Result<(), ThreeMfError> {
    let bad = || ThreeMfError::BadMesh {
        part: part.name.clone(),
    };
    let _ = writeln!(
        text,
        "  <object id=\"{id}\" type=\"model\" name=\"{}\" partnumber=\"{}\">\n   <mesh>\n    <vertices>",
        escaped(&part.name),
        escaped(&part.number)
    );
    for point in &part.mesh.points {
        if !point.is_finite() {
            return Err(bad());
        }
        let [x, y, z] = point.to_array().map(digits);
        let _ = writeln!(text, "     <vertex x=\"{x}\" y=\"{y}\" z=\"{z}\"/>");
    }
    text.push_str("    </vertices>\n    <triangles>\n");
    for [a, b, c] in &part.mesh.triangles {
        if [a, b, c]
            .into_iter()
            .any(|id| *id >= part.mesh.points.len())
        {
            return Err(bad());
        }
        let _ = writeln!(text, "     <triangle v1=\"{a}\" v2=\"{b}\" v3=\"{c}\"/>");
    }
    text.push_str("    </triangles>\n   </mesh>\n  </object>\n");
    Ok(())
}

/// The shortest digits of a number of single precision; the format knows no exponents worth using.
fn digits(value: f64) -> String {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "meshes for printers are in single precision already"
    )]
    let single = value as f32 + 0.0;
    format!("{single}")
}

/// Twelve numbers, row by row: the part turned about z, then moved so that its box begins at `at`.
fn transform(part: &PrintPart, at: DVec2) -> String {
    let (sin, cos) = part.turn.sin_cos();
    let exact = |v: f64| if v.abs() < 1e-12 { 0.0 } else { v };
    let (sin, cos) = (exact(sin), exact(cos));
    // Points are rows: (x, y) turns into (x cos − y sin, x sin + y cos).
    let turned = |p: DVec2| DVec2::new(p.x * cos - p.y * sin, p.x * sin + p.y * cos);
    let low = part
        .mesh
        .points
        .iter()
        .map(|point: &DVec3| turned(point.truncate()))
        .fold(DVec2::INFINITY, DVec2::min);
    let shift = at - low;
    [
        cos, sin, 0.0, -sin, cos, 0.0, 0.0, 0.0, 1.0, shift.x, shift.y, 0.0,
    ]
    .map(|v| digits(exact(v)))
    .join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solid::mesh_data::Mesh;

    fn tetrahedron(name: &str) -> PrintPart {
        PrintPart {
            name: name.to_owned(),
            number: "tetrahedron".to_owned(),
            mesh: Mesh {
                points: vec![DVec3::ZERO, DVec3::X, 2.0 * DVec3::Y, DVec3::Z * 0.1],
                triangles: vec![[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]],
            },
            size: DVec3::new(1.0, 2.0, 0.1),
            volume: 0.1 / 3.0,
            area: 1.0,
            turn: std::f64::consts::FRAC_PI_2,
            notes: Vec::new(),
        }
    }

    const ABOUT: About<'_> = About {
        title: "A & B",
        description: "",
        date: None,
    };

    #[test]
    fn names_are_escaped_and_numbers_short() {
        let text = model(&[tetrahedron("<\"\u{1}é\">")], &ABOUT).unwrap();
        assert!(
            text.contains("name=\"&lt;&quot;\u{fffd}é&quot;&gt;\""),
            "{text}"
        );
        assert!(text.contains("<metadata name=\"Title\">A &amp; B</metadata>"));
        assert!(text.contains("<vertex x=\"0\" y=\"0\" z=\"0.1\"/>"));
        assert!(
            !text.contains("CreationDate"),
            "no date unless the file gives one"
        );
    }

    #[test]
    fn a_quarter_turn_stays_in_the_positive_octant() {
        // (x, y) → (−y, x); two wide along x then, so it moves by two and the gap.
        let text = model(&[tetrahedron("a"), tetrahedron("b")], &ABOUT).unwrap();
        assert!(
            text.contains("transform=\"0 1 0 -1 0 0 0 0 1 12 10 0\""),
            "{text}"
        );
        assert!(
            text.contains("transform=\"0 1 0 -1 0 0 0 0 1 12 21 0\""),
            "{text}"
        );
    }

    #[test]
    fn nothing_and_nonsense_are_refused() {
        assert!(matches!(threemf(&[], &ABOUT), Err(ThreeMfError::Empty)));
        let mut part = tetrahedron("a");
        part.mesh.triangles[0][0] = 9;
        assert!(matches!(
            threemf(&[part], &ABOUT),
            Err(ThreeMfError::BadMesh { .. })
        ));
        let mut part = tetrahedron("a");
        part.mesh.points[0].x = f64::NAN;
        assert!(matches!(
            threemf(&[part], &ABOUT),
            Err(ThreeMfError::BadMesh { .. })
        ));
    }
}

//! The whole audit of a STEP file.

use super::meaning::{Found, named, reference, references, text, typed};
use super::parse::{File, Value, parse};
use super::placed::{Placed, placed, schema};
use super::properties::{colour, stated};
use super::shell::{Round, shell};
use super::surfaces::Kind;
use glam::DVec3;
use std::collections::{BTreeMap, BTreeSet};

/// What a sound file holds.
#[derive(Debug)]
pub struct Audit {
    /// The file's own name and its time stamp.
    pub file_name: String,
    pub time_stamp: String,
    /// Names of all products.
    pub products: Vec<String>,
    /// How many instances of each entity type.
    pub counts: BTreeMap<String, usize>,
    /// Solids, in the order of the file.
    pub solids: Vec<Solid>,
    /// `"AP242"` or `"AP214"`.
    pub schema: &'static str,
    /// Parts of an assembly in their places; none for a file of one part.
    pub placed: Vec<Placed>,
}

/// A solid, measured by the file's own flags. Lengths in mm.
#[derive(Debug)]
pub struct Solid {
    pub name: String,
    pub volume: f64,
    pub area: f64,
    pub centroid: DVec3,
    pub faces: usize,
    pub edges: usize,
    pub vertices: usize,
    /// Number of passages right through.
    pub genus: usize,
    pub colour: [f64; 3],
    /// Faces on cylinders: a whole bore is two of them.
    pub cylinders: Vec<Round>,
    /// Faces on cones.
    pub cones: Vec<Round>,
}

/// Entity types that nothing else has to name.
const ROOTS: [&str; 6] = [
    "APPLICATION_PROTOCOL_DEFINITION",
    "CONTEXT_DEPENDENT_SHAPE_REPRESENTATION",
    "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION",
    "PRODUCT_RELATED_PRODUCT_CATEGORY",
    "PROPERTY_DEFINITION_REPRESENTATION",
    "SHAPE_DEFINITION_REPRESENTATION",
];

/// Reads a STEP file and checks it: form, references, units, every flag of its shells, and its
/// stated volume, area and centroid against those of its own faces.
///
/// # Errors
/// Everything that was found wrong, one sentence each.
pub fn audit(step: &str) -> Result<Audit, Vec<String>> {
    let file = parse(step).map_err(|wrong| vec![wrong])?;
    let mut wrong = Vec::new();
    references_resolve(&file, &mut wrong);
    let mut note = |found: Found<()>| wrong.extend(found.err());
    note(units(&file));
    let (file_name, time_stamp, schema) = match header(&file) {
        Ok(names) => names,
        Err(bad) => {
            note(Err(bad));
            Default::default()
        }
    };
    let mut products = Vec::new();
    for product in file.all("PRODUCT") {
        let values = file.record(product, "PRODUCT", 4);
        match values.and_then(|v| text(&v[1])) {
            Ok(name) => products.push(name),
            Err(bad) => note(Err(bad)),
        }
    }
    let mut solids = Vec::new();
    for name in file.all("MANIFOLD_SOLID_BREP") {
        match solid(&file, name) {
            Ok(one) => solids.push((name, one)),
            Err(bad) => wrong.extend(bad),
        }
    }
    let mut counts = BTreeMap::new();
    for (keyword, _) in file.instances.values().flatten() {
        *counts.entry(keyword.clone()).or_insert(0) += 1;
    }
    if solids.is_empty() && wrong.is_empty() {
        wrong.push("no solid".to_owned());
    }
    if !wrong.is_empty() {
        return Err(wrong);
    }
    let placed = placed(&file, &solids).map_err(|wrong| vec![wrong])?;
    Ok(Audit {
        file_name,
        time_stamp,
        products,
        counts,
        solids: solids.into_iter().map(|(_, solid)| solid).collect(),
        schema,
        placed,
    })
}

fn references_resolve(file: &File, wrong: &mut Vec<String>) {
    let mut used = BTreeSet::new();
    for (name, records) in &file.instances {
        let mut targets = Vec::new();
        for (_, values) in records {
            for value in values {
                named(value, &mut targets);
            }
        }
        for target in targets {
            if !file.instances.contains_key(&target) {
                wrong.push(format!("#{name} names #{target}, which is not there"));
            }
            used.insert(target);
        }
        let keywords: Vec<&String> = records.iter().map(|(keyword, _)| keyword).collect();
        if !keywords.is_sorted() {
            wrong.push(format!("#{name} is not in alphabetical order"));
        }
    }
    for name in file.instances.keys() {
        if !used.contains(name) && !ROOTS.contains(&file.keyword(*name)) {
            wrong.push(format!("nothing names #{name} {}", file.keyword(*name)));
        }
    }
}

fn header(file: &File) -> Found<(String, String, &'static str)> {
    match file.header.as_slice() {
        [(d, description), (n, name), (s, schemas)]
            if d == "FILE_DESCRIPTION" && n == "FILE_NAME" && s == "FILE_SCHEMA" =>
        {
            if description.get(1) != Some(&Value::Text("2;1".to_owned())) {
                return Err("implementation level is not 2;1".to_owned());
            }
            let schema = schema(file, schemas)?;
            match name.as_slice() {
                [file_name, stamp, ..] if name.len() == 7 => {
                    Ok((text(file_name)?, text(stamp)?, schema))
                }
                _ => Err("FILE_NAME has not seven attributes".to_owned()),
            }
        }
        _ => Err("the header has not its three entities in order".to_owned()),
    }
}

/// Millimetre, radian and steradian, and an uncertainty of a micrometre's thousandth at most.
fn units(file: &File) -> Found<()> {
    let context = file.only("GEOMETRIC_REPRESENTATION_CONTEXT")?;
    let units = references(&file.record(context, "GLOBAL_UNIT_ASSIGNED_CONTEXT", 1)?[0])?;
    let wanted = [
        ("LENGTH_UNIT", Value::Enum("MILLI".to_owned()), "METRE"),
        ("PLANE_ANGLE_UNIT", Value::Unset, "RADIAN"),
        ("SOLID_ANGLE_UNIT", Value::Unset, "STERADIAN"),
    ];
    if units.len() != wanted.len() {
        return Err("not three units".to_owned());
    }
    for (unit, (keyword, prefix, name)) in units.iter().zip(wanted) {
        file.record(*unit, keyword, 0)?;
        file.record(*unit, "NAMED_UNIT", 1)?;
        let si = file.record(*unit, "SI_UNIT", 2)?;
        if si != [prefix, Value::Enum(name.to_owned())] {
            return Err(format!("{keyword} is {si:?}"));
        }
    }
    let spread = file.record(context, "GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT", 1)?;
    for one in references(&spread[0])? {
        let values = file.record(one, "UNCERTAINTY_MEASURE_WITH_UNIT", 4)?;
        let value = typed(&values[0], "LENGTH_MEASURE")?;
        if !(value > 0.0 && value <= 1e-6) || reference(&values[1])? != units[0] {
            return Err(format!("uncertainty is {value}"));
        }
    }
    Ok(())
}

fn solid(file: &File, id: u64) -> Result<Solid, Vec<String>> {
    let one = |wrong: String| vec![wrong];
    let values = file.record(id, "MANIFOLD_SOLID_BREP", 2).map_err(one)?;
    let name = text(&values[0]).map_err(one)?;
    let shell = shell(file, reference(&values[1]).map_err(one)?);
    let mut wrong = shell.wrong.clone();
    let volume = shell.sums.volume;
    if volume.is_nan() || volume <= 0.0 {
        wrong.push(format!("volume by the file's flags is {volume}"));
    }
    let centroid = shell.sums.moment / volume;
    let stated = stated(file, id, volume, shell.sums.area, centroid);
    wrong.extend(stated.err());
    let genus = shell.genus();
    if genus.is_none() {
        wrong.push("vertices, edges and faces do not close".to_owned());
    }
    let colour = match colour(file, id) {
        Ok(rgb) => rgb,
        Err(bad) => {
            wrong.push(bad);
            [0.0; 3]
        }
    };
    if !wrong.is_empty() {
        return Err(wrong.iter().map(|w| format!("{name}: {w}")).collect());
    }
    let (cylinders, cones) = shell
        .round
        .iter()
        .cloned()
        .partition(|r| matches!(r.surface.kind, Kind::Cylinder { .. }));
    Ok(Solid {
        name,
        volume,
        area: shell.sums.area,
        centroid,
        faces: shell.faces,
        edges: shell.edges,
        vertices: shell.vertices,
        genus: genus.unwrap_or_default(),
        colour,
        cylinders,
        cones,
    })
}

//! What the file says of a solid beside its shape: validation properties and colour.

use super::meaning::{Found, real, reference, references, text, typed};
use super::parse::{File, Value};
use glam::DVec3;
use std::collections::BTreeMap;

/// Follows the solid to its product and compares the product's validation properties.
pub fn stated(file: &File, solid: u64, volume: f64, area: f64, centroid: DVec3) -> Found<()> {
    let mut shape = None;
    for link in file.all("SHAPE_DEFINITION_REPRESENTATION") {
        let values = file.record(link, "SHAPE_DEFINITION_REPRESENTATION", 2)?;
        // An assembly's own representation holds places, no solid.
        let keyword = "ADVANCED_BREP_SHAPE_REPRESENTATION";
        if file.keyword(reference(&values[1])?) == "SHAPE_REPRESENTATION" {
            continue;
        }
        let brep = file.record(reference(&values[1])?, keyword, 3)?;
        if references(&brep[1])?.contains(&solid) {
            shape = Some((reference(&values[0])?, reference(&brep[2])?));
        }
    }
    let (shape, context) = shape.ok_or("the solid belongs to no product")?;
    let found = stated_of(file, shape, context, "geometric validation property")?;
    compare(file, &found, volume, area, centroid)
}

/// The properties of one kind that hang on a product's shape, by name.
pub fn stated_of(
    file: &File,
    shape: u64,
    context: u64,
    wanted: &str,
) -> Found<BTreeMap<String, u64>> {
    let mut found = BTreeMap::new();
    for link in file.all("PROPERTY_DEFINITION_REPRESENTATION") {
        let values = file.record(link, "PROPERTY_DEFINITION_REPRESENTATION", 2)?;
        let property = file.record(reference(&values[0])?, "PROPERTY_DEFINITION", 3)?;
        let kind = text(&property[0])?;
        if reference(&property[2])? != shape || kind != wanted {
            continue;
        }
        let held = file.record(reference(&values[1])?, "REPRESENTATION", 3)?;
        if reference(&held[2])? != context {
            return Err("a property lies in another context".to_owned());
        }
        match references(&held[1])?.as_slice() {
            [item] => found.insert(text(&held[0])?, *item),
            _ => return Err("a property with more than one item".to_owned()),
        };
    }
    Ok(found)
}

/// Compares volume, area and centroid with what is stated.
pub fn compare(
    file: &File,
    found: &BTreeMap<String, u64>,
    volume: f64,
    area: f64,
    centroid: DVec3,
) -> Found<()> {
    let item = |name: &str| found.get(name).ok_or(format!("no property {name}"));
    let given = measure(
        file,
        *item("volume")?,
        ["volume measure", "VOLUME_MEASURE"],
        3.0,
    )?;
    near("volume", volume, given)?;
    let names = ["surface area measure", "AREA_MEASURE"];
    let given = measure(file, *item("surface area")?, names, 2.0)?;
    near("surface area", area, given)?;
    let middle = *item("centroid")?;
    let label = text(&file.record(middle, "CARTESIAN_POINT", 2)?[0])?;
    let off = file.point(middle)?.distance(centroid);
    if label != "centre point" || off.is_nan() || off > 1e-7 {
        return Err(format!("centroid {label} is {off} mm off"));
    }
    Ok(())
}

fn near(what: &str, own: f64, given: f64) -> Found<()> {
    if (own - given).abs() <= 1e-9 * given.abs() {
        return Ok(());
    }
    Err(format!("{what} is {own}, stated as {given}"))
}

fn measure(file: &File, item: u64, [label, kind]: [&str; 2], power: f64) -> Found<f64> {
    let values = file.record(item, "MEASURE_REPRESENTATION_ITEM", 3)?;
    let unit = file.record(reference(&values[2])?, "DERIVED_UNIT", 1)?;
    let elements = references(&unit[0])?;
    let [element] = elements.as_slice() else {
        return Err("a derived unit of several elements".to_owned());
    };
    let element = file.record(*element, "DERIVED_UNIT_ELEMENT", 2)?;
    let base = reference(&element[0])?;
    file.record(base, "LENGTH_UNIT", 0)?;
    if text(&values[0])? != label || (real(&element[1])? - power).abs() > 0.0 {
        return Err(format!("#{item} is no {label} in mm to the {power}"));
    }
    typed(&values[1], kind)
}

/// The one colour of a solid, listed in the solid's own context.
pub fn colour(file: &File, solid: u64) -> Found<[f64; 3]> {
    let list = file.only("MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION")?;
    let list = file.record(
        list,
        "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION",
        3,
    )?;
    if reference(&list[2])? != file.only("GEOMETRIC_REPRESENTATION_CONTEXT")? {
        return Err("colours lie in another context".to_owned());
    }
    let mut colours = Vec::new();
    for item in references(&list[1])? {
        let styled = file.record(item, "STYLED_ITEM", 3)?;
        if reference(&styled[2])? != solid {
            continue;
        }
        let style = inner(file, &styled[1], "PRESENTATION_STYLE_ASSIGNMENT", 1)?;
        let usage = inner(file, &style[0], "SURFACE_STYLE_USAGE", 2)?;
        let side = inner(file, &usage[1], "SURFACE_SIDE_STYLE", 2)?;
        let area = inner(file, &side[1], "SURFACE_STYLE_FILL_AREA", 1)?;
        let fill = inner(file, &area[0], "FILL_AREA_STYLE", 2)?;
        let fill = inner(file, &fill[1], "FILL_AREA_STYLE_COLOUR", 2)?;
        let rgb = inner(file, &fill[1], "COLOUR_RGB", 4)?;
        colours.push([real(&rgb[1])?, real(&rgb[2])?, real(&rgb[3])?]);
    }
    match colours.as_slice() {
        [one] => Ok(*one),
        several => Err(format!("{} colours", several.len())),
    }
}

/// The record that a reference, or a list of one reference, names.
fn inner<'a>(file: &'a File, value: &Value, keyword: &str, count: usize) -> Found<&'a [Value]> {
    let name = match value {
        Value::List(items) if items.len() == 1 => reference(&items[0])?,
        other => reference(other)?,
    };
    file.record(name, keyword, count)
}

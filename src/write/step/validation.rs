//! Geometric validation properties: the volume, area and centroid that a reader should find.
//! Names as in the recommended practice *Geometric and Assembly Validation Properties* v4.6,
//! which asks for lower case and a unit with every measure.

use super::geometry::point;
use super::part21::{Data, Id, Value};
use super::product::{Frame, Product};
use crate::solid::brep::Measures;

/// Writes the three properties of a product.
pub(super) fn properties(data: &mut Data, frame: &Frame, product: Product, measures: &Measures) {
    let volume = measure(
        data,
        frame,
        "volume measure",
        Value::Typed("VOLUME_MEASURE", measures.volume),
        3.0,
    );
    property(data, frame, product, "volume", volume);
    let area = measure(
        data,
        frame,
        "surface area measure",
        Value::Typed("AREA_MEASURE", measures.area),
        2.0,
    );
    property(data, frame, product, "surface area", area);
    let centroid = point(data, "centre point", measures.centroid);
    property(data, frame, product, "centroid", centroid);
}

/// A measure in a power of the millimetre.
fn measure(data: &mut Data, frame: &Frame, name: &str, value: Value<'_>, power: f64) -> Id {
    let element = data.add(
        "DERIVED_UNIT_ELEMENT",
        &[frame.millimetre.into(), power.into()],
    );
    let unit = data.add("DERIVED_UNIT", &[vec![element].into()]);
    data.add(
        "MEASURE_REPRESENTATION_ITEM",
        &[name.into(), value, unit.into()],
    )
}

/// Writes how many parts an assembly holds directly. A count has no unit (the same practice, from
/// memory: a VALUE_REPRESENTATION_ITEM with a COUNT_MEASURE).
pub(super) fn children(data: &mut Data, frame: &Frame, assembly: Product, count: usize) {
    let name = "number of children";
    let value = Value::Typed("COUNT_MEASURE", count as f64);
    let item = data.add("VALUE_REPRESENTATION_ITEM", &[name.into(), value]);
    let kind = "assembly validation property";
    property_of_kind(data, frame, assembly, [kind, name], item);
}

fn property(data: &mut Data, frame: &Frame, product: Product, name: &str, item: Id) {
    let kind = "geometric validation property";
    property_of_kind(data, frame, product, [kind, name], item);
}

fn property_of_kind(
    data: &mut Data,
    frame: &Frame,
    product: Product,
    [kind, name]: [&str; 2],
    item: Id,
) {
    let definition = data.add(
        "PROPERTY_DEFINITION",
        &[kind.into(), name.into(), product.shape.into()],
    );
    let representation = data.add(
        "REPRESENTATION",
        &[name.into(), vec![item].into(), frame.context.into()],
    );
    data.add(
        "PROPERTY_DEFINITION_REPRESENTATION",
        &[definition.into(), representation.into()],
    );
}

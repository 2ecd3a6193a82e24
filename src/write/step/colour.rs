//! Colours of whole solids.

use super::part21::{Data, Id, Value};

/// One colour over the whole of an item, on both sides of its faces. `rgb` is red, green and
/// blue from 0 to 1.
pub(super) fn styled(data: &mut Data, item: Id, rgb: [f64; 3]) -> Id {
    let [red, green, blue] = rgb;
    let colour = data.add(
        "COLOUR_RGB",
        &["".into(), red.into(), green.into(), blue.into()],
    );
    let fill_colour = data.add("FILL_AREA_STYLE_COLOUR", &["".into(), colour.into()]);
    let fill = data.add("FILL_AREA_STYLE", &["".into(), vec![fill_colour].into()]);
    let area = data.add("SURFACE_STYLE_FILL_AREA", &[fill.into()]);
    let side = data.add("SURFACE_SIDE_STYLE", &["".into(), vec![area].into()]);
    let usage = data.add("SURFACE_STYLE_USAGE", &[Value::Enum("BOTH"), side.into()]);
    let style = data.add("PRESENTATION_STYLE_ASSIGNMENT", &[vec![usage].into()]);
    data.add("STYLED_ITEM", &["".into(), vec![style].into(), item.into()])
}

/// The one list of all styled items of a file, in the context of the shapes they colour.
pub(super) fn presentation(data: &mut Data, items: Vec<Id>, context: Id) {
    data.add(
        "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION",
        &["".into(), items.into(), context.into()],
    );
}

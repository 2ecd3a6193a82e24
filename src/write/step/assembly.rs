//! Several parts in one file, each a component with its own name, colour and place.
//!
//! Every part keeps its own frame; an occurrence in the assembly says where that frame stands. The
//! relationship of the representations runs from the part's to the assembly's, and the
//! transformation names the part's own axes first and the axes in the assembly second: a reader takes
//! the first onto the second.

use super::colour::presentation;
use super::geometry::placement;
use super::part21::{Data, Id, Value};
use super::product::{self, Product, Shape};
use super::schema::Schema;
use super::{Header, Part, StepError, validation, whole, write_part};
use crate::layout::Frame;
use crate::solid::brep::Measures;
use crate::tolerance::NOISE;
use glam::DVec3;

/// A part with its place in the assembly.
#[derive(Debug, Clone, Copy)]
pub struct Component<'a> {
    /// The part; no two of an assembly have the same name.
    pub part: Part<'a>,
    /// Where the part's own frame stands in the assembly.
    pub pose: Frame,
}

/// The whole text of a STEP file with an assembly of this name.
///
/// Beside each part's own properties the assembly states the number of its parts, and volume, area
/// and centroid of all of them together, each in its place.
///
/// # Errors
/// [`StepError`] where there is no part, a part is no proper solid or stands in no proper frame;
/// nothing is written then.
pub fn assembly_file(
    schema: Schema,
    name: &str,
    components: &[Component<'_>],
    header: &Header<'_>,
) -> Result<String, StepError> {
    if components.is_empty() {
        return Err(StepError::NoParts);
    }
    let mut data = Data::default();
    let frame = product::frame(&mut data, schema);
    let assembly = product::product(&mut data, &frame, name);
    let origin = placement(&mut data, DVec3::ZERO, DVec3::Z, DVec3::X);
    let mut written = Vec::with_capacity(components.len());
    let mut items = vec![origin];
    for component in components {
        let pose = sound(component)?;
        let part = write_part(&mut data, &frame, &component.part)?;
        let place = placement(&mut data, pose.origin, pose.z, pose.x);
        items.push(place);
        written.push((part, place));
    }
    let representation = data.add(
        "SHAPE_REPRESENTATION",
        &[name.into(), items.into(), frame.context.into()],
    );
    data.add(
        "SHAPE_DEFINITION_REPRESENTATION",
        &[assembly.shape.into(), representation.into()],
    );
    for (index, ((part, place), component)) in written.iter().zip(components).enumerate() {
        let child = Occurrence {
            id: (index + 1).to_string(),
            name: component.part.name,
            product: part.product,
            shape: part.shape,
            place: *place,
        };
        occurrence(&mut data, assembly, representation, &child);
    }
    properties(&mut data, &frame, assembly, components);
    let styled = written.iter().map(|(part, _)| part.styled).collect();
    presentation(&mut data, styled, frame.context);
    whole(data, header, schema)
}

/// The component's place, if it is a right-handed frame.
fn sound<'a>(component: &'a Component<'_>) -> Result<&'a Frame, StepError> {
    let pose = &component.pose;
    let off = [
        pose.x.cross(pose.y).distance(pose.z),
        pose.x.length() - 1.0,
        pose.y.length() - 1.0,
        pose.z.length() - 1.0,
    ];
    // Written so that NaN fails too.
    if off.iter().all(|off| off.abs() <= NOISE) {
        Ok(pose)
    } else {
        Err(StepError::BadPlace {
            part: component.part.name.to_owned(),
        })
    }
}

/// One part as it occurs in the assembly.
struct Occurrence<'a> {
    id: String,
    name: &'a str,
    product: Product,
    shape: Shape,
    /// Axes of the part's frame in the assembly.
    place: Id,
}

fn occurrence(data: &mut Data, assembly: Product, parent: Id, child: &Occurrence<'_>) {
    let usage = data.add(
        "NEXT_ASSEMBLY_USAGE_OCCURRENCE",
        &[
            child.id.as_str().into(),
            child.name.into(),
            "".into(),
            assembly.definition.into(),
            child.product.definition.into(),
            Value::Unset,
        ],
    );
    let shape = data.add(
        "PRODUCT_DEFINITION_SHAPE",
        &[
            "placement".into(),
            "where the part stands".into(),
            usage.into(),
        ],
    );
    let transformation = data.add(
        "ITEM_DEFINED_TRANSFORMATION",
        &[
            "".into(),
            "".into(),
            child.shape.origin.into(),
            child.place.into(),
        ],
    );
    let relationship = data.add_complex(&[
        (
            "REPRESENTATION_RELATIONSHIP",
            &[
                "".into(),
                "".into(),
                child.shape.representation.into(),
                parent.into(),
            ],
        ),
        (
            "REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION",
            &[transformation.into()],
        ),
        ("SHAPE_REPRESENTATION_RELATIONSHIP", &[]),
    ]);
    data.add(
        "CONTEXT_DEPENDENT_SHAPE_REPRESENTATION",
        &[relationship.into(), shape.into()],
    );
}

/// Properties of the assembly: all parts together, in their places.
fn properties(
    data: &mut Data,
    frame: &product::Frame,
    assembly: Product,
    components: &[Component<'_>],
) {
    let sum = |of: fn(&Measures) -> f64| -> f64 {
        components.iter().map(|one| of(one.part.measures)).sum()
    };
    let volume = sum(|measures| measures.volume);
    let moment: DVec3 = components
        .iter()
        .map(|one| one.pose.point(one.part.measures.centroid) * one.part.measures.volume)
        .sum();
    let whole = Measures {
        volume,
        area: sum(|measures| measures.area),
        centroid: moment / volume,
        // Not written.
        min: DVec3::ZERO,
        max: DVec3::ZERO,
    };
    validation::children(data, frame, assembly, components.len());
    validation::properties(data, frame, assembly, &whole);
}

//! What the file says beside the shape: application protocol, units, products.
//!
//! Kept apart from the geometry, so that a file with several products, or an assembly of them,
//! only calls these more than once.

use super::geometry::placement;
use super::part21::{Data, Id, Value};
use super::schema::Schema;
use crate::tolerance::MERGE;
use glam::DVec3;

/// Instances that every product of a file refers to.
#[derive(Debug, Clone, Copy)]
pub(super) struct Frame {
    product_context: Id,
    definition_context: Id,
    /// Unit of length, mm.
    pub(super) millimetre: Id,
    /// Context of every representation: three dimensions, units, uncertainty.
    pub(super) context: Id,
}

/// A product and the shape it carries.
#[derive(Debug, Clone, Copy)]
pub(super) struct Product {
    /// The PRODUCT_DEFINITION, which assemblies name.
    pub(super) definition: Id,
    /// The PRODUCT_DEFINITION_SHAPE, on which its properties hang.
    pub(super) shape: Id,
}

/// Application protocol, contexts and units, once a file.
pub(super) fn frame(data: &mut Data, schema: Schema) -> Frame {
    let application = data.add("APPLICATION_CONTEXT", &[schema.application().into()]);
    let (protocol, year) = schema.protocol();
    data.add(
        "APPLICATION_PROTOCOL_DEFINITION",
        &[
            "international standard".into(),
            protocol.into(),
            Value::Integer(year),
            application.into(),
        ],
    );
    let product_context = data.add(
        "PRODUCT_CONTEXT",
        &["".into(), application.into(), "mechanical".into()],
    );
    let definition_context = data.add(
        "PRODUCT_DEFINITION_CONTEXT",
        &[
            "part definition".into(),
            application.into(),
            "design".into(),
        ],
    );
    let (millimetre, context) = units(data);
    Frame {
        product_context,
        definition_context,
        millimetre,
        context,
    }
}

/// The millimetre, and the representation context with millimetre, radian and steradian.
fn units(data: &mut Data) -> (Id, Id) {
    let si = |prefix: Value<'static>, name| [prefix, Value::Enum(name)];
    let millimetre = data.add_complex(&[
        ("LENGTH_UNIT", &[]),
        ("NAMED_UNIT", &[Value::Derived]),
        ("SI_UNIT", &si(Value::Enum("MILLI"), "METRE")),
    ]);
    let radian = data.add_complex(&[
        ("NAMED_UNIT", &[Value::Derived]),
        ("PLANE_ANGLE_UNIT", &[]),
        ("SI_UNIT", &si(Value::Unset, "RADIAN")),
    ]);
    let steradian = data.add_complex(&[
        ("NAMED_UNIT", &[Value::Derived]),
        ("SI_UNIT", &si(Value::Unset, "STERADIAN")),
        ("SOLID_ANGLE_UNIT", &[]),
    ]);
    // Readers sew with this figure. Our points lie on their curves to about 1e-12 mm and no
    // feature is smaller than MERGE, so it neither opens a seam nor swallows an edge.
    let uncertainty = data.add(
        "UNCERTAINTY_MEASURE_WITH_UNIT",
        &[
            Value::Typed("LENGTH_MEASURE", MERGE),
            millimetre.into(),
            "distance_accuracy_value".into(),
            "points closer than this are one point".into(),
        ],
    );
    let context = data.add_complex(&[
        ("GEOMETRIC_REPRESENTATION_CONTEXT", &[Value::Integer(3)]),
        (
            "GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT",
            &[vec![uncertainty].into()],
        ),
        (
            "GLOBAL_UNIT_ASSIGNED_CONTEXT",
            &[vec![millimetre, radian, steradian].into()],
        ),
        ("REPRESENTATION_CONTEXT", &["".into(), "3D".into()]),
    ]);
    (millimetre, context)
}

/// A product of the name, without a shape yet.
pub(super) fn product(data: &mut Data, frame: &Frame, name: &str) -> Product {
    let product = data.add(
        "PRODUCT",
        &[
            name.into(),
            name.into(),
            "".into(),
            vec![frame.product_context].into(),
        ],
    );
    data.add(
        "PRODUCT_RELATED_PRODUCT_CATEGORY",
        &["part".into(), "".into(), vec![product].into()],
    );
    let formation = data.add(
        "PRODUCT_DEFINITION_FORMATION",
        &["".into(), "".into(), product.into()],
    );
    let definition = data.add(
        "PRODUCT_DEFINITION",
        &[
            "design".into(),
            "".into(),
            formation.into(),
            frame.definition_context.into(),
        ],
    );
    let shape = data.add(
        "PRODUCT_DEFINITION_SHAPE",
        &["".into(), "".into(), definition.into()],
    );
    Product { definition, shape }
}

/// A product's shape: its representation and the axis placement of the product's own frame in it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shape {
    pub(super) representation: Id,
    pub(super) origin: Id,
}

/// Gives the product its shape: the solid, in the product's own frame.
pub(super) fn shape(
    data: &mut Data,
    frame: &Frame,
    product: Product,
    name: &str,
    solid: Id,
) -> Shape {
    let origin = placement(data, DVec3::ZERO, DVec3::Z, DVec3::X);
    let representation = data.add(
        "ADVANCED_BREP_SHAPE_REPRESENTATION",
        &[
            name.into(),
            vec![origin, solid].into(),
            frame.context.into(),
        ],
    );
    data.add(
        "SHAPE_DEFINITION_REPRESENTATION",
        &[product.shape.into(), representation.into()],
    );
    Shape {
        representation,
        origin,
    }
}

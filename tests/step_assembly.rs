//! Assemblies in STEP: small solids by hand in known places, read back by the reader that takes
//! every flag and every order literally.
#![allow(clippy::unwrap_used, clippy::panic, reason = "helpers of tests")]

mod part21;
mod shapes;

use barrelhead::layout::Frame;
use barrelhead::write::step::{
    Component, Header, Part, Schema, StepError, assembly_file, step_file, step_file_as,
};
use glam::DVec3;
use part21::audit;
use shapes::Shape;

const HEADER: Header<'static> = Header {
    file_name: "assembly.step",
    description: "An assembly for a test",
    date: None,
};

/// Turned by 30 degrees about z and laid over, so that a transposed matrix shows.
fn askew() -> Frame {
    let (sin, cos) = 30f64.to_radians().sin_cos();
    Frame {
        origin: DVec3::new(100.0, -20.0, 7.0),
        x: DVec3::new(cos, sin, 0.0),
        y: DVec3::Z,
        z: DVec3::new(cos, sin, 0.0).cross(DVec3::Z),
    }
}

fn component<'a>(shape: &'a Shape, name: &'a str, pose: Frame) -> Component<'a> {
    let part = Part {
        name,
        brep: &shape.brep,
        measures: &shape.measures,
        colour: [0.1, 0.2, 0.3],
    };
    Component { part, pose }
}

fn text(schema: Schema) -> String {
    let (slab, bored) = (shapes::slab(), shapes::blind_hole());
    let parts = [
        component(&slab, "slab", Frame::HEAD),
        component(&bored, "bored", askew()),
        component(&slab, "slab again", Frame::moved(DVec3::X * 200.0)),
    ];
    assembly_file(schema, "three parts", &parts, &HEADER).unwrap()
}

#[test]
fn parts_keep_their_names_colours_and_places_in_both_schemas() {
    for (schema, name) in [(Schema::Ap242, "AP242"), (Schema::Ap214, "AP214")] {
        let found = audit(&text(schema)).unwrap_or_else(|wrong| panic!("{}", wrong.join("\n")));
        assert_eq!(found.schema, name);
        assert_eq!(
            found.products,
            ["three parts", "slab", "bored", "slab again"]
        );
        assert_eq!(found.solids.len(), 3);
        let names: Vec<&str> = found.placed.iter().map(|p| p.name.as_str()).collect();
        assert_eq!(names, ["slab", "bored", "slab again"]);
        for (placed, pose) in
            found
                .placed
                .iter()
                .zip([Frame::HEAD, askew(), Frame::moved(DVec3::X * 200.0)])
        {
            assert_eq!(placed.name, placed.product);
            assert_eq!(placed.name, found.solids[placed.solid].name);
            for p in [DVec3::ZERO, DVec3::new(3.0, 4.0, 5.0)] {
                assert!(placed.point(p).distance(pose.point(p)) < 1e-12);
            }
            let colour = found.solids[placed.solid].colour;
            assert!((colour[0] - 0.1).abs() < 1e-15 && (colour[2] - 0.3).abs() < 1e-15);
        }
    }
}

#[test]
fn damage_to_an_assembly_is_caught() {
    let good = text(Schema::Ap242);
    audit(&good).unwrap();
    // The ends of a relationship, and of a transformation, each the wrong way round.
    let swapped = |keyword: &str, first: usize| {
        let marker = format!("{keyword}('','',");
        let at = good.find(&marker).unwrap() + marker.len();
        let end = at + good[at..].find(')').unwrap();
        let ids: Vec<&str> = good[at..end].split(',').collect();
        assert_eq!(ids.len(), 2);
        let bad = format!("{}{},{}{}", &good[..at], ids[1], ids[0], &good[end..]);
        let wrong = audit(&bad).unwrap_err().join("\n");
        let expected = ["does not run from the part", "axes of another"][first];
        assert!(wrong.contains(expected), "{wrong}");
    };
    swapped("REPRESENTATION_RELATIONSHIP", 0);
    swapped("ITEM_DEFINED_TRANSFORMATION", 1);
    for (from, to, expected) in [
        (
            "COUNT_MEASURE(3.)",
            "COUNT_MEASURE(4.)",
            "4 parts are stated",
        ),
        (
            "NEXT_ASSEMBLY_USAGE_OCCURRENCE('2'",
            "NEXT_ASSEMBLY_USAGE_OCCURRENCE('1'",
            "id of another",
        ),
        ("(100.,-20.,7.)", "(100.,-20.,8.)", "centroid"),
        (
            "'ap242_managed_model_based_3d_engineering'",
            "'automotive_design'",
            "is defined as",
        ),
    ] {
        assert!(good.contains(from), "{from}");
        let wrong = audit(&good.replacen(from, to, 1)).unwrap_err().join("\n");
        assert!(wrong.contains(expected), "{from} gives {wrong}");
    }
}

#[test]
fn a_single_part_in_the_older_schema_differs_in_its_protocol_alone() {
    let shape = shapes::blind_hole();
    let part = component(&shape, "bored", Frame::HEAD).part;
    let newer = step_file(&part, &HEADER).unwrap();
    assert_eq!(newer, step_file_as(Schema::Ap242, &part, &HEADER).unwrap());
    let older = step_file_as(Schema::Ap214, &part, &HEADER).unwrap();
    let found = audit(&older).unwrap();
    assert_eq!(found.schema, "AP214");
    assert!(found.placed.is_empty());
    let differing: Vec<&str> = newer
        .lines()
        .zip(older.lines())
        .filter(|(a, b)| a != b)
        .map(|(_, b)| b)
        .collect();
    assert_eq!(differing.len(), 3, "{differing:?}");
    assert!(differing[0].starts_with("FILE_SCHEMA"));
    assert!(differing[1].contains("=APPLICATION_CONTEXT("));
    assert!(differing[2].contains("=APPLICATION_PROTOCOL_DEFINITION("));
}

#[test]
fn what_is_no_assembly_is_refused() {
    let none = assembly_file(Schema::Ap242, "", &[], &HEADER);
    assert_eq!(none.unwrap_err(), StepError::NoParts);
    let slab = shapes::slab();
    for damage in [DVec3::X * 2.0, -DVec3::X, DVec3::X * f64::NAN, DVec3::Y] {
        let mut part = component(&slab, "slab", Frame::HEAD);
        part.pose.x = damage;
        let wrong = assembly_file(Schema::Ap242, "one", &[part], &HEADER);
        assert!(matches!(wrong, Err(StepError::BadPlace { .. })));
    }
    let mut part = component(&slab, "slab", Frame::HEAD);
    part.part.colour = [2.0, 0.0, 0.0];
    let wrong = assembly_file(Schema::Ap242, "one", &[part], &HEADER);
    assert_eq!(wrong.unwrap_err(), StepError::BadColour);
}

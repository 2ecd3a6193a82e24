//! Points, curves and surfaces.
//!
//! Every curve is laid so that its own direction is that of its edge, so an EDGE_CURVE's
//! `same_sense` is always true: an arc that runs backwards in its parameter gets the opposite
//! axis instead.

use super::StepError;
use super::part21::{Data, Id, Value};
use crate::solid::brep::{Brep, Curve, Edge, Surface};
use crate::tolerance::{CIRCLE_RELATIVE, MERGE};
use glam::DVec3;

/// A point; equal points are one instance.
pub(super) fn point(data: &mut Data, name: &str, at: DVec3) -> Id {
    data.share("CARTESIAN_POINT", &[name.into(), triple(at)])
}

/// A unit direction; equal directions are one instance.
fn direction(data: &mut Data, along: DVec3) -> Id {
    data.share("DIRECTION", &["".into(), triple(along)])
}

/// An axis placement: origin, z axis, x axis.
pub(super) fn placement(data: &mut Data, origin: DVec3, axis: DVec3, x_axis: DVec3) -> Id {
    let values = [
        "".into(),
        point(data, "", origin).into(),
        direction(data, axis).into(),
        direction(data, x_axis).into(),
    ];
    data.add("AXIS2_PLACEMENT_3D", &values)
}

/// The surface of a face. Its natural normal is that of [`Surface`]: along a plane's axis, away
/// from the axis of a cylinder or cone.
pub(super) fn surface(data: &mut Data, surface: &Surface) -> Id {
    match *surface {
        Surface::Plane {
            origin,
            normal,
            x_axis,
        } => {
            let at = placement(data, origin, normal, x_axis);
            data.add("PLANE", &["".into(), at.into()])
        }
        Surface::Cylinder {
            origin,
            axis,
            x_axis,
            radius,
        } => {
            let at = placement(data, origin, axis, x_axis);
            let values = ["".into(), at.into(), radius.into()];
            data.add("CYLINDRICAL_SURFACE", &values)
        }
        Surface::Cone {
            origin,
            axis,
            x_axis,
            radius,
            half_angle,
        } => {
            let at = placement(data, origin, axis, x_axis);
            // Radians: the unit of plane angle in the representation context.
            let values = ["".into(), at.into(), radius.into(), half_angle.into()];
            data.add("CONICAL_SURFACE", &values)
        }
    }
}

/// The curve of an edge, running from the edge's start to its end.
///
/// # Errors
/// The edge names a vertex that is not there, has no length, has semi-axes that are zero or not
/// square to each other, or an arc that does not end in the edge's vertices.
pub(super) fn curve(data: &mut Data, brep: &Brep, edge: &Edge) -> Result<Id, StepError> {
    let vertex = |index: usize| {
        let found = brep.vertices.get(index).copied();
        found.ok_or(StepError::NoSuchVertex { index })
    };
    let (start, end) = (vertex(edge.start)?, vertex(edge.end)?);
    match edge.curve {
        Curve::Line => {
            let along = unit(end - start).ok_or(StepError::NoLength { at: start })?;
            let from = point(data, "", start);
            let along = direction(data, along);
            let vector = data.share("VECTOR", &["".into(), along.into(), 1.0.into()]);
            Ok(data.add("LINE", &["".into(), from.into(), vector.into()]))
        }
        Curve::Arc {
            center,
            axis_a,
            axis_b,
            from,
            to,
        } => {
            let at = |t: f64| center + axis_a * t.cos() + axis_b * t.sin();
            if start.distance(end) <= MERGE {
                return Err(StepError::NoLength { at: start });
            }
            // Written so that NaN fails too.
            if !(at(from).distance(start) <= MERGE && at(to).distance(end) <= MERGE) {
                return Err(StepError::ArcOffVertex { at: start });
            }
            let axis_b = if to < from { -axis_b } else { axis_b };
            conic(data, center, axis_a, axis_b)
        }
    }
}

/// The circle or ellipse that runs from `axis_a` to `axis_b`, the longer semi-axis first: some
/// readers take semi_axis_1 for the major one.
fn conic(data: &mut Data, center: DVec3, axis_a: DVec3, axis_b: DVec3) -> Result<Id, StepError> {
    let (a, b) = if axis_b.length() > axis_a.length() {
        // A quarter turn onwards: the same curve, run the same way.
        (axis_b, -axis_a)
    } else {
        (axis_a, axis_b)
    };
    let bad = StepError::BadAxes { at: center };
    let (x, y) = match (unit(a), unit(b)) {
        (Some(x), Some(y)) if x.dot(y).abs() <= MERGE => (x, y),
        _ => return Err(bad),
    };
    let axis = unit(x.cross(y)).ok_or(bad)?;
    let at = placement(data, center, axis, x);
    let (long, short) = (a.length(), b.length());
    if long - short <= CIRCLE_RELATIVE * long {
        return Ok(data.add("CIRCLE", &["".into(), at.into(), long.into()]));
    }
    let values = ["".into(), at.into(), long.into(), short.into()];
    Ok(data.add("ELLIPSE", &values))
}

fn triple(v: DVec3) -> Value<'static> {
    Value::List(v.to_array().into_iter().map(Value::Real).collect())
}

/// The vector at length 1; none if it is too short to have a direction, or not finite.
fn unit(v: DVec3) -> Option<DVec3> {
    (v.is_finite() && v.length() > MERGE).then(|| v.normalize())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn arc(axis_a: DVec3, axis_b: DVec3, from: f64, to: f64) -> Result<String, StepError> {
        let at = |t: f64| axis_a * t.cos() + axis_b * t.sin();
        let edge = Edge {
            start: 0,
            end: 1,
            curve: Curve::Arc {
                center: DVec3::ZERO,
                axis_a,
                axis_b,
                from,
                to,
            },
        };
        let brep = Brep {
            vertices: vec![at(from), at(to)],
            edges: vec![edge],
            faces: Vec::new(),
        };
        let mut data = Data::default();
        curve(&mut data, &brep, &edge)?;
        Ok(data.finish().unwrap())
    }

    #[test]
    fn forward_arc_keeps_its_axis_and_backward_arc_gets_the_opposite() {
        let forward = arc(DVec3::X * 3.0, DVec3::Y * 3.0, 0.5, 2.5).unwrap();
        assert!(forward.contains("DIRECTION('',(0.,0.,1.))"));
        assert!(forward.contains("CIRCLE('',#4,3.)"));
        let backward = arc(DVec3::X * 3.0, DVec3::Y * 3.0, 2.5, 0.5).unwrap();
        assert!(backward.contains("DIRECTION('',(0.,0.,-1.))"));
    }

    #[test]
    fn the_longer_semi_axis_comes_first() {
        let text = arc(DVec3::X * 2.0, DVec3::Y * 5.0, 0.0, 3.0).unwrap();
        assert!(text.contains("#2=DIRECTION('',(0.,0.,1.))"), "{text}");
        assert!(text.contains("#3=DIRECTION('',(0.,1.,0.))"), "{text}");
        assert!(text.contains("ELLIPSE('',#4,5.,2.)"), "{text}");
    }

    #[test]
    fn axes_equal_but_for_rounding_make_a_circle() {
        let nearly = 3.0 * (1.0 + 4.0 * f64::EPSILON);
        let text = arc(DVec3::X * 3.0, DVec3::Y * nearly, 0.0, 3.0).unwrap();
        assert!(text.contains("CIRCLE"), "{text}");
        let text = arc(DVec3::X * 3.0, DVec3::Y * 3.000_001, 0.0, 3.0).unwrap();
        assert!(text.contains("ELLIPSE"), "{text}");
    }

    #[test]
    fn arcs_that_cannot_be_are_refused() {
        let skew = arc(DVec3::X, DVec3::new(0.5, 1.0, 0.0), 0.0, 1.0);
        assert!(matches!(skew, Err(StepError::BadAxes { .. })));
        let flat = arc(DVec3::X, DVec3::ZERO, 0.0, 1.0);
        assert!(matches!(flat, Err(StepError::BadAxes { .. })));
        let none = arc(DVec3::X, DVec3::Y, 1.0, 1.0);
        assert!(matches!(none, Err(StepError::NoLength { .. })));
        let nan = arc(DVec3::X, DVec3::Y, f64::NAN, 1.0);
        assert!(matches!(nan, Err(StepError::ArcOffVertex { .. })));
    }
}

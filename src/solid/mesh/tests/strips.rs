//! Curved faces that are no strips are said to be none, by name.

use super::shapes::rod;
use crate::solid::brep::{Brep, Curve, EdgeUse};
use crate::solid::mesh::{MeshFault, mesh};

#[test]
fn a_curved_face_that_is_no_strip_is_named() {
    let arcs = |brep: &Brep| -> Vec<EdgeUse> {
        let uses = brep.faces[0].loops[0].iter().copied();
        uses.filter(|used| matches!(brep.edges[used.edge].curve, Curve::Arc { .. }))
            .collect()
    };
    let hole = |brep: &mut Brep| {
        let copy = brep.faces[0].loops[0].clone();
        brep.faces[0].loops.push(copy);
    };
    let third_arc = |brep: &mut Brep| {
        let arc = arcs(brep)[0];
        brep.faces[0].loops[0].push(arc);
    };
    let no_arc = |brep: &mut Brep| {
        let arcs = arcs(brep);
        brep.faces[0].loops[0].retain(|used| !arcs.contains(used));
    };
    let unequal_arcs = |brep: &mut Brep| {
        let arc = arcs(brep)[1];
        if let Curve::Arc { from, to, .. } = &mut brep.edges[arc.edge].curve {
            *to = *from + 1.0;
        }
    };
    type Spoil<'a> = &'a dyn Fn(&mut Brep);
    let breaks: [(&str, Spoil<'_>); 4] = [
        ("a hole", &hole),
        ("a third arc", &third_arc),
        ("no arc", &no_arc),
        ("arcs with unequal pieces", &unequal_arcs),
    ];
    for (what, spoil) in breaks {
        let mut brep = rod(5.25);
        brep.faces[0].name = "spoilt".to_owned();
        spoil(&mut brep);
        let face = "spoilt".to_owned();
        assert_eq!(
            mesh(&brep, 0.01),
            Err(MeshFault::NoStrip { face }),
            "{what}"
        );
    }
}

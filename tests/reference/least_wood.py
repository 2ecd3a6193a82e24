"""The least wood of a design, measured by OpenCASCADE between the surfaces that section 4 of the contract names.

`measure(design)` gives, by the check's code, the least distance of every place a check looks at: `wood-over`, `wood-under`,
`web`, `cheek`, `rib`, `bearing`; a code is absent where the design has nothing to measure. The surfaces are built here from the
contract, the distances are BRepExtrema's.
"""

from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.BRep import BRep_Builder
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.GeomAbs import GeomAbs_SurfaceType
from OCP.gp import gp_Dir, gp_Pln, gp_Pnt
from OCP.TopoDS import TopoDS_Compound

import occt_common as oc
import occt_head
from occt_slot import SlotTool

UNBOUNDED = 5000.0      # mm each way of a plane: longer than two of the longest lengths a file may hold


def distance(a, b):
    return nearest(a, b).Value()


def nearest(a, b):
    found = BRepExtrema_DistShapeShape(a, b)
    if not found.IsDone() or found.NbSolution() < 1:
        raise ValueError("OpenCASCADE finds no distance")
    return found


def plane(point, normal):
    """The unbounded plane, as a face that reaches past everything."""
    carrier = gp_Pln(gp_Pnt(*point), gp_Dir(*normal))
    return BRepBuilderAPI_MakeFace(carrier, -UNBOUNDED, UNBOUNDED, -UNBOUNDED, UNBOUNDED).Face()


def together(faces):
    builder, found = BRep_Builder(), TopoDS_Compound()
    builder.MakeCompound(found)
    for face in faces:
        builder.Add(found, face)
    return found


def bore_surface(design, bore):
    """Cylinder and point of a bore as built: from the side, trimmed by the end plane where there is one."""
    round_kinds = (GeomAbs_SurfaceType.GeomAbs_Cylinder, GeomAbs_SurfaceType.GeomAbs_Cone)
    tool = occt_head.bore_tool(design, bore, start=0.0, counterbored=False)
    return together(f for f in oc.faces(tool) if BRepAdaptor_Surface(f).GetType() in round_kinds)


def slot_walls(design, slot):
    """The slot's straight walls, its corner arcs and its ends, without the ramp, through the thickness."""
    thickest = max(design.thickness, design.thickness_at_crest)
    edges = SlotTool(slot, thickest).plan_edges(0.0, False)
    return [oc.prism(edge, (0.0, 0.0, -thickest)) for edge in edges]


def faces_and_backs(design):
    """The planes of face and back; the core's as well where the veneers are glued on after drilling."""
    head = design.parameters["head"]
    rise = -(design.thickness_at_crest - design.thickness) / design.length
    over, under = [plane((0, 0, 0), (0, 0, 1))], [plane((0, 0, -design.thickness), (0, -rise, 1))]
    if not head["veneers_on"]:
        over.append(plane((0, 0, -head["face_veneer"]), (0, 0, 1)))
        under.append(plane((0, 0, -design.thickness + head["back_veneer"]), (0, -rise, 1)))
    return over, under


def bearing(design, bore, walls):
    """How far the barrel's end is past the slot's inner wall, along the axis: below zero where it falls short."""
    length = design.parameters["machines"]["barrel_length"]
    far = 2000.0
    axis = oc.line(bore.entry, oc.add(bore.entry, bore.direction, far))
    # The axis meets the outer wall first, the inner wall last.
    depths = []
    for wall in walls:
        found = nearest(axis, wall)
        if found.Value() < 1e-7:
            point = found.PointOnShape2(1)
            depths.append(sum((p - e) * d for p, e, d in zip((point.X(), point.Y(), point.Z()), bore.entry, bore.direction)))
    if len(depths) != 2:
        raise ValueError(f"{bore.side} bore {bore.number} meets {len(depths)} walls of its slot")
    return length - max(depths)


def measures(design):
    """By the check's code, a function that measures it; a code is absent where the design has nothing to measure."""
    over, under = faces_and_backs(design)
    surfaces = {(b.side, b.number): bore_surface(design, b) for b in design.bores}
    found = {
        "wood-over": lambda: min(distance(s, face) for s in surfaces.values() for face in over),
        "wood-under": lambda: min(distance(s, back) for s in surfaces.values() for back in under),
    }
    webs = [(s, surfaces[side, number + 1]) for (side, number), s in surfaces.items() if (side, number + 1) in surfaces]
    if webs:
        found["web"] = lambda: min(distance(a, b) for a, b in webs)
    if design.slots:
        walls = {slot.side: slot_walls(design, slot) for slot in design.slots}
        sides = [plane(side.point(0.0), side.inward) for side in design.sides]
        found["cheek"] = lambda: min(distance(together(w), side) for w in walls.values() for side in sides)
        found["rib"] = lambda: distance(together(walls["treble"]), together(walls["bass"]))
        found["bearing"] = lambda: min(bearing(design, b, walls[b.side]) for b in design.bores)
    return found


def measure(design):
    return {code: of() for code, of in measures(design).items()}

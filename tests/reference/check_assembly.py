"""Checks shop/assembly.step and shop/rig.step against the contract and against one another's parts.

    python check_assembly.py OUTDIR SCHEMA NECK_STUB PARAMS.toml...

SCHEMA is the word that FILE_SCHEMA must begin with; NECK_STUB the length of the holding stock in mm, 0 for none.
"""

import itertools
import json
import math
import sys
from pathlib import Path

from OCP.BRepExtrema import BRepExtrema_DistShapeShape

import assembly_file
import cylinders
import occt_common as oc
from contract_design import Design
from reporting import Checks, distance, relative
from run_all import attempt

OVERLAP = 1e-6      # mm3 of common volume that rounding may leave
TOUCH = 1e-6        # mm
SETS = "{} machines (reference, do not make)"
APART = 10.0        # air between parts that are drawn apart; README


def gap(a, b):
    measure = BRepExtrema_DistShapeShape(a, b)
    return measure.Value()


def apart(checks, components):
    """No two parts share any room."""
    for a, b in itertools.combinations(components, 2):
        boxes = [oc.bounding_box(c.solid) for c in (a, b)]
        if any(boxes[0][1][i] < boxes[1][0][i] - TOUCH or boxes[1][1][i] < boxes[0][0][i] - TOUCH for i in range(3)):
            checks.truth(f"{a.name} / {b.name} apart", True, "their boxes do not meet")
            continue
        shared = oc.solids(oc.common(a.solid, b.solid))
        checks.below(f"{a.name} / {b.name} common volume", abs(sum(oc.volume(s) for s in shared)), OVERLAP, "mm3")


def whole(checks, assembly):
    """What the assembly states of itself, and that every part is named and coloured."""
    volumes = [oc.volume_and_centroid(c.solid) for c in assembly.components]
    total = sum(v for v, _ in volumes)
    centre = [sum(v * c[i] for v, c in volumes) / total for i in range(3)]
    checks.below("stated volume of the whole", relative(assembly.volume, total), 1e-8)
    checks.below("stated area of the whole", relative(assembly.area, sum(oc.area(c.solid) for c in assembly.components)), 1e-8)
    checks.below("stated centroid of the whole", distance(assembly.centroid, centre), 1e-5, "mm")
    names = [c.name for c in assembly.components]
    checks.equal("names differ", len(set(names)), len(names))
    for one, (volume, _) in zip(assembly.components, volumes):
        checks.equal(f"{one.name} is named as its part", one.part, one.name)
        checks.below(f"{one.name} stated volume", relative(one.volume, volume), 1e-8)
        checks.truth(f"{one.name} has a colour", one.colour is not None, str(one.colour))


def axis_off(checks, name, rounds, bore, radius):
    """The cylinder of this radius on the bore's axis; how far off its axis lies."""
    best = min((r for r in rounds if abs(r.size - radius) < TOUCH), default=None,
               key=lambda r: cylinders.off_line(bore.entry, r.origin, r.axis))
    if best is None:
        checks.truth(name, False, f"no cylinder of radius {radius}")
        return None
    far = oc.add(bore.entry, bore.direction, bore.depth)
    off = max(cylinders.off_line(p, best.origin, best.axis) for p in (bore.entry, far))
    checks.below(name, off, TOUCH, "mm off the bore's axis")
    return best


def faces_on(solid, bore, radius):
    """The faces of a solid on the cylinder of this radius about the bore's axis."""
    found = []
    for face in oc.faces(solid):
        surface = cylinders.BRepAdaptor_Surface(face)
        if surface.GetType() != cylinders.GeomAbs_SurfaceType.GeomAbs_Cylinder:
            continue
        shape = surface.Cylinder()
        p, d = shape.Axis().Location(), shape.Axis().Direction()
        off = cylinders.off_line(bore.entry, (p.X(), p.Y(), p.Z()), (d.X(), d.Y(), d.Z()))
        if abs(shape.Radius() - radius) < TOUCH and off < TOUCH:
            found.append(face)
    return found


def along(solid, bore):
    """Least and greatest reach of a solid's corners into the wood along a bore, from the side."""
    low, high = math.inf, -math.inf
    for face in oc.faces(solid):
        for centre in cylinders.centres_of(face):
            reach = sum((c - e) * d for c, e, d in zip(centre, bore.entry, bore.direction))
            low, high = min(low, reach), max(high, reach)
    return low, high


def check_assembly(checks, path, params, report, stub):
    design = Design(params)
    assembly = assembly_file.read(path)
    checks.equal("name", assembly.name, f"{design.title} assembly")
    by_name = {c.name: c for c in assembly.components}
    blocks = [p for p in design.parts() if p != "head"]
    spoken = {"guide-block": "guide block", "guide-block-treble": "guide block, treble", "guide-block-bass": "guide block, bass"}
    wanted = [f"{design.title} head"] + (["neck stub (holding stock)"] if stub else [])
    wanted += [f"{design.title} {spoken[b]}" for b in blocks] + [SETS.format("treble"), SETS.format("bass")]
    checks.equal("components", [c.name for c in assembly.components], wanted)
    whole(checks, assembly)
    kinds = {}
    for one in assembly.components:
        kind = next((k for k in ("block", "machines", "stub") if k in one.name), "head")
        kinds.setdefault(kind, set()).add(one.colour)
    checks.equal("one colour a kind of part", {k: len(v) for k, v in kinds.items()}, {k: 1 for k in kinds})
    checks.equal("no kind shares another's", len(set().union(*kinds.values())), len(kinds))
    head = by_name[f"{design.title} head"]
    identity = [[float(i == j) for j in range(4)] for i in range(3)]
    checks.below("head stands at the origin", max(abs(a - b) for r, s in zip(head.matrix, identity) for a, b in zip(r, s)), 0.0)
    for part in ["head"] + blocks:
        one = head if part == "head" else by_name[f"{design.title} {spoken[part]}"]
        told = report["solids"][part]
        checks.below(f"{part} as in report.json", relative(oc.volume(one.solid), told["volume_mm3"]), 1e-8)
    treble = [b for b in design.bores if b.side == "treble"]
    bass = [b for b in design.bores if b.side == "bass"]
    sets = {side: by_name[SETS.format(side)].solid for side in ("treble", "bass")}
    barrel = design.parameters["machines"]["barrel_diameter"] / 2
    length = design.parameters["machines"]["barrel_length"]
    plate = design.parameters["machines"]["plate_thickness"]

    # The treble block: every hole on its bore, the foot on the side.
    first = by_name[f"{design.title} {spoken[blocks[0]]}"].solid
    rounds, _, _ = cylinders.gather(first)
    for b in treble:
        axis_off(checks, f"treble hole over bore {b.number}", rounds, b, design.block(blocks[0]).diameter / 2)
    low, high = along(first, treble[0])
    checks.below("the block's foot lies on the side", abs(high), TOUCH, "mm")
    checks.below("the block rises from the side", abs(low + design.block(blocks[0]).depth), TOUCH, "mm")
    checks.below("block touches head", gap(first, head.solid), TOUCH, "mm")
    if len(blocks) > 1:
        second = by_name[f"{design.title} {spoken[blocks[1]]}"].solid
        rounds, _, _ = cylinders.gather(second)
        for b in bass:
            axis_off(checks, f"bass hole over bore {b.number}", rounds, b, design.block(blocks[1]).diameter / 2)
        checks.below("the bass block clears the plate", abs(gap(second, sets["bass"]) - APART), TOUCH, "mm")

    # The bass set in its bores.
    rounds, _, _ = cylinders.gather(sets["bass"])
    radius = bass[0].diameter / 2
    for b in bass:
        found = axis_off(checks, f"bass barrel {b.number} in line with its bore", rounds, b, barrel)
        if found is None:
            continue
        walls = [(x, y) for x in faces_on(sets["bass"], b, barrel) for y in faces_on(head.solid, b, radius)]
        checks.truth(f"bass bore {b.number} has its walls", walls, f"{len(walls)} pairs of faces")
        room = min(gap(x, y) for x, y in walls)
        checks.below(f"bass barrel {b.number} clears its bore by half the clearance", abs(room - (radius - barrel)), TOUCH, "mm")
    low, high = along(sets["bass"], bass[0])
    checks.below("bass barrels end where they should", abs(high - length), TOUCH, "mm")
    checks.below("the bass plate sits on the side", gap(sets["bass"], head.solid), TOUCH, "mm")

    # The treble set drawn straight out.
    rounds, _, _ = cylinders.gather(sets["treble"])
    for b in treble:
        axis_off(checks, f"treble barrel {b.number} in line with its bore", rounds, b, barrel)
    # The barrels end above holes a little wider than they are.
    aside = max(design.block(blocks[0]).diameter / 2 - barrel, 0.0)
    checks.below("the treble set clears the block", abs(gap(sets["treble"], first) - math.hypot(APART, aside)), TOUCH, "mm")
    for side, solid in sets.items():
        own = [b for b in design.bores if b.side == side]
        span = math.dist(own[0].entry, own[-1].entry) + sum(next(x for x in design.sides if x.name == side).overhang)
        volume = span * design.parameters["machines"]["plate_width"] * plate + len(own) * math.pi * barrel ** 2 * length
        checks.below(f"{side} set: plate and barrels", relative(oc.volume(solid), volume), 1e-9)

    if stub:
        check_stub(checks, by_name["neck stub (holding stock)"].solid, head.solid, design, stub)
    apart(checks, assembly.components)


def check_stub(checks, solid, head, design, length):
    """The stock meets the nut end whole and leaves it at the head's angle, falling away from the face's plane."""
    angle = math.radians(design.parameters["head"]["angle"])
    thickness = design.thickness_at(0.0)
    away = (0.0, -math.cos(angle), -math.sin(angle))
    low, high = oc.bounding_box(solid)
    width = high[0] - low[0]
    by_hand = (length + thickness * math.sin(angle) / 2) * thickness * math.cos(angle) * width
    checks.below("stub: a trapezium over the nut end", relative(oc.volume(solid), by_hand), 1e-8)
    checks.below("stub: touches the head", gap(solid, head), TOUCH, "mm")
    checks.below("stub: begins at the nut line", abs(high[1]), TOUCH, "mm")
    checks.below("stub: nowhere above the face", high[2], TOUCH, "mm")
    reach = max(sum(a * b for a, b in zip(oc.surface_centroid(face), away)) for face in oc.faces(solid))
    checks.below("stub: its back as long as asked for", abs(reach - length - thickness * math.sin(angle)), TOUCH, "mm")


def check_rig(checks, path, params):
    design = Design(params)
    rig = assembly_file.read(path)
    checks.equal("name", rig.name, f"{design.title} rig")
    whole(checks, rig)
    by_name = {c.name: c.solid for c in rig.components}
    for part in ("rig base", "rig upright", "rig brace at -x", "rig brace at +x", "packing"):
        checks.truth(f"{part} is there", part in by_name)
    apart(checks, rig.components)
    block = next(s for n, s in by_name.items() if "guide block" in n)
    head = next((s for n, s in by_name.items() if n == f"{design.title} head (reference)"), None)
    checks.below("upright stands on base", gap(by_name["rig upright"], by_name["rig base"]), TOUCH, "mm")
    for brace in ("rig brace at -x", "rig brace at +x"):
        for other in ("rig base", "rig upright"):
            checks.below(f"{brace} touches {other}", gap(by_name[brace], by_name[other]), TOUCH, "mm")
    shim = abs(design.block(design.parts()[1]).shim)
    if head is None:
        checks.truth("a head drilled before its veneers is left out", not design.parameters["head"]["veneers_on"])
        return
    checks.below("head touches block", gap(head, block), TOUCH, "mm")
    # A shim goes behind whichever of the two stands lower.
    gaps = sorted([gap(head, by_name["rig upright"]), gap(block, by_name["rig upright"])])
    checks.below("head and block on the upright but for the shim", max(gaps[0], abs(gaps[1] - shim)), 1e-6, "mm")
    under = by_name.get("rig wedge") or by_name["packing"]
    checks.below("head rests on what is under it", gap(head, under), TOUCH, "mm")
    if "rig wedge" in by_name:
        checks.below("wedge rests on the packing", gap(under, by_name["packing"]), TOUCH, "mm")
    checks.below("packing rests on the base", gap(by_name["packing"], by_name["rig base"]), TOUCH, "mm")


def main():
    if len(sys.argv) < 5:
        print(__doc__)
        return 2
    out, schema, stub, checks = Path(sys.argv[1]), sys.argv[2], float(sys.argv[3]), Checks()
    for params in sys.argv[4:]:
        folder = out / Path(params).stem
        report = json.loads((folder / "report.json").read_text())
        for name, call in (("assembly", lambda p: check_assembly(checks, p, params, report, stub)),
                           ("rig", lambda p: check_rig(checks, p, params))):
            path = folder / "shop" / f"{name}.step"
            checks.prefix = f"{folder.name}/{name}.step "
            text = path.read_text(encoding="ascii")
            checks.truth("schema", f"FILE_SCHEMA(('{schema}" in text, schema)
            attempt(checks, "reading", lambda: call(path))
    return checks.finish()


if __name__ == "__main__":
    sys.exit(main())

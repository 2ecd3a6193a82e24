"""Checks one STEP file against its design and against report.json.

    python check_step.py FILE.step PARAMS.toml PART report.json      PART: head, guide-block, guide-block-treble, ...

The reference solid is built here from the contract; nothing of the program under test is used but its files.
"""

import json
import math
import sys
from pathlib import Path

from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
from OCP.GeomAbs import GeomAbs_SurfaceType

import cylinders as cy
import occt_common as oc
import occt_head
import step_file
from contract_design import Design
from reporting import Checks, distance, relative

SAME_NUMBER = 1e-8      # relative, volume and area against report.json and the file's own validation properties
SAME_POINT = 1e-6       # mm, centroids
SAME_BOX = 1e-5         # mm, bounding boxes; OpenCASCADE finds that of a leaning arc by search
SAME_SOLID = 1e-6       # symmetric difference over volume
SAME_FACE = 1e-4       # mm and relative to area: the reader fits its 2-D curves of ellipses on cones to some 1e-5


def symmetric_difference(a, b):
    """vol(a cut b) + vol(b cut a), no fuzzy value; and how well the booleans that gave it keep account of volume.

    A boolean that goes wrong usually returns its argument whole or an empty shape: then vol(a) - vol(a cut b) no longer
    is the volume the two share, and the second figure shows it.
    """
    volume_a, volume_b = oc.volume(a), oc.volume(b)
    a_less_b = oc.volume(BRepAlgoAPI_Cut(a, b).Shape())
    b_less_a = oc.volume(BRepAlgoAPI_Cut(b, a).Shape())
    shared = oc.volume(oc.common(a, b))
    account = max(abs(volume_a - a_less_b - shared), abs(volume_b - b_less_a - shared))
    return (abs(a_less_b) + abs(b_less_a)) / volume_b, account / volume_b


def face_fingerprints(solid):
    """Area and centroid of every plane face, and of every cylinder and cone with all of its faces together: a comparison
    without booleans. OpenCASCADE joins faces of one plane for us, but not always the halves of cylinders that two bores
    in line share, hence the gathering."""
    joined = oc.one_solid(solid, "solid")
    found = []
    for face in oc.faces(joined):
        kind = str(BRepAdaptor_Surface(face).GetType())
        if "Plane" in kind:
            found.append((kind, oc.area(face), oc.surface_centroid(face)))
    for kind, rounds in zip(("Cylinder", "Cone"), cy.gather(joined)[:2]):
        for one in rounds:
            found.append((kind, one.area, one.centroid))
    return found


def unmatched_faces(a, b):
    """Faces of one solid without a partner of the same kind, area and centroid in the other; worst disagreement."""
    left, lonely, worst = face_fingerprints(b), 0, 0.0
    for kind, size, centre in face_fingerprints(a):
        best = min(((max(abs(size - s) / (1 + size), distance(centre, c)), i)
                    for i, (k, s, c) in enumerate(left) if k == kind), default=(1e9, None))
        if best[0] < SAME_FACE:
            worst = max(worst, best[0])
            left.pop(best[1])
        else:
            lonely += 1
    return lonely + len(left), worst


def faces_in_centre_plane(solid):
    """Flat faces that lie in x = 0: an opening pair must leave none."""
    count = 0
    for face in oc.faces(solid):
        surface = BRepAdaptor_Surface(face)
        if surface.GetType() == GeomAbs_SurfaceType.GeomAbs_Plane:
            plane = surface.Plane()
            if abs(abs(plane.Axis().Direction().X()) - 1) < 1e-9 and abs(plane.Location().X()) < 1e-6:
                count += 1
    return count


def check_identity(checks, text, document, design, part):
    spoken = "head" if part == "head" else "guide block"
    names = [name for arguments in text.names("PRODUCT") for name in arguments if name]
    checks.truth("product is named by the title", any(design.title in n for n in names), repr(names))
    checks.truth("product says which part", any(spoken in n.lower().replace("-", " ") for n in names), repr(names))
    solid_names = [a[0] for a in text.names("MANIFOLD_SOLID_BREP")] + [a[0] for a in text.names("BREP_WITH_VOIDS")]
    checks.truth("solid is named by the title", any(design.title in n for n in solid_names), repr(solid_names))
    checks.truth("reader finds the name", any(design.title in n for n in document.names), repr(document.names))
    checks.truth("colour", document.colours, repr([tuple(round(v, 3) for v in c) for c in document.colours[:1]]))
    checks.truth("unit is the millimetre", text.millimetres())


def check_text(checks, text):
    curves, surfaces = text.curve_kinds()
    checks.truth("edges are lines, circles, ellipses", curves <= step_file.CURVES, ", ".join(sorted(curves)))
    checks.truth("faces are planes, cylinders, cones", surfaces <= step_file.SURFACES, ", ".join(sorted(surfaces)))
    checks.equal("no other geometry in the file", text.foreign_geometry(), {})
    uses = text.edge_uses()
    wrong = [n for n, senses in uses.items() if sorted(senses) != [False, True]]
    checks.truth("every edge once forward, once reversed", uses and not wrong,
                 f"{len(uses)} edges, wrong: {wrong[:5]}")


def check_properties(checks, document, volume, size, centroid):
    for name, found, wanted in (("volume", document.volumes, volume), ("area", document.areas, size)):
        if checks.equal(f"validation property {name}, count", len(found), 1):
            checks.below(f"validation property {name}", relative(found[0], wanted), SAME_NUMBER)
    if checks.equal("validation property centroid, count", len(document.centroids), 1):
        checks.below("validation property centroid", distance(document.centroids[0], centroid), SAME_POINT, "mm")


def check_rounds(checks, solid, design, part, report):
    found, cones, foreign = cy.gather(solid)
    checks.equal("faces other than plane, cylinder, cone", foreign, 0)
    ours = cy.wanted_in_head(design) if part == "head" else cy.wanted_in_block(design.block(part))
    used = []
    for wanted in ours + cy.wanted_by_report(report, part, design):
        cylinder, figure = cy.worst_of(wanted, found)
        checks.below(wanted.name, figure, cy.TOUCH, "mm")
        used.append(cylinder)
    stray = [c for c in found if abs(c.axis[2]) < 0.5 and not any(c is u for u in used)]
    checks.equal("cylinders that are no bore", len(stray), 0)
    pointed = [w for w in ours if w.semi_angle is not None]
    checks.equal("number of points", len(cones), len(pointed))
    for w in pointed:
        # The apex lies on the axis, the point's height beyond the full diameter.
        apex = oc.add(w.entry, w.direction, w.end + w.radius / math.tan(w.semi_angle))
        fits = [max(distance(apex, c.origin), cy.off_line(w.entry, c.origin, c.axis), abs(c.size - w.semi_angle)) for c in cones]
        checks.below(w.name + " point", min(fits, default=1e9), cy.TOUCH)


def check(step_path, params_path, part, report_path, checks):
    design = Design(params_path)
    report = json.loads(Path(report_path).read_text(encoding="utf-8"))
    told = report["solids"][part]
    text, document = step_file.StepText(step_path), step_file.read_document(step_path)
    found = [s for shape in document.shapes for s in oc.solids(shape)]
    checks.equal("solids", len(found), 1)
    checks.equal("shells", sum(len(oc.shells(shape)) for shape in document.shapes), 1)
    if len(found) != 1:
        return
    solid = found[0]
    checks.truth("valid by BRepCheck", oc.is_valid(solid))
    volume, centroid = oc.volume_and_centroid(solid)
    size = oc.area(solid)
    low, high = oc.bounding_box(solid)
    checks.below("volume against report.json", relative(volume, told["volume_mm3"]), SAME_NUMBER)
    checks.below("area against report.json", relative(size, told["area_mm2"]), SAME_NUMBER)
    checks.below("centroid against report.json", distance(centroid, told["centroid"]), SAME_POINT, "mm")
    box = told["bounding_box"]
    checks.below("bounding box against report.json", max(distance(low, box["min"]), distance(high, box["max"])), SAME_BOX, "mm")

    reference = occt_head.build(design, part)
    right_volume, right_centroid = oc.volume_and_centroid(reference)
    checks.below("volume against the reference", relative(volume, right_volume), SAME_NUMBER)
    checks.below("area against the reference", relative(size, oc.area(reference)), SAME_NUMBER)
    checks.below("centroid against the reference", distance(centroid, right_centroid), SAME_POINT, "mm")
    difference, account = symmetric_difference(solid, reference)
    checks.below("symmetric difference to the reference", difference, SAME_SOLID)
    checks.below("account of that comparison", account, SAME_SOLID)
    lonely, worst = unmatched_faces(solid, reference)
    checks.truth("faces match the reference one by one", lonely == 0, f"{lonely} without a partner, worst {worst:.2g}")
    if part == "head" and any(b.ends == "opens" for b in design.bores):
        checks.equal("faces in the centre plane", faces_in_centre_plane(solid), 0)

    check_rounds(checks, solid, design, part, report)
    check_identity(checks, text, document, design, part)
    check_text(checks, text)
    check_properties(checks, document, volume, size, centroid)


def main():
    step_path, params_path, part, report_path = sys.argv[1:5]
    checks = Checks(f"{Path(step_path).name} ")
    check(step_path, params_path, part, report_path, checks)
    return checks.finish()


if __name__ == "__main__":
    sys.exit(main())

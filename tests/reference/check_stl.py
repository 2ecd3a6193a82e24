"""Checks one STL file, a printed copy (3.9), against its design.

    python check_stl.py FILE.stl PARAMS.toml PART      PART: head, guide-block, guide-block-treble, ...

Read with trimesh, again with manifold3d, and held against the OpenCASCADE solid of the printed design.
"""

import sys
from pathlib import Path

import manifold3d
import numpy as np
import trimesh

import occt_common as oc
import occt_head
import occt_mesh
import on_surface
from contract_design import Design
from reporting import Checks

SINGLE = 1e-4       # mm: an STL's single-precision numbers, 250 mm from the origin, are good to 1.5e-5
FLAT = 1e-8         # mm2: below this a facet has no area


def passages(design, part):
    """Genus of a part, counted on the graph of its passages, and the count in words.

    The genus of a solid without voids is the genus of its outside. That outside is the open air with chambers joined to it:
    take the air and every slot as points, every opening between two of them as a line; then genus = lines − points + 1
    (independent circuits), which is what 1 − χ/2 of the surface gives.

    * a slot: a point with two lines to the air, its mouths in face and back (a ramp widens a mouth and adds no line);
    * a bore of a slotted head: one line, from the side through the cheek into its slot; beyond the slot it is blind in the rib;
    * a pair that opens: one line more, slot to slot;
    * a head without slots: blind bores add nothing, a pair that opens one line from air to air;
    * pilots, counterbores and a pair that keeps its web are blind and add nothing;
    * a guide block: every hole one line from air to air; grooves are open along their length and add nothing.
    """
    if part != "head":
        holes = len(design.block(part).holes)
        return holes, f"{holes} through holes"
    opening = sum(b.ends == "opens" for b in design.bores) // 2
    slots = len(design.slots)
    entering = len(design.bores) if slots else 0
    lines, points = 2 * slots + entering + opening, 1 + slots
    return lines - points + 1, (f"{slots} slots x 2 mouths + {entering} bores into slots + {opening} pairs open"
                                f" - {points} chambers + 1")


def as_manifold(vertices, triangles):
    return manifold3d.Manifold(manifold3d.Mesh(vert_properties=np.asarray(vertices, dtype=np.float32),
                                               tri_verts=np.asarray(triangles, dtype=np.uint32)))


def check_body(checks, mesh, genus, count):
    checks.truth("watertight", mesh.is_watertight)
    checks.truth("consistently wound", mesh.is_winding_consistent)
    checks.truth("volume above zero", mesh.volume > 0, f"{mesh.volume:.3f} mm3")
    checks.equal("bodies", mesh.body_count, 1)
    own = 1 - (len(mesh.vertices) - len(mesh.edges_unique) + len(mesh.faces)) / 2
    checks.truth(f"genus ({count})", own == genus, f"{own:g}, derived {genus}")
    solid = as_manifold(mesh.vertices, mesh.faces)
    checks.equal("manifold3d reads it", solid.status(), manifold3d.Error.NoError)
    checks.equal("manifold3d keeps every facet", solid.num_tri(), len(mesh.faces))
    checks.equal("manifold3d finds the genus", solid.genus(), genus)
    checks.equal("manifold3d finds bodies", len(solid.decompose()), 1)
    return solid


def check_facets(checks, mesh, reference, chord):
    corners = mesh.triangles
    double = np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1)
    longest = np.linalg.norm(corners - np.roll(corners, 1, axis=1), axis=2).max(axis=1)
    checks.truth("no facet without area", double.min() / 2 > FLAT,
                 f"least {double.min() / 2:.3g} mm2, least height {(double / longest).min():.3g} mm")
    away = on_surface.distances(reference, mesh.vertices, 1.0)
    checks.below("vertices on the true surface", away.max(), SINGLE, "mm")
    middles = corners.mean(axis=1)
    away = on_surface.distances(reference, middles, 1.0)
    checks.below("facet middles within the chord", away.max(), chord + SINGLE, "mm")
    halves = mesh.vertices[mesh.edges_unique].mean(axis=1)
    away = on_surface.distances(reference, halves, 1.0)
    checks.below("edge middles within the chord", away.max(), chord + SINGLE, "mm")


def check(stl_path, params_path, part, checks):
    design = Design(params_path, printed=True)
    reference = occt_head.build(design, part)
    mesh = trimesh.load_mesh(str(stl_path), file_type="stl")
    genus, count = passages(design, part)
    solid = check_body(checks, mesh, genus, count)

    curved = on_surface.curved_area(reference)
    bound = curved * design.chord
    checks.below("volume against the printed solid", abs(mesh.volume - oc.volume(reference)), bound + SINGLE, "mm3")
    # What one solid has and the other has not, both ways, with a mesh ten times as fine in the reference's place; the
    # volumes alone could agree by chance.
    fine = as_manifold(*occt_mesh.triangulate(reference, design.chord / 10, 0.1))
    if checks.equal("the fine mesh of the reference is whole", fine.status(), manifold3d.Error.NoError):
        difference = (solid - fine).volume() + (fine - solid).volume()
        checks.below("symmetric difference to the printed solid", difference, 1.1 * bound + SINGLE * oc.area(reference), "mm3")
    check_facets(checks, mesh, reference, design.chord)
    _, theirs = occt_mesh.triangulate(reference, design.chord)
    checks.below("facets, against OpenCASCADE's own mesh", len(mesh.faces), len(theirs))


def main():
    stl_path, params_path, part = sys.argv[1:4]
    checks = Checks(f"{Path(stl_path).name} ")
    check(stl_path, params_path, part, checks)
    return checks.finish()


if __name__ == "__main__":
    sys.exit(main())

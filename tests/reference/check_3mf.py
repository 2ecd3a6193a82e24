"""Checks 3MF files with the 3MF Consortium's own library, read strictly.

    python check_3mf.py FILE.3mf...      beside each FILE.3mf a FILE.json: what it should hold
"""

import json
import sys
import zipfile
from pathlib import Path

import lib3mf
import numpy as np
import trimesh
from lib3mf import get_wrapper

from reporting import Checks

NO_AREA = 1e-8      # mm2


def mesh_of(item):
    vertices = np.array([list(v.Coordinates) for v in item.GetVertices()], dtype=float)
    triangles = np.array([list(t.Indices) for t in item.GetTriangleIndices()], dtype=int)
    return trimesh.Trimesh(vertices, triangles, process=False)


def check_object(checks, item, expected, chord):
    checks.equal("name", item.GetName(), expected["name"])
    checks.equal("part number", item.GetPartNumber(), expected["number"])
    checks.truth("the library finds it manifold and oriented", item.IsManifoldAndOriented())
    checks.truth("valid", item.IsValid())
    mesh = mesh_of(item)
    checks.equal("triangles", len(mesh.faces), expected["triangles"])
    checks.truth("watertight", mesh.is_watertight)
    checks.truth("consistently wound", mesh.is_winding_consistent)
    checks.truth("volume above zero", mesh.volume > 0, f"{mesh.volume:.3f} mm3")
    checks.equal("no two vertices in one place", len(np.unique(mesh.vertices, axis=0)), len(mesh.vertices))
    checks.truth("every triangle has area", mesh.area_faces.min() > NO_AREA, f"{mesh.area_faces.min():.3g} mm2")
    checks.below("a corner on z = 0 and at the origin", abs(mesh.vertices.min(axis=0)).max(), 1e-6, "mm")
    checks.below("extent", abs(mesh.vertices.max(axis=0) - expected["size"]).max(), 1e-5, "mm")
    # A facet lies within the chord of the true surface; the flat faces are exact, so this is generous.
    bound = mesh.area * chord
    checks.below("volume against the closed form", abs(mesh.volume - expected["volume"]), bound, "mm3")


def check_items(checks, model):
    """Where the build items put their objects: upright, apart from one another, in the positive octant."""
    boxes = []
    items = model.GetBuildItems()
    while items.MoveNext():
        item = items.GetCurrent()
        fields = np.array([list(row) for row in item.GetObjectTransform().Fields], dtype=float)
        turn, shift = fields[:3], fields[3]
        checks.below("transform turns and moves only", abs(turn @ turn.T - np.eye(3)).max(), 1e-6)
        checks.below("its determinant is one", abs(np.linalg.det(turn) - 1), 1e-6)
        mesh = mesh_of(model.GetMeshObjectByID(item.GetObjectResourceID()))
        placed = mesh.vertices @ turn + shift
        boxes.append((placed.min(axis=0), placed.max(axis=0)))
        checks.truth("in the positive octant", placed.min() >= 0, f"least {placed.min():.3g} mm")
        checks.below("stands on the bed", abs(placed[:, 2].min()), 1e-6, "mm")
        checks.truth("part number of the item", item.GetPartNumber() != "", item.GetPartNumber())
    apart = all((a[0][:2] > b[1][:2]).any() or (b[0][:2] > a[1][:2]).any()
                for i, a in enumerate(boxes) for b in boxes[:i])
    checks.truth("no two objects overlap", apart, f"{len(boxes)} objects")
    return len(boxes)


def check_package(checks, path):
    with zipfile.ZipFile(path) as package:
        entries = package.infolist()
        checks.equal("parts", [e.filename for e in entries], ["[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"])
        checks.truth("stored or deflated", {e.compress_type for e in entries} <= {0, 8})
        checks.truth("no clock", all(e.date_time == (1980, 1, 1, 0, 0, 0) for e in entries))
        checks.equal("whole", package.testzip(), None)


def check_file(checks, path):
    expected = json.loads(path.with_suffix(".json").read_text(encoding="utf-8"))
    checks.prefix = f"{path.name} "
    check_package(checks, path)
    model = get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromFile(str(path))
    warnings = [reader.GetWarning(i) for i in range(reader.GetWarningCount())]
    checks.equal("warnings", warnings, [])
    checks.equal("unit", model.GetUnit(), lib3mf.ModelUnit.MilliMeter)
    group = model.GetMetaDataGroup()
    data = {group.GetMetaData(i).GetName(): group.GetMetaData(i).GetValue() for i in range(group.GetMetaDataCount())}
    checks.equal("title", data.get("Title"), expected["title"])
    checks.truth("application", data.get("Application", "").startswith("barrelhead "), data.get("Application"))
    objects, found = model.GetMeshObjects(), []
    while objects.MoveNext():
        found.append(objects.GetCurrentMeshObject())
    if checks.equal("objects", len(found), len(expected["objects"])):
        for item, wanted in zip(found, expected["objects"]):
            checks.prefix = f"{path.name} {wanted['number']} "
            check_object(checks, item, wanted, expected["chord"])
    checks.prefix = f"{path.name} "
    checks.equal("build items", check_items(checks, model), len(found))


def main():
    checks = Checks()
    for name in sys.argv[1:]:
        try:
            check_file(checks, Path(name))
        except Exception as error:
            checks.record("reading", False, f"broke off: {type(error).__name__}: {error}")
    return checks.finish()


if __name__ == "__main__":
    sys.exit(main())

"""OpenCASCADE's own triangulation of a solid, welded by its topology."""

import numpy as np
from OCP.BRep import BRep_Tool
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.BRepTools import BRepTools
from OCP.TopAbs import TopAbs_Orientation
from OCP.TopLoc import TopLoc_Location

import occt_common as oc

ANGULAR = 0.5       # radians, as OpenCASCADE's own default
WELD = 1e-7         # mm; neighbouring faces share the very points of their edge


def triangulate(solid, chord, angular=ANGULAR):
    """Vertices (n, 3) and triangles (m, 3), counter-clockwise seen from outside."""
    BRepTools.Clean_s(solid)
    BRepMesh_IncrementalMesh(solid, chord, False, angular, False)
    index, points, triangles = {}, [], []
    for face in oc.faces(solid):
        location = TopLoc_Location()
        mesh = BRep_Tool.Triangulation_s(face, location)
        move = location.Transformation()
        local = []
        for i in range(1, mesh.NbNodes() + 1):
            p = mesh.Node(i).Transformed(move)
            key = tuple(round(c / WELD) for c in (p.X(), p.Y(), p.Z()))
            if key not in index:
                index[key] = len(points)
                points.append((p.X(), p.Y(), p.Z()))
            local.append(index[key])
        for i in range(1, mesh.NbTriangles() + 1):
            a, b, c = (local[n - 1] for n in mesh.Triangle(i).Get())
            if face.Orientation() == TopAbs_Orientation.TopAbs_REVERSED:
                b, c = c, b
            if len({a, b, c}) == 3:
                triangles.append((a, b, c))
    return np.array(points), np.array(triangles)

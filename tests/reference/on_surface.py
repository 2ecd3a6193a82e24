"""Distance of many points from a solid's trimmed surface, quickly: carriers first, trimming next, exact search last."""

import numpy as np
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeVertex
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.ElSLib import ElSLib
from OCP.GeomAbs import GeomAbs_SurfaceType
from OCP.gp import gp_Pnt, gp_Pnt2d
from OCP.IntTools import IntTools_FClass2d
from OCP.TopAbs import TopAbs_State

import occt_common as oc


class Face:
    """One face with its carrier: a plane, cylinder or cone."""

    def __init__(self, face):
        self.face = face
        self.surface = BRepAdaptor_Surface(face)
        self.inside = IntTools_FClass2d(face, 1e-6)
        kind = self.surface.GetType()
        if kind == GeomAbs_SurfaceType.GeomAbs_Plane:
            self.shape, self.kind = self.surface.Plane(), "plane"
        elif kind == GeomAbs_SurfaceType.GeomAbs_Cylinder:
            self.shape, self.kind = self.surface.Cylinder(), "cylinder"
        else:
            self.shape, self.kind = self.surface.Cone(), "cone"
        p, d = self.shape.Axis().Location(), self.shape.Axis().Direction()
        self.origin, self.axis = np.array([p.X(), p.Y(), p.Z()]), np.array([d.X(), d.Y(), d.Z()])

    def carrier_distance(self, points):
        away = points - self.origin
        along = away @ self.axis
        if self.kind == "plane":
            return np.abs(along)
        across = np.linalg.norm(away - along[:, None] * self.axis, axis=1)
        if self.kind == "cylinder":
            return np.abs(across - self.shape.Radius())
        angle = self.shape.SemiAngle()
        return np.abs((across - self.shape.RefRadius()) * np.cos(angle) - along * np.sin(angle))

    def holds(self, point):
        """Whether the point's foot on the carrier lies in the face or on its border."""
        p = gp_Pnt(*map(float, point))
        u, v = parameters(self.shape, p)
        return self.inside.Perform(gp_Pnt2d(u, v)) != TopAbs_State.TopAbs_OUT

    def distance(self, point):
        """Exact distance to the trimmed face."""
        vertex = BRepBuilderAPI_MakeVertex(gp_Pnt(*map(float, point))).Vertex()
        return BRepExtrema_DistShapeShape(vertex, self.face).Value()


def parameters(shape, p):
    """(u, v) of a point's foot; releases up to 7.9 want two numbers to write to, later ones do not."""
    try:
        return ElSLib.Parameters_s(shape, p)
    except TypeError:
        return ElSLib.Parameters_s(shape, p, 0.0, 0.0)


def distances(solid, points, near):
    """Distance of every point from the solid's surface, exact where it is more than the carrier's; `near` bounds the
    search: a point farther than that from every face is given as infinity."""
    points = np.asarray(points, dtype=float)
    faces = [Face(f) for f in oc.faces(solid)]
    table = np.stack([f.carrier_distance(points) for f in faces])
    result = np.full(len(points), np.inf)
    order = np.argsort(table, axis=0)
    for i, point in enumerate(points):
        candidates = [j for j in order[:, i] if table[j, i] <= near]
        for j in candidates:
            if faces[j].holds(point):
                result[i] = table[j, i]
                break
        # A face whose border the point just misses may be nearer than the one that holds its foot.
        for j in candidates:
            if table[j, i] >= min(result[i], near) or result[i] < 1e-5:
                break
            result[i] = min(result[i], faces[j].distance(point))
        if np.isinf(result[i]):
            for j in candidates:
                result[i] = min(result[i], faces[j].distance(point))
    return result


def curved_area(solid):
    """Area of all faces that are not flat."""
    return sum(oc.area(f) for f in oc.faces(solid)
               if BRepAdaptor_Surface(f).GetType() != GeomAbs_SurfaceType.GeomAbs_Plane)

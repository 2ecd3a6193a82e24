"""Small OpenCASCADE helpers shared by the reference solids and the checks."""

import math

from OCP.Bnd import Bnd_Box
from OCP.BRep import BRep_Builder, BRep_Tool
from OCP.BRepAdaptor import BRepAdaptor_Curve, BRepAdaptor_Surface
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Cut
from OCP.BRepBndLib import BRepBndLib
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakePrism, BRepPrimAPI_MakeRevol
from OCP.GC import GC_MakeArcOfCircle
from OCP.GeomAbs import GeomAbs_CurveType, GeomAbs_SurfaceType
from OCP.GeomProjLib import GeomProjLib
from OCP.GProp import GProp_GProps
from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Vec, gp_Vec2d
from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_SHELL, TopAbs_SOLID
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

try:
    from OCP.collections import List_TopoDS_Shape as ShapeList      # releases from 8.0 on
except ImportError:
    from OCP.TopTools import TopTools_ListOfShape as ShapeList

OUTSIDE = 0.25      # tools begin this far outside the wood, so that no tool face lies in a face of the wood
INTEGRATION = 1e-12  # relative accuracy asked of the Gauss integration; the default is good to some 1e-7 only
PROJECTED = 1e-8    # mm; accuracy asked of an ellipse drawn on a cylinder or cone ...
OFF_CURVE = 1e-6    # ... and the farthest that may come out: 2e-7 was seen, where the reader's own fit is up to 3e-5 off
SAME_POINT = 1e-7   # mm; the distance at which OpenCASCADE takes two points for one

JOINED = 1e-9        # relative; what joining faces may change in the measured volume


def downcast(name):
    """TopoDS casts are static methods with a suffix in releases up to 7.9 and plain functions from 8.0 on."""
    return getattr(TopoDS, name + "_s", None) or getattr(TopoDS, name)


to_solid, to_shell, to_face, to_edge = (downcast(name) for name in ("Solid", "Shell", "Face", "Edge"))


class ToolTookNothing(Exception):
    """A boolean left the body as it was: its result cannot be trusted."""


def sub_shapes(shape, kind):
    found, explorer = [], TopExp_Explorer(shape, kind)
    while explorer.More():
        found.append(explorer.Current())
        explorer.Next()
    return found


def solids(shape):
    return [to_solid(s) for s in sub_shapes(shape, TopAbs_SOLID)]


def shells(shape):
    return [to_shell(s) for s in sub_shapes(shape, TopAbs_SHELL)]


def faces(shape):
    return [to_face(s) for s in sub_shapes(shape, TopAbs_FACE)]


def edges(shape):
    return [to_edge(s) for s in sub_shapes(shape, TopAbs_EDGE)]


def volume(shape):
    return volume_and_centroid(shape)[0]


def rough_volume(shape):
    """Volume by the plain Gauss integration: some 1e-8 relative, and ten times as quick."""
    props = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, props)
    return props.Mass()


def volume_and_centroid(shape):
    """Volume and centroid, face by face to INTEGRATION; about the origin, as the volume under each face."""
    props = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, props, INTEGRATION, False, False)
    centre = props.CentreOfMass()
    return props.Mass(), (centre.X(), centre.Y(), centre.Z())


def area(shape):
    props = GProp_GProps()
    BRepGProp.SurfaceProperties_s(shape, props, INTEGRATION, False)
    return props.Mass()


def surface_centroid(shape):
    props = GProp_GProps()
    BRepGProp.SurfaceProperties_s(shape, props, INTEGRATION, False)
    centre = props.CentreOfMass()
    return (centre.X(), centre.Y(), centre.Z())


def bounding_box(shape):
    box = Bnd_Box()
    BRepBndLib.AddOptimal_s(shape, box, False, False)
    low, high = box.CornerMin(), box.CornerMax()
    return (low.X(), low.Y(), low.Z()), (high.X(), high.Y(), high.Z())


def is_valid(shape):
    return BRepCheck_Analyzer(shape).IsValid()


def project_anew(solid):
    """Draws the ellipses on cylinders and cones of a solid read from a STEP file anew in their surface's parameters.

    The file holds them in space only. The reader fits a curve through 23 points of each, up to 3e-5 mm off, and measures
    the volume inside that: up to 2e-8 of a head off, where these curves come within 1e-12. Ellipse and surface stay.
    """
    builder = BRep_Builder()
    for face in faces(solid):
        surface = BRep_Tool.Surface_s(face)
        if BRepAdaptor_Surface(face).GetType() == GeomAbs_SurfaceType.GeomAbs_Plane:
            continue
        for edge in edges(face):
            if BRep_Tool.Degenerated_s(edge) or BRepAdaptor_Curve(edge).GetType() != GeomAbs_CurveType.GeomAbs_Ellipse:
                continue
            reach = BRepAdaptor_Curve(edge)
            start, end = reach.FirstParameter(), reach.LastParameter()
            curve = BRep_Tool.Curve_s(edge, 0.0, 0.0)
            fresh = GeomProjLib.Curve2d_s(curve, start, end, surface, PROJECTED)
            read = BRep_Tool.CurveOnSurface_s(edge, face, 0.0, 0.0).Value((start + end) / 2)
            turns = round((read.X() - fresh.Value((start + end) / 2).X()) / (2 * math.pi))
            fresh.Translate(gp_Vec2d(2 * math.pi * turns, 0.0))
            off = 0.0
            for i in range(33):
                t = start + (end - start) * i / 32
                at = fresh.Value(t)
                off = max(off, surface.Value(at.X(), at.Y()).Distance(curve.Value(t)))
            if off > OFF_CURVE:
                raise ValueError(f"an ellipse came out {off:.2g} mm off where it was drawn on its surface")
            builder.UpdateEdge(edge, fresh, face, max(SAME_POINT, 2 * off))


def line(a, b):
    return BRepBuilderAPI_MakeEdge(gp_Pnt(*a), gp_Pnt(*b)).Edge()


def arc(a, through, b):
    return BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(gp_Pnt(*a), gp_Pnt(*through), gp_Pnt(*b)).Value()).Edge()


def face_of(edge_list):
    wire = BRepBuilderAPI_MakeWire()
    for edge in edge_list:
        wire.Add(edge)
    return BRepBuilderAPI_MakeFace(wire.Wire()).Face()


def polygon(points):
    return face_of([line(a, b) for a, b in zip(points, points[1:] + points[:1])])


def prism(face, vector):
    return BRepPrimAPI_MakePrism(face, gp_Vec(*vector)).Shape()


def box(low, high):
    return BRepPrimAPI_MakeBox(gp_Pnt(*low), gp_Pnt(*high)).Shape()


def add(a, b, scale=1.0):
    return tuple(x + scale * y for x, y in zip(a, b))


def turned(origin, axis, profile):
    """A solid of revolution about `axis` through `origin`; the profile is (along, radius) from axis to axis.

    It is drawn in the vertical plane through the axis, so that the seam lies at the top of the bore, away from every wall.
    """
    points = [add(add(origin, axis, along), (0.0, 0.0, 1.0), radius) for along, radius in profile]
    return BRepPrimAPI_MakeRevol(polygon(points), gp_Ax1(gp_Pnt(*origin), gp_Dir(*axis)), 2 * math.pi).Shape()


def common(a, b):
    return BRepAlgoAPI_Common(a, b).Shape()


def cut(body, tool, name):
    """`body` without `tool`, one tool at a time. A tool that takes nothing away, or that takes away another volume than
    it shares with the body, is an error: a cut with many touching tools has been seen to drop some without a word."""
    shared = volume(common(body, tool))
    result = BRepAlgoAPI_Cut(body, tool).Shape()
    measure, slack = (rough_volume, 1e-7) if shared > 10.0 else (volume, 1e-9)
    before = measure(body)
    fell = before - measure(result)
    if not (shared > 0 and fell > 0 and abs(fell - shared) < slack * before):
        raise ToolTookNothing(f"{name}: the body shares {shared:.9f} mm3 with the tool, but lost {fell:.9f}")
    return result


def shape_list(shapes):
    found = ShapeList()
    for shape in shapes:
        found.Append(shape)
    return found


def cut_at_once(body, tools):
    """`body` without all `tools`, in one boolean: five to eight times as quick as `cut` for every tool, but nothing here
    keeps account of what each took. Whoever calls holds the volume against a figure from elsewhere."""
    boolean = BRepAlgoAPI_Cut()
    boolean.SetArguments(shape_list([body]))
    boolean.SetTools(shape_list(tools))
    boolean.Build()
    return boolean.Shape()


def one_solid(shape, name, joined=True):
    """The only solid in a result, its faces of one surface joined if wanted; valid by BRepCheck."""
    result = shape
    if joined:
        unify = ShapeUpgrade_UnifySameDomain(shape, True, True, False)
        unify.Build()
        result = unify.Shape()
    found = solids(result)
    if len(found) != 1:
        raise ValueError(f"{name}: {len(found)} solids instead of one")
    if not is_valid(found[0]):
        raise ValueError(f"{name}: the reference solid is not valid")
    before, after = volume(shape), volume(found[0])
    if abs(after - before) > JOINED * before:
        raise ValueError(f"{name}: joining faces changed the volume from {before:.9f} to {after:.9f}")
    return found[0]

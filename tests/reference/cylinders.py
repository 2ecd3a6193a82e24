"""Finds the bores in a solid: cylindrical and conical faces gathered by their common axis."""

import math
from dataclasses import dataclass, field

from OCP.BRepAdaptor import BRepAdaptor_Curve, BRepAdaptor_Surface
from OCP.GeomAbs import GeomAbs_CurveType, GeomAbs_SurfaceType

import occt_common as oc

TOUCH = 1e-6    # mm, how exactly axis, radius and length must agree


@dataclass
class Round:
    """All faces of one cylinder (or cone): a point of the axis (the apex) and its direction, radius (semi-angle), and for
    every face the x of its centroid and the centres of the circles and ellipses that bound it."""

    origin: tuple
    axis: tuple
    size: float
    faces: list = field(default_factory=list)
    area: float = 0.0           # of all its faces together
    centroid: tuple = (0.0, 0.0, 0.0)

    def span(self, wanted):
        """Least and greatest position of a circle's or ellipse's centre along a wanted bore's axis. Two bores of a pair lie
        on one cylinder where the sides have no taper: then only the faces on the bore's own side are its own."""
        along = [sum((c - e) * d for c, e, d in zip(centre, wanted.entry, wanted.direction))
                 for x, centres in self.faces if x * wanted.own_side >= 0 for centre in centres]
        return min(along, default=math.nan), max(along, default=math.nan)


def off_line(point, origin, axis):
    """Distance of a point from a line."""
    away = [p - o for p, o in zip(point, origin)]
    along = sum(a * d for a, d in zip(away, axis))
    return math.dist(away, [along * d for d in axis])


def same_line(a, b):
    return (off_line(a.origin, b.origin, b.axis) < TOUCH
            and off_line(oc.add(a.origin, a.axis, 100.0), b.origin, b.axis) < TOUCH)


def centres_of(face):
    """Centres of the circles and ellipses that bound a face; every other edge is left out."""
    found = []
    for edge in oc.edges(face):
        curve = BRepAdaptor_Curve(edge)
        if curve.GetType() == GeomAbs_CurveType.GeomAbs_Circle:
            p = curve.Circle().Location()
        elif curve.GetType() == GeomAbs_CurveType.GeomAbs_Ellipse:
            p = curve.Ellipse().Location()
        else:
            continue
        found.append((p.X(), p.Y(), p.Z()))
    return found


def gather(solid):
    """Cylinders and cones of a solid, and how many faces of any other kind than plane, cylinder, cone it has."""
    cylinders, cones, foreign = [], [], 0
    for face in oc.faces(solid):
        surface = BRepAdaptor_Surface(face)
        kind = surface.GetType()
        if kind == GeomAbs_SurfaceType.GeomAbs_Plane:
            continue
        if kind == GeomAbs_SurfaceType.GeomAbs_Cylinder:
            shape, into = surface.Cylinder(), cylinders
            size = shape.Radius()
        elif kind == GeomAbs_SurfaceType.GeomAbs_Cone:
            shape, into = surface.Cone(), cones
            size = abs(shape.SemiAngle())
        else:
            foreign += 1
            continue
        p, d = shape.Axis().Location(), shape.Axis().Direction()
        if into is cones:
            p = shape.Apex()
        one = Round((p.X(), p.Y(), p.Z()), (d.X(), d.Y(), d.Z()), size)
        for other in into:
            apart = math.dist(one.origin, other.origin) if into is cones else 0.0
            if abs(other.size - size) < TOUCH and same_line(one, other) and apart < TOUCH:
                one = other
                break
        else:
            into.append(one)
        centroid, area = oc.surface_centroid(face), oc.area(face)
        one.faces.append((centroid[0], centres_of(face)))
        whole = one.area + area
        one.centroid = tuple((c * one.area + f * area) / whole for c, f in zip(one.centroid, centroid))
        one.area = whole
    return cylinders, cones, foreign


@dataclass
class Wanted:
    """A cylinder that must be there: from `start` to `end` along the axis, and the semi-angle of a point left on it."""

    name: str
    entry: tuple
    direction: tuple
    radius: float
    start: float
    end: float
    semi_angle: float | None = None
    own_side: int = 0       # sign of x of its faces where that is needed to tell it from its partner, else 0


def wanted_in_head(design):
    """Bores, counterbores and pilots of a head, by our own numbers."""
    result = []
    deep = design.counterbore[1] if design.counterbore else 0.0
    for b in design.bores:
        name = f"{b.side} bore {b.number}"
        pointed = b.point_height > 0 and not b.cylinder_is_cut
        angle = math.atan2(b.diameter / 2, b.point_height) if pointed else None
        side = b.sense if b.partner else 0
        result.append(Wanted(name, b.entry, b.direction, b.diameter / 2, deep, b.length_in_model, angle, side))
        if deep:
            wide = design.counterbore[0] / 2
            result.append(Wanted(name + " counterbore", b.entry, b.direction, wide, 0.0, deep, None, b.sense))
    for i, (entry, direction, diameter, depth) in enumerate(design.pilots):
        side = 1 if entry[0] > 0 else -1
        result.append(Wanted(f"pilot {i + 1}", entry, direction, diameter / 2, 0.0, depth, None, side))
    return result


def wanted_in_block(block):
    return [Wanted(f"hole {i + 1}", (x, 0.0, block.axis_height), (0.0, 1.0, 0.0), block.diameter / 2, 0.0, block.depth)
            for i, x in enumerate(block.holes)]


def wanted_by_report(report, part, design):
    """The same lists as report.json gives them; depth of the block from the parameters, as the report has no other."""
    if part == "head":
        deep = design.counterbore[1] if design.counterbore else 0.0
        return [Wanted(f"{b['side']} bore {b['number']} (report)", b["entry"], b["direction"], b["diameter"] / 2, deep,
                       b["length_in_model"], None, ours.sense if ours.partner else 0)
                for b, ours in zip(report["bores"], design.bores)]
    return [Wanted(f"hole {h['number']} (report)", (h["x"], 0.0, h["z"]), (0.0, 1.0, 0.0), h["diameter"] / 2, 0.0,
                   design.block(part).depth) for h in report["solids"][part]["holes"]]


def worst_of(wanted, cylinders):
    """The cylinder nearest to the wanted one, and the worst of its disagreements in mm."""
    best, best_figure = None, math.inf
    for found in cylinders:
        start, end = found.span(wanted)
        figures = [off_line(wanted.entry, found.origin, found.axis),
                   off_line(oc.add(wanted.entry, wanted.direction, wanted.end), found.origin, found.axis),
                   abs(found.size - wanted.radius), abs(start - wanted.start), abs(end - wanted.end)]
        figure = max(math.inf if math.isnan(f) else f for f in figures)
        if figure < best_figure:
            best, best_figure = found, figure
    return best, best_figure

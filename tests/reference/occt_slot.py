"""The slot and its ramp as one tool, put together face by face.

Cutting ramp and slot one after the other was tried first: their walls are coplanar and the slot's corner arcs touch the
walls, and OpenCASCADE then gave an invalid head for one slot out of ten (slots parallel to the sides, half-round ends)
whose volume was wrong by 1e-5 without a word. Here nothing is intersected: every edge is written down.
"""

import math

from OCP.BRepBuilderAPI import (BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeSolid,
                                BRepBuilderAPI_MakeWire, BRepBuilderAPI_Sewing)
from OCP.gp import gp_Ax2, gp_Ax3, gp_Cylinder, gp_Dir, gp_Elips, gp_Pnt
from OCP.ShapeFix import ShapeFix_Shape

import occt_common as oc

TOP = 1.0       # the tool stands so far out of the face
BELOW = 10.0    # and so far out of the back


class SlotTool:
    """Points are (along, across, z): along from the slot's extreme nut end towards the crest, across from its mid-line."""

    def __init__(self, slot, thickest):
        self.slot = slot
        self.half, self.r, self.length = slot.width / 2, slot.radius, slot.length
        self.bottom = -thickest - BELOW
        self.ramp = slot.ramp_angle is not None and slot.ramp_mouth + slot.radius > 0
        self.slope = math.tan(math.radians(slot.ramp_angle)) if self.ramp else 0.0
        self.faces = []

    def at(self, along, across, z):
        s = self.slot
        return (s.origin[0] + along * s.along[0] + across * s.across[0],
                s.origin[1] + along * s.along[1] + across * s.across[1], z)

    def floor(self, along):
        return -(along + self.slot.ramp_mouth) * self.slope

    def line(self, a, b):
        return oc.line(self.at(*a), self.at(*b))

    def flat(self, points):
        self.faces.append(oc.polygon([self.at(*p) for p in points]))

    def corner(self, nut, side):
        """Centre of a corner's arc and its ends: on the wall, on the end."""
        along, end = (self.r, 0.0) if nut else (self.length - self.r, self.length)
        across = side * (self.half - self.r)
        return (along, across), (along, side * self.half), (end, across)

    def level_arc(self, nut, side, z):
        """A corner's arc in a level plane."""
        centre, wall, end = self.corner(nut, side)
        middle = tuple(c + self.r * math.sqrt(0.5) * sign
                       for c, sign in zip(centre, (-1 if nut else 1, side)))
        return oc.arc(self.at(*wall, z), self.at(*middle, z), self.at(*end, z))

    def floor_arc(self, side):
        """A nut corner's arc where the ramp's floor meets it: a quarter of an ellipse, as long as the floor leans."""
        (along, across), wall, end = self.corner(True, side)
        s = self.slot
        stretch = math.hypot(1.0, self.slope)
        down = gp_Dir(s.along[0], s.along[1], -self.slope)
        normal = gp_Dir(s.along[0] * self.slope, s.along[1] * self.slope, 1.0)
        ellipse = gp_Elips(gp_Ax2(gp_Pnt(*self.at(along, across, self.floor(along))), normal, down), self.r * stretch, self.r)
        ends = [gp_Pnt(*self.at(*p, self.floor(p[0]))) for p in (wall, end)]
        # An arc runs anticlockwise about the normal; across is 90° clockwise of along on the treble side only.
        turn = s.along[0] * s.across[1] - s.along[1] * s.across[0]
        if turn * side < 0:
            ends.reverse()
        return BRepBuilderAPI_MakeEdge(ellipse, ends[0], ends[1]).Edge()

    def round_face(self, nut, side, upper):
        """A quarter cylinder between the bottom and `upper`, an edge on it."""
        centre, wall, end = self.corner(nut, side)
        z_of = (lambda p: self.floor(p[0])) if nut and self.ramp else (lambda p: TOP)
        wire = BRepBuilderAPI_MakeWire()
        for edge in (self.level_arc(nut, side, self.bottom), self.line((*end, self.bottom), (*end, z_of(end))), upper,
                     self.line((*wall, self.bottom), (*wall, z_of(wall)))):
            wire.Add(edge)
        carrier = gp_Cylinder(gp_Ax3(gp_Pnt(*self.at(*centre, 0.0)), gp_Dir(0, 0, 1)), self.r)
        # On a cylinder the edges need curves in its parameters as well, which the fixer writes.
        fixer = ShapeFix_Shape(BRepBuilderAPI_MakeFace(carrier, wire.Wire(), True).Face())
        fixer.Perform()
        self.faces += oc.faces(fixer.Shape())

    def plan_edges(self, z, square_nut):
        """The plan at one level; with `square_nut` it reaches to the ramp's mouth."""
        h, r, length = self.half, self.r, self.length
        start = -self.slot.ramp_mouth if square_nut else r
        edges = [self.line((start, -h, z), (length - r, -h, z))]
        if r > 0:
            edges.append(self.level_arc(False, -1, z))
        if h - r > 1e-9:
            edges.append(self.line((length, r - h, z), (length, h - r, z)))
        if r > 0:
            edges.append(self.level_arc(False, 1, z))
        edges.append(self.line((length - r, h, z), (start, h, z)))
        if square_nut:
            edges.append(self.line((start, h, z), (start, -h, z)))
        else:
            if r > 0:
                edges.append(self.level_arc(True, 1, z))
            if h - r > 1e-9:
                edges.append(self.line((0.0, h - r, z), (0.0, r - h, z)))
            if r > 0:
                edges.append(self.level_arc(True, -1, z))
        return edges

    def nut_end(self):
        h, r = self.half, self.r
        if not self.ramp:
            if h - r > 1e-9:
                self.flat([(0.0, h - r, TOP), (0.0, r - h, TOP), (0.0, r - h, self.bottom), (0.0, h - r, self.bottom)])
            return
        mouth = self.slot.ramp_mouth
        self.flat([(-mouth, h, TOP), (-mouth, -h, TOP), (-mouth, -h, 0.0), (-mouth, h, 0.0)])
        edges = [self.line((-mouth, -h, 0.0), (-mouth, h, 0.0))]
        if mouth + r > 0:
            edges.append(self.line((-mouth, h, 0.0), (r, h, self.floor(r))))
        if r > 0:
            edges.append(self.floor_arc(1))
        if h - r > 1e-9:
            z = self.floor(0.0)
            edges.append(self.line((0.0, h - r, z), (0.0, r - h, z)))
            if z < 0 or mouth == 0:
                self.flat([(0.0, h - r, z), (0.0, r - h, z), (0.0, r - h, self.bottom), (0.0, h - r, self.bottom)])
        if r > 0:
            edges.append(self.floor_arc(-1))
        edges.append(self.line((r, -h, self.floor(r)), (-mouth, -h, 0.0)))
        self.faces += self.floor_faces(edges)

    def floor_faces(self, edges):
        """The floor as one face; where there is no mouth, two corner pieces that touch the slot's end."""
        if self.slot.ramp_mouth > 0:
            return [oc.face_of(edges)]
        pieces, r, h = [], self.r, self.half
        for side in (1, -1):
            pieces.append(oc.face_of([
                self.line((0.0, side * (h - r), 0.0), (0.0, side * h, 0.0)),
                self.line((0.0, side * h, 0.0), (r, side * h, self.floor(r))),
                self.floor_arc(side)]))
        return pieces

    def solid(self):
        h, r, length, low = self.half, self.r, self.length, self.bottom
        start = -self.slot.ramp_mouth if self.ramp else r
        self.faces.append(oc.face_of(self.plan_edges(TOP, self.ramp)))
        self.faces.append(oc.face_of(self.plan_edges(low, False)))
        for side in (1, -1):
            wall = [(start, side * h, TOP), (length - r, side * h, TOP), (length - r, side * h, low), (r, side * h, low)]
            if self.ramp:
                wall += [(r, side * h, self.floor(r)), (start, side * h, 0.0)]
            self.flat(wall)
            if r > 0:
                self.round_face(False, side, self.level_arc(False, side, TOP))
                self.round_face(True, side, self.floor_arc(side) if self.ramp else self.level_arc(True, side, TOP))
        if h - r > 1e-9:
            self.flat([(length, h - r, TOP), (length, r - h, TOP), (length, r - h, low), (length, h - r, low)])
        self.nut_end()
        return self.sewn()

    def sewn(self):
        sewing = BRepBuilderAPI_Sewing(1e-7)
        for face in self.faces:
            sewing.Add(face)
        sewing.Perform()
        found = oc.shells(sewing.SewedShape())
        if len(found) != 1 or sewing.NbFreeEdges() or sewing.NbMultipleEdges():
            raise ValueError(f"{self.slot.side} slot: {len(found)} shells, {sewing.NbFreeEdges()} free edges")
        solid = BRepBuilderAPI_MakeSolid(found[0]).Solid()
        if oc.volume(solid) < 0:
            solid.Reverse()
        if not oc.is_valid(solid):
            raise ValueError(f"{self.slot.side} slot: the tool is not valid")
        wanted = self.closed_form()
        if abs(oc.volume(solid) - wanted) > 1e-8 * wanted:
            raise ValueError(f"{self.slot.side} slot: the tool's volume is {oc.volume(solid)}, its closed form {wanted}")
        return solid

    def closed_form(self):
        """Volume of the tool: slot prism, ramp wedge over its mouth and over the two corners the arcs leave."""
        h, r, mouth = self.half, self.r, self.slot.ramp_mouth
        plan = 2 * h * self.length - (4 - math.pi) * r * r
        volume = plan * (TOP - self.bottom)
        if self.ramp:
            area = (1 - math.pi / 4) * r * r
            # Of one corner, the square less the quarter disc about the arc's centre: integral of `along` = r − u over it,
            # where u, counted from the arc's centre, integrates to r³/2 over the square and to r³/3 over the disc.
            moment = r * area - r ** 3 / 6
            volume += 2 * h * (mouth * TOP + mouth * mouth * self.slope / 2)
            volume += 2 * (area * (TOP + mouth * self.slope) + moment * self.slope)
        return volume

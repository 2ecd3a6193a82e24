"""Reads an assembly with OpenCASCADE's document reader: one component after another, each with its name, colour and place."""

from dataclasses import dataclass

from OCP.Quantity import Quantity_Color
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_AttributeIterator, TDF_ChildIterator, TDF_Label
from OCP.XCAFDoc import (XCAFDoc_Area, XCAFDoc_Centroid, XCAFDoc_ColorTool, XCAFDoc_ColorType, XCAFDoc_DocumentTool, XCAFDoc_ShapeTool,
                         XCAFDoc_Volume)

import occt_common as oc
import step_file


@dataclass
class Component:
    name: str           # of the occurrence
    part: str           # of the part it refers to
    colour: tuple       # red, green, blue, or None
    matrix: list        # three rows of four: the part's own frame in the assembly
    solid: object       # in its place
    volume: float       # as the part states it


@dataclass
class Assembly:
    name: str
    components: list
    volume: float       # stated for the whole
    area: float
    centroid: tuple


def attributes(label):
    found, iterator = [], TDF_AttributeIterator(label)
    while iterator.More():
        found.append(iterator.Value())
        iterator.Next()
    return found


def name_of(label):
    return next((a.Get().ToExtString() for a in attributes(label) if isinstance(a, TDataStd_Name)), None)


def stated(label, kind):
    return next((a.Get() for a in attributes(label) if isinstance(a, kind)), None)


def below(label, wanted):
    """Labels right below one that are what is wanted."""
    found, iterator = [], TDF_ChildIterator(label, False)
    while iterator.More():
        if wanted(iterator.Value()):
            found.append(iterator.Value())
        iterator.Next()
    return found


def colour_of(label):
    """The colour of a part: on its label, or on the one below it that holds its only solid."""
    for one in [label] + below(label, XCAFDoc_ShapeTool.IsSubShape_s):
        for kind in (XCAFDoc_ColorType.XCAFDoc_ColorSurf, XCAFDoc_ColorType.XCAFDoc_ColorGen):
            colour = Quantity_Color()
            if XCAFDoc_ColorTool.GetColor_s(one, kind, colour):
                return colour.Red(), colour.Green(), colour.Blue()
    return None


def component(label):
    part = TDF_Label()
    if not XCAFDoc_ShapeTool.GetReferredShape_s(label, part):
        raise ValueError(f"component {name_of(label)} refers to no part")
    shape = XCAFDoc_ShapeTool.GetShape_s(label)
    move = XCAFDoc_ShapeTool.GetLocation_s(label).Transformation()
    solids = oc.solids(shape)
    if len(solids) != 1:
        raise ValueError(f"component {name_of(label)} holds {len(solids)} solids")
    matrix = [[move.Value(row, column) for column in range(1, 5)] for row in range(1, 4)]
    return Component(name_of(label), name_of(part), colour_of(part), matrix, solids[0], stated(part, XCAFDoc_Volume))


def read(path):
    document = step_file.opened(path)
    tool = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    free = below(tool.Label(), XCAFDoc_ShapeTool.IsFree_s)
    if len(free) != 1 or not XCAFDoc_ShapeTool.IsAssembly_s(free[0]):
        raise ValueError(f"{path}: {len(free)} free shapes, where one assembly was to be")
    top = free[0]
    components = [component(one) for one in below(top, XCAFDoc_ShapeTool.IsComponent_s)]
    centre = stated(top, XCAFDoc_Centroid)
    found = Assembly(name_of(top), components, stated(top, XCAFDoc_Volume), stated(top, XCAFDoc_Area),
                     centre and (centre.X(), centre.Y(), centre.Z()))
    # The document owns the shapes; keep it as long as they are used.
    found.document = document
    return found

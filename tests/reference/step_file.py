"""Reads a STEP file twice: with OpenCASCADE's document reader, and as text for what that reader puts right in silence."""

import re
from dataclasses import dataclass, field
from pathlib import Path

from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.Message import Message, Message_Gravity
from OCP.Quantity import Quantity_Color
from OCP.STEPCAFControl import STEPCAFControl_Reader
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_AttributeIterator, TDF_ChildIterator
from OCP.TDocStd import TDocStd_Document
from OCP.XCAFDoc import (XCAFDoc_Area, XCAFDoc_Centroid, XCAFDoc_ColorTool, XCAFDoc_ColorType, XCAFDoc_DocumentTool, XCAFDoc_ShapeTool,
                         XCAFDoc_Volume)

SURFACES = {"PLANE", "CYLINDRICAL_SURFACE", "CONICAL_SURFACE"}
CURVES = {"LINE", "CIRCLE", "ELLIPSE"}
# Every other surface and curve a STEP writer could use in place of those.
OTHERS = re.compile(r"\b(\w*B_SPLINE\w*|SURFACE_OF_\w+|SWEPT_SURFACE|TOROIDAL_SURFACE|SPHERICAL_SURFACE|POLYLINE|"
                    r"TRIMMED_CURVE|PCURVE|SEAM_CURVE|SURFACE_CURVE|INTERSECTION_CURVE|BEZIER\w*|HYPERBOLA|PARABOLA|"
                    r"VERTEX_LOOP|POLY_LOOP)\b")


def quiet():
    """Keeps OpenCASCADE's statistics off the standard output."""
    for printer in list(Message.DefaultMessenger_s().Printers()):
        printer.SetTraceLevel(Message_Gravity.Message_Fail)


@dataclass
class Document:
    shapes: list = field(default_factory=list)      # top-level shapes
    names: list = field(default_factory=list)
    colours: list = field(default_factory=list)
    volumes: list = field(default_factory=list)
    areas: list = field(default_factory=list)
    centroids: list = field(default_factory=list)


def opened(path):
    """The file as OpenCASCADE's document, with names, colours and stated properties."""
    quiet()
    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    reader.SetColorMode(True)
    reader.SetPropsMode(True)
    if reader.ReadFile(str(path)) != IFSelect_ReturnStatus.IFSelect_RetDone:
        raise ValueError(f"{path}: OpenCASCADE cannot read it")
    document = TDocStd_Document(TCollection_ExtendedString("XmlOcaf"))
    if not reader.Transfer(document):
        raise ValueError(f"{path}: OpenCASCADE cannot transfer it")
    return document


def read_document(path):
    document = opened(path)
    shape_tool = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    found = Document()
    labels = TDF_ChildIterator(shape_tool.Label(), True)
    while labels.More():
        label = labels.Value()
        if shape_tool.IsTopLevel(label) and XCAFDoc_ShapeTool.IsFree_s(label):
            found.shapes.append(XCAFDoc_ShapeTool.GetShape_s(label))
        attributes = TDF_AttributeIterator(label)
        while attributes.More():
            value = attributes.Value()
            if isinstance(value, TDataStd_Name):
                found.names.append(value.Get().ToExtString())
            elif isinstance(value, XCAFDoc_Volume):
                found.volumes.append(value.Get())
            elif isinstance(value, XCAFDoc_Area):
                found.areas.append(value.Get())
            elif isinstance(value, XCAFDoc_Centroid):
                p = value.Get()
                found.centroids.append((p.X(), p.Y(), p.Z()))
            attributes.Next()
        for kind in (XCAFDoc_ColorType.XCAFDoc_ColorGen, XCAFDoc_ColorType.XCAFDoc_ColorSurf):
            colour = Quantity_Color()
            if XCAFDoc_ColorTool.GetColor_s(label, kind, colour):
                found.colours.append((colour.Red(), colour.Green(), colour.Blue()))
        labels.Next()
    return found


def decode(text):
    """A Part 21 string: doubled quotes and backslashes, \\X2\\ and \\X4\\ groups, \\X\\ bytes, \\S\\ shifts."""
    text = text.replace("''", "'")
    text = re.sub(r"\\X2\\((?:[0-9A-F]{4})+)\\X0\\", lambda m: bytes.fromhex(m[1]).decode("utf-16-be"), text)
    text = re.sub(r"\\X4\\((?:[0-9A-F]{8})+)\\X0\\", lambda m: bytes.fromhex(m[1]).decode("utf-32-be"), text)
    text = re.sub(r"\\X\\([0-9A-F]{2})", lambda m: chr(int(m[1], 16)), text)
    text = re.sub(r"\\S\\(.)", lambda m: chr(ord(m[1]) + 128), text)
    return text.replace("\\\\", "\\")


class StepText:
    """The instances of a Part 21 file as text: number -> (entity name or '' for a complex instance, arguments)."""

    INSTANCE = re.compile(r"\s*#(\d+)\s*=\s*(\w*)\s*\((.*)\)\s*", re.S)

    def __init__(self, path):
        self.raw = Path(path).read_text(encoding="utf-8", errors="replace")
        self.instances = {}
        for statement in self.statements():
            match = self.INSTANCE.fullmatch(statement)
            if match:
                self.instances[int(match[1])] = (match[2].upper(), match[3])

    def statements(self):
        """The file cut at every semicolon outside strings; a doubled quote reads as two strings side by side, which
        comes to the same here, and a quote left open cannot make the search run away."""
        start = 0
        for token in re.finditer(r"'[^']*'|;", self.raw):
            if token[0] == ";":
                yield self.raw[start:token.start()]
                start = token.end()

    def of(self, name):
        return {n: body for n, (entity, body) in self.instances.items() if entity == name}

    def names(self, entity):
        """The decoded text arguments of every instance of an entity."""
        return [[decode(t) for t in re.findall(r"'((?:[^']|'')*)'", body)] for body in self.of(entity).values()]

    def without_strings(self):
        return re.sub(r"'(?:[^']|'')*'", "''", self.raw)

    def foreign_geometry(self):
        """Names of surfaces and curves outside those the contract allows, with their counts."""
        counts = {}
        for name in OTHERS.findall(self.without_strings()):
            counts[name] = counts.get(name, 0) + 1
        return counts

    def curve_kinds(self):
        """Entity names of the curves that EDGE_CURVE instances lie on, and of the surfaces of faces."""
        curves, surfaces = set(), set()
        for body in self.of("EDGE_CURVE").values():
            references = re.findall(r"#(\d+)", body)
            curves.add(self.instances[int(references[2])][0])
        for body in self.of("ADVANCED_FACE").values():
            references = re.findall(r"#(\d+)", body)
            surfaces.add(self.instances[int(references[-1])][0])
        return curves, surfaces

    def edge_uses(self):
        """For every EDGE_CURVE the senses (True forward) in which face bounds run along it, all flags applied."""
        uses = {n: [] for n in self.of("EDGE_CURVE")}
        oriented = self.of("ORIENTED_EDGE")
        loops = self.of("EDGE_LOOP")
        for entity in ("FACE_BOUND", "FACE_OUTER_BOUND"):
            for body in self.of(entity).values():
                loop = int(re.search(r"#(\d+)", body)[1])
                bound = body.rstrip().endswith(".T.")
                for n in re.findall(r"#(\d+)", loops[loop]):
                    edge = oriented[int(n)]
                    sense = edge.rstrip().endswith(".T.")
                    uses[int(re.search(r"#(\d+)", edge)[1])].append(sense == bound)
        return uses

    def millimetres(self):
        """Whether lengths are SI millimetres and no conversion-based unit stands beside them."""
        text = re.sub(r"\s", "", self.without_strings())
        return "SI_UNIT(.MILLI.,.METRE.)" in text and "CONVERSION_BASED_UNIT" not in text

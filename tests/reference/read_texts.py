"""Reads the free texts in folders of output with parsers that are not ours, as JSON on standard output.

    python read_texts.py FOLDER...

HTML by html.parser, SVG and the models of 3MF by ElementTree, CSV by csv, DXF by ezdxf, STEP by OpenCASCADE
(names of products), JSON by json. For each file: the number of its elements, rows or entities, the kinds of
them, and its texts.
"""

import csv
import json
import sys
import xml.etree.ElementTree as ElementTree
import zipfile
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path

import ezdxf
from ezdxf.lldxf.encoding import decode_dxf_unicode
from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.STEPCAFControl import STEPCAFControl_Reader
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDocStd import TDocStd_Document
from OCP.XCAFDoc import XCAFDoc_DocumentTool

import step_file
from assembly_file import below, name_of


class Page(HTMLParser):
    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.kinds, self.texts, self.scripts = Counter(), [], 0

    def handle_starttag(self, tag, attributes):
        self.kinds[tag] += 1
        self.scripts += tag == "script" or any(name.startswith("on") for name, _ in attributes)
        self.texts += [value for _, value in attributes if value]

    handle_startendtag = handle_starttag

    def handle_data(self, data):
        self.texts.append(data)

    def handle_comment(self, data):
        self.kinds["comment"] += 1


def page(path):
    reader = Page()
    reader.feed(path.read_text(encoding="utf-8"))
    reader.close()
    return reader.kinds, reader.texts, reader.scripts


def xml(data):
    root = ElementTree.fromstring(data)
    kinds, texts = Counter(), []
    for element in root.iter():
        kinds[element.tag] += 1
        texts += [element.text or ""] + list(element.attrib.values())
    return kinds, texts, sum("script" in kind.lower() for kind in kinds)


def package(path):
    kinds, texts, scripts = Counter(), [], 0
    with zipfile.ZipFile(path) as file:
        assert file.testzip() is None
        for name in file.namelist():
            kinds[f"part {name}"] += 1
            if name.endswith((".model", ".rels", ".xml")):
                more, found, bad = xml(file.read(name))
                kinds.update(more)
                texts += found
                scripts += bad
    return kinds, texts, scripts


def table(path):
    with open(path, newline="", encoding="utf-8") as file:
        rows = list(csv.reader(file, strict=True))
    assert len({len(row) for row in rows}) == 1, "rows of different lengths"
    kinds = Counter({"row": len(rows), "cell": sum(map(len, rows))})
    return kinds, [cell for row in rows for cell in row], 0


def drawing(path):
    document = ezdxf.readfile(path)
    audit = document.audit()
    assert not audit.errors and not audit.fixes, audit.errors
    kinds, texts = Counter(), []
    for entity in document.modelspace():
        kinds[entity.dxftype()] += 1
        if entity.dxftype() == "TEXT":
            texts.append(decode_dxf_unicode(entity.dxf.text))
    kinds["layers"] = len(document.layers)
    return kinds, texts, 0


def exchange(path):
    step_file.quiet()
    document = TDocStd_Document(TCollection_ExtendedString("texts"))
    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    assert reader.ReadFile(str(path)) == IFSelect_ReturnStatus.IFSelect_RetDone, path
    assert reader.Transfer(document), path
    tool = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    texts = [name_of(label) for label in below(tool.Label(), lambda _: True)]
    return Counter({"shape": len(texts)}), texts, 0


READERS = {".html": page, ".svg": lambda path: xml(path.read_bytes()), ".3mf": package, ".csv": table,
           ".dxf": drawing, ".step": exchange}


def main(folders):
    everything = []
    for folder in folders:
        found = {}
        for path in sorted(Path(folder).rglob("*")):
            if path.suffix in READERS:
                kinds, texts, scripts = READERS[path.suffix](path)
                name = path.relative_to(folder).as_posix()
                # Numbers of meshes are no texts.
                texts = [text for text in texts if text and not text.replace(".", "").replace("-", "").isdigit()]
                found[name] = {"kinds": dict(sorted(kinds.items())), "texts": texts, "scripts": scripts}
        everything.append(found)
    json.dump(everything, sys.stdout)


main(sys.argv[1:])

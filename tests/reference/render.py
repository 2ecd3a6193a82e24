"""A plain picture of a solid, an assembly or a mesh, from two views, so that a person can look at it.

    python render.py SHAPE.step|SHAPE.stl OUT.png [CHORD]
"""

import sys
from pathlib import Path

import numpy as np
import trimesh
from PIL import Image, ImageDraw

import assembly_file
import occt_common as oc
import occt_mesh
import step_file

SIZE = 900          # pixels a side, each view
VIEWS = ((35.0, -60.0), (35.0, 125.0))     # degrees: turn about z, then nod; the second looks at the back
WOOD = np.array([196.0, 154.0, 108.0])
SHARP = 25.0        # degrees between facets from which their common edge is drawn


def load(path, chord):
    """The mesh, and the colour of each of its facets."""
    if Path(path).suffix.lower() not in (".step", ".stp"):
        mesh = trimesh.load_mesh(str(path))
        return mesh, np.tile(WOOD, (len(mesh.faces), 1))
    if "NEXT_ASSEMBLY_USAGE_OCCURRENCE" in Path(path).read_text(encoding="ascii"):
        assembly = assembly_file.read(path)
        # OpenCASCADE keeps colours linear; a picture wants them as the file has them.
        parts = [(c.solid, 255.0 * np.power(c.colour, 1 / 2.2)) for c in assembly.components]
    else:
        parts = [(oc.solids(step_file.read_document(path).shapes[0])[0], WOOD)]
    meshes, colours = [], []
    for solid, colour in parts:
        mesh = trimesh.Trimesh(*occt_mesh.triangulate(solid, chord))
        meshes.append(mesh)
        colours.append(np.tile(colour, (len(mesh.faces), 1)))
    return trimesh.util.concatenate(meshes), np.concatenate(colours)


def turn(turn_degrees, nod_degrees):
    """Rotation to view axes: x right, y up, z towards the eye."""
    a, b = np.radians([turn_degrees, nod_degrees])
    about_z = np.array([[np.cos(a), -np.sin(a), 0], [np.sin(a), np.cos(a), 0], [0, 0, 1]])
    about_x = np.array([[1, 0, 0], [0, np.cos(b), -np.sin(b)], [0, np.sin(b), np.cos(b)]])
    return about_x @ about_z


def view(mesh, colours, rotation):
    """One view by a depth buffer: every facet filled by its slope to the light, sharp edges in front drawn dark."""
    points = mesh.vertices @ rotation.T
    low, high = points.min(axis=0), points.max(axis=0)
    scale = 0.92 * SIZE / max(high[0] - low[0], high[1] - low[1])
    points = (points - (low + high) / 2) * scale
    points[:, 1] *= -1
    points[:, :2] += SIZE / 2
    normals = mesh.face_normals @ rotation.T
    light = np.array([0.35, 0.55, 0.76])
    depth = np.full((SIZE, SIZE), -np.inf)
    image = np.full((SIZE, SIZE, 3), 255.0)
    for triangle, normal, colour in zip(points[mesh.faces], normals, colours):
        if normal[2] <= 0:
            continue
        fill(image, depth, triangle, colour * (0.35 + 0.65 * max(0.0, float(normal @ light))))
    picture = Image.fromarray(image.clip(0, 255).astype(np.uint8))
    draw = ImageDraw.Draw(picture)
    sharp = mesh.face_adjacency_angles > np.radians(SHARP)
    for a, b in points[mesh.face_adjacency_edges[sharp]]:
        draw_edge(draw, depth, a, b)
    return picture


def fill(image, depth, triangle, colour):
    x0, y0 = np.maximum(np.floor(triangle[:, :2].min(axis=0)).astype(int), 0)
    x1, y1 = np.minimum(np.ceil(triangle[:, :2].max(axis=0)).astype(int), SIZE - 1)
    (ax, ay, az), (bx, by, bz), (cx, cy, cz) = triangle
    area = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay)
    if abs(area) < 1e-9 or x1 < x0 or y1 < y0:
        return
    x, y = np.meshgrid(np.arange(x0, x1 + 1), np.arange(y0, y1 + 1))
    b = ((x - ax) * (cy - ay) - (cx - ax) * (y - ay)) / area
    c = ((bx - ax) * (y - ay) - (x - ax) * (by - ay)) / area
    z = az + b * (bz - az) + c * (cz - az)
    rows, columns = slice(y0, y1 + 1), slice(x0, x1 + 1)
    shown = (b >= 0) & (c >= 0) & (b + c <= 1) & (z > depth[rows, columns])
    depth[rows, columns][shown] = z[shown]
    image[rows, columns][shown] = colour


def draw_edge(draw, depth, a, b):
    """Draws the parts of an edge that lie at the front."""
    steps = max(int(np.abs(b - a)[:2].max()), 1)
    for t in np.linspace(0, 1, steps + 1):
        x, y, z = a + t * (b - a)
        column, row = min(max(int(x), 0), SIZE - 1), min(max(int(y), 0), SIZE - 1)
        if z >= depth[row, column] - 2.5:
            draw.point((column, row), fill=(60, 40, 25))


def main():
    source, target = sys.argv[1:3]
    mesh, colours = load(source, float(sys.argv[3]) if len(sys.argv) > 3 else 0.05)
    sheet = Image.new("RGB", (2 * SIZE, SIZE), "white")
    for i, (turned, nodded) in enumerate(VIEWS):
        sheet.paste(view(mesh, colours, turn(turned, nodded)), (i * SIZE, 0))
    sheet.save(target)
    print(f"{target}: {len(mesh.faces)} facets")


if __name__ == "__main__":
    main()

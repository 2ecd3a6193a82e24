"""Times OpenCASCADE on the solids of parameter files: building by booleans, meshing, writing STEP.

    python time_kernel.py FOLDER PARAMS.toml...

Head and blocks of every design together; import and start-up are left out. One line of JSON a design: the medians in seconds, the
number of triangles, how far a facet strays from the true surface, volume. FOLDER takes the STEP files, which are written
over and over. `cargo bench --bench against_kernel` runs this and sets its own times beside it.

Times are the processor's, not the clock's: on a busy machine long steps would wait for their turn and short ones would not.
Each step is done the quickest way that came out right: all tools cut in one boolean (a cut for every tool takes five to eight
times as long), the mesh in one thread, the plain STEP writer without names and colours.
"""

import json
import statistics
import sys
import time
from pathlib import Path

import numpy as np
from OCP.BRep import BRep_Tool
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.BRepTools import BRepTools
from OCP.GeomAbs import GeomAbs_SurfaceType
from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.STEPControl import STEPControl_StepModelType, STEPControl_Writer
from OCP.TopLoc import TopLoc_Location

import occt_common as oc
import occt_head
import occt_mesh
import on_surface
import step_file
from contract_design import Design

ENOUGH = 8.0        # seconds: a step is repeated until it has taken this long ...
RUNS = (3, 15)      # ... but not fewer or more times than this


def median(work, ready=lambda: None):
    """Median time of `work`, and its last result; `ready` is called before each run and not timed."""
    times = []
    while len(times) < RUNS[0] or (len(times) < RUNS[1] and sum(times) < ENOUGH):
        ready()
        since = time.process_time()
        result = work()
        times.append(time.process_time() - since)
    return statistics.median(times), result


def mesh(solids, chord):
    for solid in solids:
        BRepMesh_IncrementalMesh(solid, chord, False, occt_mesh.ANGULAR, False)


def look_at_mesh(solids):
    """Number of triangles, and the farthest that the middles of facets and of their edges lie off a curved face."""
    count, farthest = 0, 0.0
    for face in (f for solid in solids for f in oc.faces(solid)):
        location = TopLoc_Location()
        found = BRep_Tool.Triangulation_s(face, location)
        count += found.NbTriangles()
        if BRepAdaptor_Surface(face).GetType() == GeomAbs_SurfaceType.GeomAbs_Plane:
            continue
        nodes = np.array([[p.X(), p.Y(), p.Z()] for p in
                          (found.Node(i).Transformed(location.Transformation()) for i in range(1, found.NbNodes() + 1))])
        corners = np.array([found.Triangle(i).Get() for i in range(1, found.NbTriangles() + 1)]) - 1
        a, b, c = (nodes[corners[:, i]] for i in range(3))
        middles = np.concatenate([(a + b) / 2, (b + c) / 2, (c + a) / 2, (a + b + c) / 3])
        farthest = max(farthest, float(on_surface.Face(face).carrier_distance(middles).max()))
    return count, farthest


def write(solids, folder):
    for number, solid in enumerate(solids):
        writer = STEPControl_Writer()
        writer.Transfer(solid, STEPControl_StepModelType.STEPControl_AsIs)
        if writer.Write(str(folder / f"kernel-{number}.step")) != IFSelect_ReturnStatus.IFSelect_RetDone:
            raise ValueError("OpenCASCADE could not write its STEP file")


def time_design(path, folder):
    design = Design(path)
    build, solids = median(lambda: [occt_head.build_at_once(design, part) for part in design.parts()])
    for solid in solids:
        if len(oc.solids(solid)) != 1 or not oc.is_valid(solid):
            raise ValueError(f"{path}: a solid built at once is not one valid solid")
    meshing, _ = median(lambda: mesh(solids, design.chord), lambda: [BRepTools.Clean_s(s) for s in solids])
    triangles, farthest = look_at_mesh(solids)
    for solid in solids:
        BRepTools.Clean_s(solid)
    writing, _ = median(lambda: write(solids, folder))
    return {"solids": build, "mesh": meshing, "step": writing, "triangles": triangles, "farthest": farthest,
            "volume": sum(oc.volume(s) for s in solids)}


def main():
    folder = Path(sys.argv[1])
    step_file.quiet()
    for path in sys.argv[2:]:
        print(json.dumps(time_design(path, folder)), flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())

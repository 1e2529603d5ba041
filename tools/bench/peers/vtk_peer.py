"""VTK from Debian's python3-vtk9, timed inside the process. Called as: vtk_peer.py measure FILE | deviation FILE FILE"""

import json
import resource
import sys
import time

from vtkmodules.vtkFiltersCore import (
    vtkCenterOfMass,
    vtkMassProperties,
    vtkPolyDataConnectivityFilter,
)
from vtkmodules.vtkFiltersExtraction import vtkExtractEdges
from vtkmodules.vtkFiltersModeling import vtkHausdorffDistancePointSetFilter
from vtkmodules.vtkIOGeometry import vtkSTLReader


def read(path):
    reader = vtkSTLReader()
    reader.SetFileName(path)
    reader.Update()
    return reader.GetOutput()


def edges(mesh):
    # vtkFeatureEdges of 9.1 would tell boundary edges, but asks for memory that grows with the square of the points.
    found = vtkExtractEdges()
    found.SetInputData(mesh)
    found.UseAllPointsOn()
    found.Update()
    return found.GetOutput().GetNumberOfLines()


def measure(path):
    mesh = read(path)
    mass = vtkMassProperties()
    mass.SetInputData(mesh)
    mass.Update()
    center = vtkCenterOfMass()
    center.SetInputData(mesh)
    center.Update()
    shells = vtkPolyDataConnectivityFilter()
    shells.SetInputData(mesh)
    shells.SetExtractionModeToAllRegions()
    shells.Update()
    return {
        "triangles": mesh.GetNumberOfCells(),
        "vertices": mesh.GetNumberOfPoints(),
        "area": mass.GetSurfaceArea(),
        "volume": mass.GetVolume(),
        "box": mesh.GetBounds(),
        "edges": edges(mesh),
        "shells": shells.GetNumberOfExtractedRegions(),
    }


def deviation(before, after):
    gap = vtkHausdorffDistancePointSetFilter()
    gap.SetInputData(0, read(before))
    gap.SetInputData(1, read(after))
    gap.SetTargetDistanceMethodToPointToCell()
    gap.Update()
    return {"max": gap.GetHausdorffDistance()}


work, *files = sys.argv[1:]
start = time.perf_counter()
spent = time.process_time()
answer = {"measure": measure, "deviation": deviation}[work](*files)
seconds = time.perf_counter() - start
cpu = time.process_time() - spent
peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
print(json.dumps({"seconds": seconds, "cpu": cpu, "peak": peak, "answer": answer}))

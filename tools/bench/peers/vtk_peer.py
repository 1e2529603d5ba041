"""VTK from Debian's python3-vtk9, timed inside the process. Called as: vtk_peer.py measure FILE | deviation FILE FILE"""

import json
import resource
import sys
import time

from vtkmodules.vtkFiltersCore import (
    vtkCenterOfMass,
    vtkFeatureEdges,
    vtkMassProperties,
    vtkPolyDataConnectivityFilter,
)
from vtkmodules.vtkFiltersModeling import vtkHausdorffDistancePointSetFilter
from vtkmodules.vtkIOGeometry import vtkSTLReader


def read(path):
    reader = vtkSTLReader()
    reader.SetFileName(path)
    reader.Update()
    return reader.GetOutput()


def edges(mesh, boundary):
    found = vtkFeatureEdges()
    found.SetInputData(mesh)
    found.SetBoundaryEdges(boundary)
    found.SetNonManifoldEdges(not boundary)
    found.FeatureEdgesOff()
    found.ManifoldEdgesOff()
    found.ColoringOff()
    found.Update()
    return found.GetOutput().GetNumberOfCells()


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
        "boundary": edges(mesh, True),
        "nonManifold": edges(mesh, False),
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
answer = {"measure": measure, "deviation": deviation}[work](*files)
seconds = time.perf_counter() - start
peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
print(json.dumps({"seconds": seconds, "peak": peak, "answer": answer}))

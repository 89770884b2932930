"""A STEP file as another program reads it: ``python read_step.py FILE`` prints its bodies as JSON, by gmsh.

Gmsh carries a build of its own of the geometry kernel, of another release than the one that wrote the file; it reads names, colours and
units for itself. It is under the GPL: a tool of the tests, run as a program of its own and loaded by nothing of Fritline.
"""

from __future__ import annotations

import json
import sys

if __name__ == "__main__":
    import gmsh

    gmsh.initialize()
    gmsh.option.setNumber("General.Terminal", 0)
    gmsh.option.setString("Geometry.OCCTargetUnit", "MM")
    model = gmsh.model
    model.occ.importShapes(sys.argv[1], highestDimOnly=True)
    model.occ.synchronize()
    bodies = [
        {
            "name": model.getEntityName(3, tag),
            "colour": model.getColor(3, tag)[:3],
            "volume": model.occ.getMass(3, tag),
            "centre": model.occ.getCenterOfMass(3, tag),
            "box": model.occ.getBoundingBox(3, tag),
        }
        for _, tag in model.occ.getEntities(3)
    ]
    print(json.dumps(bodies))
    gmsh.finalize()

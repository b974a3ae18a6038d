"""Run by Blender: imports a GLB and prints what has arrived as one line of JSON."""

import json
import sys

import numpy

# Debian's build of Blender's importer asks numpy for a name that newer numpy took away.
numpy.bool = bool

import bpy  # noqa: E402

bpy.ops.wm.read_factory_settings(use_empty=True)
bpy.ops.import_scene.gltf(filepath=sys.argv[sys.argv.index("--") + 1])


def extent(thing):
    """Least and greatest x, y, z of an object's vertices in the scene, in metres."""
    points = numpy.array([thing.matrix_world @ vertex.co for vertex in thing.data.vertices])
    return [points.min(axis=0).tolist(), points.max(axis=0).tolist()]


def measures(thing):
    """The plain custom properties of an object; it is no dict, only its keys() can be walked."""
    return {key: thing[key] for key in list(thing.keys()) if isinstance(thing[key], (int, float, str))}


meshes = [thing for thing in bpy.data.objects if thing.type == "MESH"]
answer = {
    "parents": {thing.name: thing.parent.name if thing.parent else None for thing in bpy.data.objects},
    "mesh_names": {thing.name: thing.data.name for thing in meshes},
    "extents": {thing.name: extent(thing) for thing in meshes},
    "materials": {thing.name: thing.data.materials[0].name for thing in meshes},
    "measures": {thing.name: measures(thing) for thing in meshes},
    "shapes": {thing.name: [key.name for key in thing.data.shape_keys.key_blocks]
               for thing in meshes if thing.data.shape_keys},
    "actions": {action.name: [float(frame) for frame in action.frame_range] for action in bpy.data.actions},
    "frames_per_second": bpy.context.scene.render.fps,
}  # fmt: skip


def as_seen(thing):
    """A mesh as it is drawn in the scene's frame: its points in metres, and its triangles."""
    seen = thing.evaluated_get(bpy.context.evaluated_depsgraph_get())
    mesh = seen.to_mesh()
    points = [list(seen.matrix_world @ vertex.co) for vertex in mesh.vertices]
    return points, [list(polygon.vertices) for polygon in mesh.polygons]


answer["opened_at"] = bpy.context.scene.frame_current
bpy.context.scene.frame_set(answer["opened_at"])
answer["hoops_as_opened"] = {thing.name: as_seen(thing) for thing in meshes if thing.name[5:].isdigit()
                             and thing.name.startswith("hoop ")}  # fmt: skip

animated = sorted(answer["shapes"])
values = {}
for frame in range(int(max(edge for pair in answer["actions"].values() for edge in pair)) + 1):
    bpy.context.scene.frame_set(frame)
    values[frame] = {name: [key.value for key in bpy.data.objects[name].data.shape_keys.key_blocks[1:]]
                     for name in animated}  # fmt: skip
answer["values"] = values
print("ANSWER " + json.dumps(answer))

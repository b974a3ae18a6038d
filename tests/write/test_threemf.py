"""3MF files: read back strictly by the format's own reference reader, and byte for byte the same."""

from __future__ import annotations

import io
import zipfile
from dataclasses import dataclass

import numpy as np
import pytest
from judges import missing
from models import LETTERS, SLOTTED, sample

from cage3d.miniature.flat.kit import build_flat
from cage3d.miniature.maquette import build_maquette
from cage3d.miniature.order import Order
from cage3d.shape.arrays import Floats, Ints
from cage3d.write.threemf import threemf_bytes

try:
    import lib3mf
except ImportError:
    lib3mf = None


@dataclass(frozen=True)
class Tetrahedron:
    name: str
    size: float = 10.0

    @property
    def vertices(self) -> Floats:
        return self.size * np.array([[0.0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1 / 3]])

    @property
    def triangles(self) -> Ints:
        return np.array([[0, 2, 1], [0, 1, 3], [1, 2, 3], [2, 0, 3]])


def strictly_read(data: bytes) -> lib3mf.Model:
    """The model as lib3mf reads it in strict mode, without a warning."""
    if lib3mf is None:
        missing("lib3mf")
    model = lib3mf.get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromBuffer(data)
    assert [reader.GetWarning(index) for index in range(reader.GetWarningCount())] == []
    return model


def objects_of(model: lib3mf.Model) -> list[lib3mf.MeshObject]:
    objects, found = model.GetMeshObjects(), []
    while objects.MoveNext():
        found.append(objects.GetCurrentMeshObject())
    return found


def metadata_of(model: lib3mf.Model) -> dict[str, str]:
    group = model.GetMetaDataGroup()
    entries = [group.GetMetaData(index) for index in range(group.GetMetaDataCount())]
    return {entry.GetName(): entry.GetValue() for entry in entries}


@pytest.mark.judge
@pytest.mark.parametrize("letter", LETTERS)
def test_lib3mf_reads_every_sample_strictly(letter: str) -> None:
    made = build_maquette(sample(letter), Order("1:6", "powder"))
    model = strictly_read(threemf_bytes(made.bodies, made.metadata))
    assert model.GetUnit() == lib3mf.ModelUnit.MilliMeter
    (mesh,) = objects_of(model)
    assert mesh.IsManifoldAndOriented()
    assert mesh.IsValid()
    assert mesh.GetName() == made.bodies[0].name
    assert mesh.GetTriangleCount() == len(made.bodies[0].triangles)
    vertices = np.array([list(position.Coordinates) for position in mesh.GetVertices()])
    assert np.array_equal(vertices.astype(np.float32), made.bodies[0].vertices.astype(np.float32))
    told = metadata_of(model)
    assert told["Title"] == f"{sample(letter).cage.design.name}, 1:6"
    assert told["Application"] == "cage3d"
    assert "isplay model, not to be worn" in told["Description"]


@pytest.mark.judge
@pytest.mark.parametrize(
    "letter", [letter for letter in SLOTTED if letter != "d"]
)  # whose disc cannot be flat
def test_lib3mf_reads_flat_pieces_strictly(letter: str) -> None:
    made = build_flat(sample(letter), Order("1:6", "filament", bed="250x250x250"))
    for plate in made.plates:
        model = strictly_read(threemf_bytes(plate, made.metadata))
        meshes = objects_of(model)
        assert [mesh.GetName() for mesh in meshes] == [body.name for body in plate]
        assert all(mesh.IsManifoldAndOriented() for mesh in meshes)
        assert model.GetBuildItems().Count() == len(plate)


@pytest.mark.judge
def test_odd_names_come_back_whole() -> None:
    names = ['Reifrock „½“ <&> "裙"', "tab\tand\x00 null", "  "]
    made = threemf_bytes([Tetrahedron(name) for name in names], {"Title": names[0], "Description": "a & b"})
    model = strictly_read(made)
    assert [mesh.GetName() for mesh in objects_of(model)] == [names[0], "tab and null", "  "]
    assert metadata_of(model)["Title"] == names[0]


def test_bytes_do_not_change_and_carry_no_time() -> None:
    first, second = (threemf_bytes([Tetrahedron("one")], {"Title": "t"}) for _ in range(2))
    assert first == second
    with zipfile.ZipFile(io.BytesIO(first)) as archive:
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert archive.namelist() == ["[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"]
        assert archive.testzip() is None


def test_numbers_have_the_digits_of_single_precision() -> None:
    text = zipfile.ZipFile(io.BytesIO(threemf_bytes([Tetrahedron("t", float(np.float32(123.456789)))], {})))
    assert 'x="123.456787"' in text.read("3D/3dmodel.model").decode()


def test_unknown_metadata_and_empty_files_are_refused() -> None:
    with pytest.raises(ValueError, match="knows no metadata"):
        threemf_bytes([Tetrahedron("t")], {"Colour": "red"})
    with pytest.raises(ValueError, match="at least one body"):
        threemf_bytes([], {})

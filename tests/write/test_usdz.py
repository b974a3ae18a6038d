"""The USDZ: its library's own validators find nothing, and what it holds is the cage, undated."""

from __future__ import annotations

import zipfile
from functools import cache
from importlib.util import find_spec
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from judges import missing
from models import LETTERS, sample
from on_the_surface import WITHIN, differences

from cage3d.mesh.part import ALL_KINDS
from cage3d.mesh.parts import build_parts
from cage3d.report import measure
from cage3d.write.usdz import usdz_bytes


@pytest.fixture
def library() -> None:
    if find_spec("pxr") is None:
        missing('usd-core (the extra "usdz")')


@cache
def model(letter: str) -> bytes:
    return usdz_bytes(sample(letter), ALL_KINDS)


def stage(letter: str, folder: Path) -> Any:
    from pxr import Usd

    path = folder / "cage.usdz"
    path.write_bytes(model(letter))
    return Usd.Stage.Open(str(path))


@pytest.mark.usefixtures("library")
@pytest.mark.parametrize("letter", LETTERS)
def test_every_validator_of_the_library_finds_nothing(letter: str, tmp_path: Path) -> None:
    from pxr import UsdValidation

    every = UsdValidation.ValidationRegistry().GetOrLoadAllValidators()
    assert {"usdUtilsValidators:UsdzPackageValidator", "usdGeomValidators:StageMetadataChecker"} <= {
        validator.GetMetadata().name for validator in every
    }
    found = UsdValidation.ValidationContext(every).Validate(stage(letter, tmp_path))
    assert [error.GetErrorAsString() for error in found] == []


@pytest.mark.usefixtures("library")
@pytest.mark.parametrize("letter", LETTERS)
def test_its_hoops_are_the_reports(letter: str, tmp_path: Path) -> None:
    from pxr import UsdGeom

    opened = stage(letter, tmp_path)
    assert UsdGeom.GetStageUpAxis(opened) == "Y"
    assert UsdGeom.GetStageMetersPerUnit(opened) == 1.0
    for hoop in measure(sample(letter)).hoops:
        mesh = UsdGeom.Mesh(opened.GetPrimAtPath(f"/cage/hoops/hoop_{hoop.number}"))
        points = np.array(mesh.GetPointsAttr().Get(), dtype=float)
        ours = np.column_stack([points[:, 0], -points[:, 2], points[:, 1]])
        faces = np.array(mesh.GetFaceVertexIndicesAttr().Get()).reshape(-1, 3)
        assert max(map(abs, differences(ours, faces, hoop).values())) < WITHIN


@pytest.mark.usefixtures("library")
def test_every_part_is_there_under_its_name(tmp_path: Path) -> None:
    from pxr import UsdGeom

    opened = stage("d", tmp_path)
    told = [prim.GetDisplayName() for prim in opened.Traverse() if prim.IsA(UsdGeom.Mesh)]
    assert sorted(told) == sorted(part.name for part in build_parts(sample("d"), ALL_KINDS))


@pytest.mark.usefixtures("library")
def test_it_holds_one_stored_file_of_no_date() -> None:
    """The format wants its files stored and begun at multiples of 64 bytes."""
    (inside,) = zipfile.ZipFile(BytesIO(model("a"))).infolist()
    assert inside.compress_type == zipfile.ZIP_STORED
    assert inside.date_time == (1980, 1, 1, 0, 0, 0)
    assert model("a").index(b"PXR-USDC") % 64 == 0
    assert usdz_bytes(sample("a"), ALL_KINDS) == model("a")

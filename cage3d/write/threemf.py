"""3MF: closed bodies in millimetres as named objects, by the 3MF core specification.

A 3MF file is a zip of three texts: which part is the model, what kinds of parts there are,
and the model itself (vertices and triangles of every object, and a build that lists them).
The zip carries a fixed time, so that the same bodies give the same bytes.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Mapping, Sequence
from typing import Protocol
from xml.sax.saxutils import escape, quoteattr

from cage3d.shape.arrays import Floats, Ints

CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"
CONTENT_TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
MODEL_RELATION = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
MODEL_TYPE = "application/vnd.ms-package.3dmanufacturing-3dmodel+xml"
RELATIONS_TYPE = "application/vnd.openxmlformats-package.relationships+xml"
MODEL_PATH = "3D/3dmodel.model"
HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
# Names the core specification allows without a namespace (its section on metadata).
METADATA = (
    "Title", "Designer", "Description", "Copyright", "LicenseTerms", "Rating",
    "CreationDate", "ModificationDate", "Application",
)  # fmt: skip
EPOCH = (1980, 1, 1, 0, 0, 0)  # the earliest time a zip can tell
NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


class NamedMesh(Protocol):
    """What is written: a closed mesh with a name."""

    @property
    def name(self) -> str: ...
    @property
    def vertices(self) -> Floats:
        """(n, 3) mm, z up."""

    @property
    def triangles(self) -> Ints:
        """(m, 3), counter-clockwise seen from outside."""


def threemf_bytes(bodies: Sequence[NamedMesh], metadata: Mapping[str, str]) -> bytes:
    """A 3MF file with one object and one build item a body.

    metadata: names out of METADATA. Raises ValueError for no bodies or another name.
    """
    if not bodies:
        raise ValueError("a 3MF file needs at least one body")
    if unknown := set(metadata) - set(METADATA):
        raise ValueError(f"3MF knows no metadata {sorted(unknown)}; known: {', '.join(METADATA)}")
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for path, text in (
            ("[Content_Types].xml", content_types()),
            ("_rels/.rels", relations()),
            (MODEL_PATH, model(bodies, metadata)),
        ):
            entry = zipfile.ZipInfo(path, EPOCH)
            entry.compress_type = zipfile.ZIP_DEFLATED
            # The system of the machine that writes would otherwise stand in the bytes.
            entry.create_system = 3
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, text.encode("utf-8"))
    return packed.getvalue()


def content_types() -> str:
    kinds = (("rels", RELATIONS_TYPE), ("model", MODEL_TYPE))
    defaults = "".join(f' <Default Extension="{end}" ContentType="{kind}"/>\n' for end, kind in kinds)
    return f'{HEAD}<Types xmlns="{CONTENT_TYPES}">\n{defaults}</Types>\n'


def relations() -> str:
    to_model = f'<Relationship Target="/{MODEL_PATH}" Id="rel0" Type="{MODEL_RELATION}"/>'
    return f'{HEAD}<Relationships xmlns="{RELATIONS}">\n {to_model}\n</Relationships>\n'


def model(bodies: Sequence[NamedMesh], metadata: Mapping[str, str]) -> str:
    told = "".join(
        f" <metadata name={quoted(name)}>{clean(text)}</metadata>\n" for name, text in metadata.items()
    )
    objects = "".join(object_xml(number, body) for number, body in enumerate(bodies, start=1))
    items = "".join(f'  <item objectid="{number}"/>\n' for number in range(1, len(bodies) + 1))
    return (
        f'{HEAD}<model unit="millimeter" xml:lang="en" xmlns="{CORE}">\n{told}'
        f" <resources>\n{objects} </resources>\n <build>\n{items} </build>\n</model>\n"
    )


def object_xml(number: int, body: NamedMesh) -> str:
    vertices = "".join(
        f'<vertex x="{x:.9g}" y="{y:.9g}" z="{z:.9g}"/>\n' for x, y, z in body.vertices.tolist()
    )
    triangles = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>\n' for a, b, c in body.triangles.tolist())
    return (
        f'  <object id="{number}" type="model" name={quoted(body.name)}>\n   <mesh>\n'
        f"<vertices>\n{vertices}</vertices>\n<triangles>\n{triangles}</triangles>\n   </mesh>\n  </object>\n"
    )


def clean(text: str) -> str:
    """Text as XML may hold it."""
    return escape(NOT_XML.sub("", text))


def quoted(text: str) -> str:
    # Blanks instead of tabs and line ends: an attribute would need escapes for them that some readers refuse.
    return quoteattr(re.sub(r"[\t\n\r]+", " ", NOT_XML.sub("", text)))

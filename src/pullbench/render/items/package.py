"""A question package: items, their pictures and a manifest in one zip, the same bytes for the same bank."""

from __future__ import annotations

import io
import zipfile
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal
from xml.etree import ElementTree

from pullbench.model.scene import Figure
from pullbench.render.items.bank import Bank, Entry
from pullbench.render.items.item import XSI, item
from pullbench.render.items.markup import child, document
from pullbench.render.png import as_png
from pullbench.render.scene_svg import scene_svg

Pictures = Literal["svg", "png"]
PACKAGING = "http://www.imsglobal.org/xsd/imscp_v1p1"
SCHEMA = f"{PACKAGING} http://www.imsglobal.org/xsd/qti/qtiv2p1/qtiv2p1_imscpv1p2_v1p0.xsd"
ITEM_TYPE = "imsqti_item_xmlv2p1"
BEGINNING = (1980, 1, 1, 0, 0, 0)  # the earliest date a zip can hold: no two runs differ by their clock
PNG_WIDE = 960


@dataclass(frozen=True, slots=True)
class _Picture:
    """A figure's file in the package."""

    name: str
    data: bytes


def package(bank: Bank, *, pictures: Pictures = "svg", comma: bool = False) -> bytes:
    """Return the zip of a question package.

    pictures: svg needs nothing more, png the extra `plots`.  comma: a decimal comma in words and formulas; numbers
    that programs read keep the point.  Raises PullbenchError picture-part-missing.
    """
    entries = tuple(bank.entries())
    drawn: dict[Figure, _Picture] = {}
    for entry in entries:
        figure = entry.problem.figure
        if figure is not None and figure not in drawn:
            drawn[figure] = _picture(entry, figure, pictures, comma=comma)
    files: dict[str, bytes] = {"imsmanifest.xml": _manifest(entries, drawn)}
    for entry in entries:
        picture = drawn.get(entry.problem.figure) if entry.problem.figure is not None else None
        seen = f"../{picture.name}" if picture else None
        files[_path(entry)] = item(bank, entry, seen, comma=comma)
    files |= {picture.name: picture.data for picture in drawn.values()}
    return _zipped(files)


def _path(entry: Entry) -> str:
    return f"items/{entry.name}.xml"


def _picture(entry: Entry, figure: Figure, form: Pictures, *, comma: bool) -> _Picture:
    """Return a figure as a file; its name follows from what it shows, so that equal figures are one file."""
    svg = scene_svg(figure, room="light", comma=comma, carry_fonts=False)
    data = svg.encode("utf-8") if form == "svg" else as_png(svg, PNG_WIDE)
    return _Picture(f"pictures/{entry.problem.kind}-{zlib.crc32(svg.encode()):08x}.{form}", data)


def _manifest(entries: tuple[Entry, ...], drawn: Mapping[Figure, _Picture]) -> bytes:
    code = zlib.crc32(";".join(entry.name for entry in entries).encode())
    root = ElementTree.Element("manifest", {
        "xmlns": PACKAGING, "xmlns:xsi": XSI, "xsi:schemaLocation": SCHEMA, "identifier": f"pullbench-{code:08x}",
    })  # fmt: skip
    metadata = child(root, "metadata")
    child(metadata, "schema", "QTIv2.1 Package")
    child(metadata, "schemaversion", "1.0.0")
    child(root, "organizations")
    resources = child(root, "resources")
    for entry in entries:
        path = _path(entry)
        made = child(resources, "resource", identifier=f"R-{entry.name}", type=ITEM_TYPE, href=path)
        child(made, "file", href=path)
        if entry.problem.figure is not None:
            child(made, "dependency", identifierref=_picture_id(drawn[entry.problem.figure].name))
    for name in sorted({picture.name for picture in drawn.values()}):
        made = child(resources, "resource", identifier=_picture_id(name), type="webcontent", href=name)
        child(made, "file", href=name)
    return document(root)


def _picture_id(name: str) -> str:
    return f"P-{name.removeprefix('pictures/').replace('.', '-')}"


def _zipped(files: Mapping[str, bytes]) -> bytes:
    """Return files as a zip: the manifest first, the others by name, all of one age and one mode."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as archive:
        for name in sorted(files, key=lambda name: (name != "imsmanifest.xml", name)):
            info = zipfile.ZipInfo(name, BEGINNING)
            info.compress_type, info.create_system, info.external_attr = zipfile.ZIP_DEFLATED, 3, 0o644 << 16
            archive.writestr(info, files[name])
    return held.getvalue()

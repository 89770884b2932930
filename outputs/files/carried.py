"""The job that a drawing carries: packed into DXF, SVG and PDF where no sheet shows it, and taken out again.

Terms
-----
parcel
    The carried job as bytes: its files by name, which pane, revision and mark it is of, and a hash over the files. Packed with bzip2,
    which gives the same bytes on every computer (other packers differ from one release to the next).
part
    "job": a whole job of the pane, which can be read, checked and drawn again. "order": what the supplier may know, and no more.
left out
    A companion that is too large to be carried; its name, size and hash are.

Where it lies: in a DXF an XRECORD under the root dictionary, in an SVG an element of metadata, in a PDF an attachment. Programs that keep
what they do not know keep it there.
"""

from __future__ import annotations

import base64
import bz2
import hashlib
import io
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from outputs.version import IDENTITY

if TYPE_CHECKING:
    from outputs.sheets.contents import Contents

SCHEMA = 1
ENTRY = "FRITLINE_JOB"
"""Name of the XRECORD."""
ELEMENT = "carried-job"
"""Id of the element of metadata."""
ATTACHED = "fritline-job.json.bz2"
"""Name of the attachment."""
JOB, ORDER = "job", "order"
MOST_CARRIED = 400_000
"""Bytes of all companions together, packed."""
LARGEST = 40_000_000
"""Bytes of a parcel that is unpacked: a drawing as large as one may be, as text."""
_CHUNK = 240  # letters of a text of an XRECORD; DXF allows 255


class CarriedError(ValueError):
    """A drawing carries no job, or one that cannot be read; the sentence says which."""


@dataclass(frozen=True, slots=True)
class Carried:
    """What was taken out: the files by name (the job's first), what it is of, and the names of what was left out."""

    part: str
    code: str
    revision: str
    mark: str
    program: str
    files: dict[str, bytes]
    left_out: tuple[str, ...]

    @property
    def name(self) -> str:
        """The name of the job's file."""
        return next(iter(self.files))


def job_parcel(contents: Contents) -> bytes:
    """The parcel of a pane's own job; b"" where the job was not read from a text."""
    from geometry.job.carried import own_job

    job, pane = contents.job, contents.pane
    if not job.document:
        return b""
    own = own_job(job, pane)
    files = {f"{pane.file_stem}.toml": _toml(own.tables)}
    left_out: list[str] = []
    room = MOST_CARRIED
    for name, data in sorted(own.companions.items(), key=lambda item: (len(item[1]), item[0])):
        size = len(bz2.compress(data))
        if size <= room:
            room -= size
            files[name] = data
        else:
            left_out.append(f"{name}, {len(data)} bytes, SHA-256 {hashlib.sha256(data).hexdigest()}")
    return _packed(contents, JOB, files, left_out)


def order_parcel(contents: Contents) -> bytes:
    """The parcel of what the supplier may know; ``contents`` shows the pane as ordered."""
    from geometry.job.carried import order_of

    detail = contents.detail
    tables = order_of(contents.job, contents.pane, outline=detail.curves.glass, frit_width=detail.sizes.frit_width.value)
    return _packed(contents, ORDER, {f"{contents.pane.file_stem}.toml": _toml(tables)}, [])


def _toml(tables: Mapping[str, Any]) -> bytes:
    import tomlkit

    return tomlkit.dumps(tables).encode("utf-8")


def _packed(contents: Contents, part: str, files: Mapping[str, bytes], left_out: list[str]) -> bytes:
    told = {
        "schema": SCHEMA,
        "program": IDENTITY,
        "part": part,
        "code": contents.pane.code,
        "revision": contents.pane.revision,
        "mark": contents.mark,
        "files": [_told(name, data) for name, data in files.items()],
        "left_out": left_out,
        "sha256": _hash(files),
    }
    return bz2.compress(json.dumps(told, ensure_ascii=True, separators=(",", ":")).encode("ascii"))


def _told(name: str, data: bytes) -> dict[str, str]:
    """A file as JSON: as the text that it is, else as base64."""
    try:
        return {"name": name, "text": data.decode("utf-8")}
    except UnicodeDecodeError:
        return {"name": name, "data": base64.b64encode(data).decode("ascii")}


def _data(told: Mapping[str, str]) -> bytes:
    return told["text"].encode("utf-8") if "text" in told else base64.b64decode(told["data"], validate=True)


def _hash(files: Mapping[str, bytes]) -> str:
    told = hashlib.sha256()
    for name, data in files.items():
        told.update(f"{name}\0{len(data)}\0".encode())
        told.update(data)
    return told.hexdigest()


def unpacked(parcel: bytes) -> Carried:
    """The job of a parcel. Raises ``CarriedError`` where it is none, is damaged, or was changed."""
    try:
        reader = bz2.BZ2Decompressor()
        data = reader.decompress(parcel, max_length=LARGEST)
        if not reader.eof:
            raise CarriedError(f"the job that it carries is damaged or has more than {LARGEST} bytes")
        told = json.loads(data)
        files = {str(each["name"]): _data(each) for each in told["files"]}
        plain = len(files) == len(told["files"]) and all(map(_is_plain, files)) and "text" in told["files"][0]
        words = {name: str(told[name]) for name in ("part", "code", "revision", "mark")}
        program = f"{told['program']['name']} {told['program']['version']}"
        schema, hashed, left_out = told["schema"], told["sha256"], tuple(map(str, told["left_out"]))
    except CarriedError:
        raise
    except (OSError, ValueError, KeyError, TypeError, AttributeError, EOFError, RecursionError):
        raise CarriedError("the job that it carries is damaged") from None
    if schema != SCHEMA:
        raise CarriedError(
            f"the job that it carries has form {schema}, of a newer program ({program}); this one reads form {SCHEMA}"
        )
    if not plain:
        raise CarriedError("the job that it carries holds a file without a plain name of its own, or is no text")
    if words["part"] not in (JOB, ORDER) or not all(map(str.isprintable, (*words.values(), program, *left_out))):
        raise CarriedError("the job that it carries does not say in words what it is")
    if hashed != _hash(files):
        raise CarriedError("the job that it carries was changed since it was drawn: its hash does not agree")
    return Carried(**words, program=program, files=files, left_out=left_out)


def _is_plain(name: str) -> bool:
    """Whether a file of that name stands in its folder, for everybody to see."""
    return name.isprintable() and not name.startswith(".") and 0 < len(name.encode()) <= 200 and re.search(r"[/\\]", name) is None


# into the files


def put_into_dxf(document: Any, parcel: bytes) -> None:
    """Lay the parcel into a document of ezdxf; nothing for b""."""
    if not parcel:
        return
    text = base64.b64encode(parcel).decode("ascii")
    record = document.rootdict.add_xrecord(ENTRY)
    record.reset([(1, text[place : place + _CHUNK]) for place in range(0, len(text), _CHUNK)])


def svg_text(parcel: bytes) -> str:
    """The parcel as the text of an element of metadata."""
    return base64.b64encode(parcel).decode("ascii")


def attach_to_pdf(canvas: Any, parcel: bytes) -> None:
    """Attach the parcel to a file of reportlab, which has no hand for it; nothing for b"" (ISO 32000-1, 7.11.4)."""
    if not parcel:
        return
    from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFStream, PDFString

    document = canvas._doc
    size = PDFDictionary({"Size": len(parcel)})
    head = PDFDictionary({"Type": PDFName("EmbeddedFile"), "Params": size})
    stream = document.Reference(PDFStream(head, parcel, filters=()), "carriedjob")
    named = {"Type": PDFName("Filespec"), "F": PDFString(ATTACHED), "UF": PDFString(ATTACHED)}
    named |= {"EF": PDFDictionary({"F": stream, "UF": stream}), "Desc": PDFString("the job that this was drawn from")}
    file = document.Reference(PDFDictionary(named), "carriedjobfile")
    catalogue = document.Catalog
    catalogue.__NoDefault__ = [*catalogue.__NoDefault__, "Names"]
    catalogue.Names = PDFDictionary({"EmbeddedFiles": PDFDictionary({"Names": PDFArray([PDFString(ATTACHED), file])})})


# out of the files


def carried_by(data: bytes, name: str) -> Carried:
    """The job that a drawing carries, by what the file is, whatever it is called. Raises ``CarriedError``."""
    start = data[:1024].lstrip(b"\xef\xbb\xbf \t\r\n")
    if start.startswith(b"%PDF-"):
        parcels = _out_of_pdf(data)
    elif start.startswith(b"<"):
        parcels = _out_of_svg(data)
    else:
        parcels = _out_of_dxf(data, name)
    different = [each for each in dict.fromkeys(parcels) if each]
    if not different:
        raise CarriedError("it carries no job: it was drawn by another program, before jobs were carried, or saved without it")
    if len(different) > 1:
        raise CarriedError(f"it carries {len(different)} jobs that differ: it was put together from several sheets")
    return unpacked(different[0])


def _out_of_pdf(data: bytes) -> list[bytes]:
    import logging

    from pypdf import PdfReader

    logging.getLogger("pypdf").setLevel(logging.CRITICAL)  # what it mends is nothing that the user has to hear of
    try:
        return [bytes(each) for each in PdfReader(io.BytesIO(data)).attachments.get(ATTACHED, [])]
    except Exception as error:  # the library raises whatever its parts raise
        raise CarriedError(f"it cannot be read as PDF: {_in_one_line(error)}") from None


def _out_of_svg(data: bytes) -> list[bytes]:
    from xml.etree import ElementTree

    try:
        return [
            base64.b64decode("".join((element.text or "").split()), validate=True)
            for _, element in ElementTree.iterparse(io.BytesIO(data))
            if element.get("id") == ELEMENT
        ]
    except (ElementTree.ParseError, ValueError) as error:
        raise CarriedError(f"it cannot be read as SVG: {_in_one_line(error)}") from None


def _in_one_line(error: Exception) -> str:
    return "".join(sign if sign.isprintable() else "?" for sign in " ".join(str(error).split()))[:200]


def _out_of_dxf(data: bytes, name: str) -> list[bytes]:
    from geometry.incoming.dxf_reading import document_of
    from geometry.incoming.incoming import IncomingError

    try:
        document = document_of(data, name).doc
        record = document.rootdict.get(ENTRY)
        text = "" if record is None else "".join(str(tag.value) for tag in record.tags if tag.code == 1)
        return [base64.b64decode(text, validate=True)]
    except IncomingError as error:
        raise CarriedError(error.found) from None
    except Exception:  # the library raises whatever its parts raise
        raise CarriedError("the job that it carries is damaged") from None


__all__ = [
    "ELEMENT",
    "JOB",
    "ORDER",
    "Carried",
    "CarriedError",
    "attach_to_pdf",
    "carried_by",
    "job_parcel",
    "order_parcel",
    "put_into_dxf",
    "svg_text",
    "unpacked",
]

"""A DXF file as a document: read by the library, else with its repairs, else refused in one sentence.

Terms
-----
repairs
    What the library's second way of reading put right; it reads files that its first way does not.
"""

from __future__ import annotations

import contextlib
import io
import logging
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from geometry.incoming.incoming import IncomingError
from geometry.incoming.units import Header

LARGEST = 30_000_000
"""Bytes of a drawing: some 300 000 lines, which the library reads in about twenty seconds."""
BINARY = b"AutoCAD Binary DXF\r\n\x1a\x00"
"""How a binary DXF begins (DXF reference)."""


@dataclass(frozen=True)
class Document:
    """A drawing that was read: the library's document, its header as written, and what was repaired."""

    doc: Any
    header: Header
    repairs: int = 0


def document_of(data: bytes, name: str) -> Document:
    """The document of a DXF file's bytes, text or binary. Raises ``IncomingError`` where it is none or cannot be read."""
    if data[:4] in (b"AC10", b"PK\x03\x04") or data[:5] == b"%PDF-":
        kind = {b"AC10": "a DWG file", b"PK\x03\x04": "a packed file", b"%PDF": "a PDF"}[data[:4]]
        raise IncomingError(f"{name} is {kind}", "a DXF file, text or binary", "save it as DXF")
    binary = data.startswith(BINARY)
    if not binary and not re.search(rb"(?:^|\n)[ \t]*0[ \t]*\r?[\n\r][ \t]*SECTION", data):
        raise IncomingError(f"{name} is no DXF file: it has no SECTION", "a DXF file, text or binary")
    header = _binary_header(data) if binary else _header(data)
    with _quiet():
        try:
            return Document(_load(data, binary), header)
        except RecursionError:
            raise IncomingError(f"{name} cannot be read: its parts stand too deep in each other", "a DXF file") from None
        except Exception as first:  # the library raises whatever its parts raise
            if binary:
                raise IncomingError(f"{name} cannot be read: {_words(first)}", "a whole DXF file") from None
            return _recovered(data, name, header, first)


def _load(data: bytes, binary: bool) -> Any:
    from ezdxf.document import Drawing
    from ezdxf.filemanagement import dxf_stream_info
    from ezdxf.lldxf.tagger import binary_tags_loader

    if binary:
        return Drawing.load(binary_tags_loader(data, errors="surrogateescape"))
    with io.TextIOWrapper(io.BytesIO(data), encoding="utf-8", errors="ignore") as head:
        encoding = dxf_stream_info(head).encoding
    with io.TextIOWrapper(io.BytesIO(data), encoding=encoding, errors="surrogateescape") as stream:
        return Drawing.read(stream)


def _recovered(data: bytes, name: str, header: Header, first: Exception) -> Document:
    from ezdxf import recover

    try:
        doc, auditor = recover.read(io.BytesIO(data))
        return Document(doc, header, max(1, len(auditor.errors) + len(auditor.fixes)))
    except Exception:
        sections = ", ".join(_sections(data)) or "none"
        found = f"{name} cannot be read ({_words(first)}), nor with repairs; sections seen: {sections}"
        raise IncomingError(
            found, "a DXF file that CAD programs open", "open it in a CAD program and save it as DXF again"
        ) from None


def _words(error: BaseException) -> str:
    """The library's own words, on one line and short."""
    text = re.sub(r"\(?#\d{6,}\)?", "", " ".join(str(error).split())) or type(error).__name__  # an address: another one each time
    plain = "".join(sign if sign.isprintable() and sign.isascii() else "?" for sign in text)
    return plain if len(plain) <= 120 else plain[:117] + "..."


def _sections(data: bytes) -> list[str]:
    names = re.findall(rb"\n?[ \t]*0[ \t]*\r?\n[ \t]*SECTION[ \t]*\r?\n[ \t]*2[ \t]*\r?\n[ \t]*([A-Z]{1,20})", data[:50_000_000])
    return [name.decode("ascii") for name in names[:12]]


def _header(data: bytes) -> Header:
    """The unit and measurement as a text DXF writes them, before any library completes them."""
    end = data.find(b"ENDSEC")
    head = data[: end if end >= 0 else len(data)]

    def number(name: bytes) -> int | None:
        found = re.search(rb"\$" + name + rb"[ \t]*\r?[\n\r]+[ \t]*70[ \t]*\r?[\n\r]+[ \t]*(-?\d{1,9})", head)
        return int(found.group(1)) if found else None

    return Header(number(b"INSUNITS"), number(b"MEASUREMENT"))


def _binary_header(data: bytes) -> Header:
    """The same of a binary DXF: the name, a zero byte, the group 70 in one or two bytes, the value in two."""

    def number(name: bytes) -> int | None:
        found = re.search(rb"\$" + name + rb"\x00(?:\x46\x00|\x46)(..)", data[:1_000_000], re.DOTALL)
        return int.from_bytes(found.group(1), "little", signed=True) if found else None

    return Header(number(b"INSUNITS"), number(b"MEASUREMENT"))


@contextlib.contextmanager
def _quiet() -> Iterator[None]:
    """The library's log held back: what matters is told in our sentence."""
    log = logging.getLogger("ezdxf")
    before = log.level
    log.setLevel(logging.CRITICAL + 1)
    try:
        yield
    finally:
        log.setLevel(before)


__all__ = ["LARGEST", "Document", "document_of"]

"""The bytes of a table of text as text, whatever program wrote them.

Terms
-----
byte order mark
    The first bytes of a text by which UTF-8 or UTF-16 is known. Without it UTF-8 is tried first, then the Western code page of Windows.
"""

from __future__ import annotations

from geometry.incoming.survey_faults import Fault


class TextError(ValueError):
    """Bytes that are no text; ``fault`` says where and why."""

    def __init__(self, fault: Fault) -> None:
        self.fault = fault
        super().__init__(fault.found)


def text_of(data: bytes) -> tuple[str, str]:
    """The text and the name of its encoding. Raises ``TextError``.

    >>> text_of("Brüstung".encode("cp1252")), text_of("–".encode("utf-8-sig"))
    (('Brüstung', 'Windows-1252'), ('–', 'UTF-8'))
    """
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        try:
            return data.decode("utf-16"), "UTF-16"
        except UnicodeDecodeError:
            raise TextError(Fault(0, 0, "text that is no UTF-16, as its first bytes say", "UTF-8 or Latin-1")) from None
    if b"\0" in data:
        line = data[: data.index(b"\0")].count(b"\n") + 1
        raise TextError(Fault(line, 0, "a zero byte: this is no table of text", "comma or semicolon separated text"))
    for encoding, name in (("utf-8-sig", "UTF-8"), ("cp1252", "Windows-1252")):
        try:
            return data.decode(encoding), name
        except UnicodeDecodeError:
            continue
    return data.decode("latin-1"), "Latin-1"


__all__ = ["TextError", "text_of"]

"""Facts as plain data for a file, and facts of plain data again."""

from __future__ import annotations

import dataclasses
import types
import typing
from functools import cache
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from collections.abc import Mapping

_Facts = TypeVar("_Facts")


def as_data(facts: Any) -> dict[str, Any]:
    """Facts as plain data for a file; ``from_data`` makes the same facts of them again."""
    return dataclasses.asdict(facts)


def from_data(kind: type[_Facts], data: Mapping[str, Any], *, other_form: bool = False) -> _Facts:
    """Facts of a kind (``PaneFacts``, ``FileFacts`` ...) from plain data. Raises ``ValueError`` where these are no such facts.

    ``other_form``: written by another version of the program, which knew other facts: what it did not know is blank, what is not known here
    is left.

    >>> from outputs.vessel.facts import FileFacts
    >>> from_data(FileFacts, as_data(FileFacts("a.dxf", "00", 3)))
    FileFacts(name='a.dxf', sha256='00', length=3)
    """
    found: _Facts = _read(kind, data, other_form)
    return found


@cache
def _kinds(kind: type[Any]) -> dict[str, Any]:
    return typing.get_type_hints(kind)


def _read(kind: Any, data: Any, other_form: bool) -> Any:
    """A value of a kind out of plain data: a table for facts, a list for a tuple, else the value itself."""
    if dataclasses.is_dataclass(kind):
        kinds = _kinds(kind)  # type: ignore[arg-type]
        if not isinstance(data, dict) or not (other_form or set(data) == set(kinds)):
            raise ValueError(f"these are no {kind}")
        return kind(  # type: ignore[operator]
            **{name: _read(inner, data[name], other_form) if name in data else _blank(inner) for name, inner in kinds.items()}
        )
    inner = typing.get_args(kind)
    if typing.get_origin(kind) is tuple:
        if not isinstance(data, (list, tuple)):
            raise ValueError(f"no list: {data!r}")
        if inner[-1] is Ellipsis:
            return tuple(_read(inner[0], each, other_form) for each in data)
        return tuple(_read(each, value, other_form) for each, value in zip(inner, data, strict=True))
    if isinstance(kind, types.UnionType):
        return None if data is None else _read(next(each for each in inner if each is not type(None)), data, other_form)
    if kind is float and type(data) is int:
        return float(data)
    if type(data) is not kind:
        raise ValueError(f"no {kind.__name__}: {data!r}")
    return data


def _blank(kind: Any) -> Any:
    """What stands for a fact that was not known."""
    if isinstance(kind, types.UnionType):
        return None
    if typing.get_origin(kind) is tuple:
        inner = typing.get_args(kind)
        return () if inner[-1] is Ellipsis else tuple(map(_blank, inner))
    if dataclasses.is_dataclass(kind):
        return kind(**{name: _blank(inner) for name, inner in _kinds(kind).items()})  # type: ignore[operator, arg-type]
    return kind()


__all__ = ["as_data", "from_data"]

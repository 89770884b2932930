"""``fritline keys``: the page of all keys of the job file, a search in it, and the same as a JSON Schema."""

from __future__ import annotations

import difflib
import re
from typing import TYPE_CHECKING

from outputs.commands.exit_codes import DONE
from outputs.commands.shared import InputError, echo

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.job.keys import Key


def keys(words: Sequence[str], *, json_schema: bool) -> int:
    """Print the table of keys, of those rows that hold all the words, or the schema. Raises ``InputError``."""
    if json_schema:
        if words:
            raise InputError(["--json-schema: found a word beside it; allowed: the schema is printed whole"])
        from geometry.job.schema import as_json

        echo(as_json().removesuffix("\n"))
        return DONE
    from geometry.job.keys import all_keys, as_markdown

    found = [key for key in all_keys() if all(_holds(key, word) for word in words)]
    if not found:
        echo(_nothing(words, all_keys()))
        return DONE
    echo(as_markdown(found).removesuffix("\n"))
    return DONE


def _plain(text: str) -> str:
    return text.casefold().replace("_", " ").replace("-", " ")


def _holds(key: Key, word: str) -> bool:
    return any(_plain(word) in _plain(text) for text in (key.name, key.meaning))


def _nothing(words: Sequence[str], known: Sequence[Key]) -> str:
    """That nothing was found, with words of the page that are spelled nearly so."""
    all_words = sorted({word for key in known for word in re.findall(r"[a-z]{3,}", _plain(f"{key.name} {key.meaning}"))})
    missing = [word for word in words if not any(_holds(key, word) for key in known)] or list(words)
    near = [other for word in missing for other in difflib.get_close_matches(_plain(word)[:60], all_words, n=3, cutoff=0.6)]
    shown = " ".join(word if word.isprintable() and len(word) <= 60 else "..." for word in words)
    hint = f"; near it: {', '.join(dict.fromkeys(near))}" if near else "; fritline keys without a word prints all of them"
    return f"no key of the job file, and no meaning of one, holds {shown}{hint}"


__all__ = ["keys"]

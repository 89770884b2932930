"""The slips that stand in one line, as a table: what to look for, what is said, what takes its place.

Terms
-----
rule
    One kind of slip. Its pattern is looked for in the masked line; what takes its place never changes a quantity.
open
    A sign that may mean two things (1,250 or 02/03/2026): it is told, and nothing takes its place.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from geometry.job.units import CAPITALS, NUMBER, SPELLINGS, UNITS

_BLOT = 0xE000
_QUOTED = re.compile(r'"(?:[^"\\\n]|\\.)*"' + r"|'[^'\n]*'")
TEXT = "[\ue000-\uf8ff]+"
"""A text in quotes, as it stands in a masked line."""


def masked(line: str) -> str:
    """The line with each text in quotes, quotes and all, blotted out sign for sign; a comment is blotted out with blanks."""
    plain, comment = comment_of(line)
    return _blotted(plain) + " " * len(comment)


def _blotted(text: str) -> str:
    count = -1

    def blot(match: re.Match[str]) -> str:
        nonlocal count
        count += 1
        return chr(_BLOT + count % 0x1000) * len(match.group())

    return _QUOTED.sub(blot, text)


def comment_of(line: str) -> tuple[str, str]:
    """What stands before a comment, and the comment with its sign."""
    at = _blotted(line).find("#")
    return (line, "") if at < 0 else (line[:at], line[at:])


Mend = Callable[[re.Match[str]], str | None]


@dataclass(frozen=True)
class Rule:
    """One kind of slip. ``mend`` gives what takes the place of a match, None where it may mean two things."""

    said: str
    pattern: re.Pattern[str]
    mend: Mend
    quoted: bool = False  # looks into texts in quotes as well

    def tried(self, line: str) -> tuple[int, str | None] | None:
        """Where the slip stands (from 0) and the line without it (None: open); None where there is no such slip."""
        plain, comment = comment_of(line)
        seen = plain if self.quoted else _blotted(plain)
        first = self.pattern.search(seen)
        if first is None:
            return None
        at = first.start("at") if "at" in self.pattern.groupindex else first.start()
        parts: list[str] = []
        end = 0
        for match in self.pattern.finditer(seen):
            new = self.mend(match)
            if new is None:
                return at, None
            parts += [plain[end : match.start()], _unblotted(new, seen, plain)]
            end = match.end()
        return at, "".join(parts) + plain[end:] + (comment if comment else "")

    def told(self, line: str) -> str:
        """The sentence for the user, with the sign or word in question in place of ``{}``."""
        if "{}" not in self.said:
            return self.said
        plain = comment_of(line)[0]
        match = self.pattern.search(plain if self.quoted else _blotted(plain))
        return self.said.format(plain[match.start("at") : match.end("at")].strip() if match else "")


def _unblotted(new: str, seen: str, plain: str) -> str:
    """The texts in quotes back in their places."""

    def back(match: re.Match[str]) -> str:
        at = seen.find(match.group())
        return plain[at : at + len(match.group())] if at >= 0 else match.group()

    return re.sub("([\ue000-\uf8ff])\\1*", back, new)


def _unit_pattern() -> str:
    known = {unit for units in UNITS.values() for unit in units} | set(CAPITALS) | {word for word in SPELLINGS if len(word) > 1}
    known |= {"m²", "mm²", "m³", "kg/m³", "N/mm²", "kN/m²", "g/cm³", '"', "C", "F", "KG", "L"}
    return "|".join(re.escape(name).replace(r"\ ", " ?") for name in sorted(known, key=lambda name: (-len(name), name)))


_KEY = rf"(?:[A-Za-z0-9_.-]+|{TEXT})"
_NUM = r"[+-]?[0-9]+(?:\.[0-9]+)?"
_OVER = r"(?=\s*(?:$|[,;}\]]))"
"""Where a value is over."""
_UNITS = _unit_pattern()
_END = rf"(?=\s*(?:$|[,;}}\]]|{_UNITS}))"
"""Where a number is over: the value is, or its unit begins."""
_SPACES = "\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000"
_NOTHING = "\u200b-\u200f\u2060\ufeff\u00ad"
_DASHES = "\u2010-\u2015\u2212"
_DOUBLE = "“”„‟«»″＂"
_SINGLE = "‘’‚‛‹›′｀`"


def _template(text: str) -> Mend:
    return lambda match: match.expand(text)


LISTS = (
    "rectangle",
    "ellipse",
    "polygon",
    "path",
    "radius",
    "plies",
    "interlayers",
    "at",
    "bond_widths",
    "tape_widths",
    "least_pane",
)
"""Keys that may hold a list: behind them a comma may part two numbers."""


def _comma(match: re.Match[str]) -> str | None:
    whole, digits = match.group("whole"), match.group("digits")
    if match.group("before").rstrip("= ").strip("{, ").rsplit(".", 1)[-1] in LISTS:
        return None
    if len(digits) == 3 and len(whole.lstrip("+-")) <= 3 and whole.lstrip("+-") != "0":
        return None
    return f"{match.group('before')}{whole}.{digits}"


def _measure(match: re.Match[str]) -> str:
    number, unit = match.group("number"), match.group("unit")
    unit = (
        unit if any(unit in units for units in UNITS.values()) else SPELLINGS.get(unit) or SPELLINGS.get(unit.casefold()) or unit
    )
    return f'{match.group("before")}"{number} {unit}"'


def _day(match: re.Match[str]) -> str | None:
    day, month, year = match.group("day"), match.group("month"), match.group("year")
    return _iso(match.group("before"), year, month, day)


def _slashed(match: re.Match[str]) -> str | None:
    one, two, year = int(match.group("one")), int(match.group("two")), match.group("year")
    if one > 12 >= two or one == two:
        return _iso(match.group("before"), year, str(two), str(one))
    return _iso(match.group("before"), year, str(one), str(two)) if two > 12 >= one else None


def _iso(before: str, year: str, month: str, day: str) -> str | None:
    if not (1 <= int(month) <= 12 and 1 <= int(day) <= 31):
        return None
    return f"{before}{year}-{int(month):02}-{int(day):02}"


def _header(match: re.Match[str]) -> str:
    name = re.sub(r"\s+", "_", match.group("name").strip())
    double = name == "pane" or (match.group("left") == "[[" and match.group("right") != "]")
    return f"{match.group('indent')}{'[[' if double else '['}{name}{']]' if double else ']'}"


def _true_or_false(match: re.Match[str]) -> str:
    return match.group("before") + ("true" if match.group("at").casefold() in ("true", "yes", "on", "wahr", "ja") else "false")


def _rule(said: str, pattern: str, mend: str | Mend, *, quoted: bool = False) -> Rule:
    return Rule(said, re.compile(pattern), _template(mend) if isinstance(mend, str) else mend, quoted)


def _never(_match: re.Match[str]) -> None:
    return None


RULES: tuple[Rule, ...] = (
    # signs that look like others
    _rule("a no-break or other space that TOML does not know stands in place of a plain one", f"(?P<at>[{_SPACES}])", " "),
    _rule("an invisible sign stands here", f"(?P<at>[{_NOTHING}]+)", ""),
    _rule("typographic quotes stand in place of plain ones", f'(?P<at>[{_DOUBLE}])([^{_DOUBLE}"]*)[{_DOUBLE}"]', r'"\2"'),
    _rule("typographic quotes stand in place of plain ones", f'(?P<at>")([^{_DOUBLE}"]*)[{_DOUBLE}]', r'"\2"'),
    _rule("typographic quotes stand in place of plain ones", f"(?P<at>[{_SINGLE}])([^{_SINGLE}\"']*)[{_SINGLE}']", r"'\2'"),
    _rule("a dash stands in place of the minus sign", rf"(?P<before>[=\[,]\s*)(?P<at>[{_DASHES}])\s*(?=[0-9.])", r"\g<before>-"),
    # comments and ends
    _rule("a comment begins with #", r"(?P<at>/\*\s*)(.*?)\s*\*/\s*$", r"# \2"),
    _rule("a comment begins with #", r"(?P<at>(?:(?<=\s)|^)//+\s?)(.*)$", r"# \2"),
    _rule("a comment begins with #", r"^(?P<before>\s*)(?P<at>;+|--+|%|!|\*|rem\b|REM\b)\s?(.*)$", r"\g<before># \3"),
    _rule("a comment begins with #", r"(?<=\s)(?P<at>--+\s)(.*)$", r"# \2"),
    _rule("nothing stands at the end of a line; {} is not needed", r"(?P<at>[;,])\s*$", ""),
    _rule(
        "entries are parted by a comma", r"(?<=[0-9\]\ue000-\uf8ff])(?P<at>\s*;)\s*(?=[0-9\[+\-A-Za-z\ue000-\uf8ff].*[\]}])", ", "
    ),
    # tables
    _rule("the name of a table stands on a line by itself", r"^\s*\[+[^\[\]=]+\]+\s*(?P<at>[^\s\]].*)$", _never),
    _rule(
        "the name of a table stands between [ and ], that of a pane between [[ and ]]",
        r"^(?P<indent>\s*)(?P<left>\[\[?|[({<])\s*(?P<name>[A-Za-z][A-Za-z0-9_.-]*(?: [A-Za-z0-9_.]+)*)\s*(?P<right>[\])}>]*)\s*:?\s*$",
        _header,
    ),
    # key and sign
    _rule("a key and its value are parted by =", rf"^(?P<before>\s*{_KEY}?)\s*(?P<at>:=|=>|->|==+|=\s*:|:)\s*", r"\g<before> = "),
    _rule("a key and its value are parted by =", rf"(?P<before>[{{,]\s*{_KEY})\s*(?P<at>:=|=>|->|==+|:)\s*", r"\g<before> = "),
    _rule(
        "a key is one word, its parts joined by _",
        r"^(?P<before>\s*[A-Za-z][A-Za-z0-9_]*)(?P<at> +)(?P<more>[A-Za-z][A-Za-z0-9_ ]*?)(?=\s*=)",
        lambda m: m.group("before") + "_" + "_".join(m.group("more").split()),
    ),
    _rule(
        "a key and its value are parted by =", rf"^(?P<before>\s*{_KEY})(?P<at>\s+)(?=[0-9+\-\[{{]|{TEXT}\s*$)", r"\g<before> = "
    ),
    _rule("the value is missing: type one, or leave the key out", r"(?:^|[{,])\s*[^={,]+=(?P<at>\s*)(?=$|[,}])", _never),
    _rule(
        "nothing stands for nothing: leave the key out ({})",
        rf"(?P<before>=\s*)(?P<at>[Nn]one|NONE|[Nn]ull|NULL|nil|N/A|n/a|~|-+|\?+){_OVER}",
        _never,
    ),
    # numbers
    _rule(
        "thousands have no sign",
        rf"(?P<before>=\s*)(?P<at>[+-]?[0-9]{{1,3}}(?:['’][0-9]{{3}})+)(?=(?:\.[0-9]+)?\s*(?:$|[,}}\]]|{_UNITS}))",
        lambda m: m.group("before") + re.sub("['’]", "", m.group("at")),
    ),
    _rule(
        "the decimal sign is a point, thousands have no sign, and a list stands in brackets; {} may be any of these",
        rf"(?P<before>=\s*)(?P<at>[+-]?[0-9]+(?:[., ][0-9]+)*(?:[, ][0-9]{{3}}\.[0-9]+|\.[0-9]{{3}},[0-9]+| [0-9]{{3}})){_END}",
        _never,
    ),
    _rule(
        "the decimal sign is a point, thousands have no sign, and a list stands in brackets; {} may be any of these",
        rf"(?P<before>=\s*)(?P<at>(?P<whole>[+-]?[1-9][0-9]{{0,2}}),(?P<digits>[0-9]{{3}})){_END}",
        _comma,
    ),
    _rule(
        "the decimal sign is a point, not a comma; a list stands in brackets",
        rf"(?P<before>{_KEY}\s*=\s*)(?P<whole>[+-]?[0-9]+)(?P<at>,)(?P<digits>[0-9]+)(?=\s*(?:$|[,;}}\]]|{_UNITS}))",
        _comma,
    ),
    _rule(
        "a number with its unit stands in quotes",
        rf"(?P<before>[=\[,]\s*)(?P<at>(?P<number>{NUMBER})\s*(?P<unit>{_UNITS})){_OVER}",
        _measure,
    ),
    _rule(
        "the sign for inches is in, inside the quotes", rf'"(?P<at>\s*(?P<number>{NUMBER})\s*)""', r'"\g<number> in"', quoted=True
    ),
    _rule(
        "two sizes stand in brackets",
        rf"(?P<before>=\s*)(?P<at>(?P<one>{_NUM})\s*[x×X*]\s*(?P<two>{_NUM})){_OVER}",
        r"\g<before>[\g<one>, \g<two>]",
    ),
    _rule("a list stands in brackets [ ]", rf"(?P<at>\(\s*({_NUM}(?:\s*,\s*{_NUM})*)\s*\))", r"[\2]"),
    _rule(
        "a list stands in brackets [ ]",
        rf"(?P<before>=\s*)(?P<at>{_NUM}(?:\s*,\s+{_NUM})+)\s*$",
        r"[\g<at>]".join([r"\g<before>", ""]),
    ),
    _rule(
        "a number has no leading noughts", rf"(?P<before>[=\[,]\s*[+-]?)(?P<at>0+)(?=[0-9]+(?:\.[0-9]+)?{_OVER})", r"\g<before>"
    ),
    _rule("a number begins with a digit", r"(?P<before>[=\[,]\s*[+-]?)(?P<at>\.)(?=[0-9])", r"\g<before>0."),
    _rule("a number ends with a digit", rf"(?P<before>[=\[,]\s*[+-]?[0-9]+)(?P<at>\.){_OVER}", r"\g<before>.0"),
    # days and hours
    _rule(
        "a date is written year-month-day",
        rf"(?P<before>=\s*)(?P<at>(?P<day>[0-9]{{1,2}})\.\s?(?P<month>[0-9]{{1,2}})\.\s?(?P<year>[0-9]{{4}})){_OVER}",
        _day,
    ),
    _rule(
        "a date is written year-month-day; {} may be read in two ways",
        rf"(?P<before>=\s*)(?P<at>(?P<one>[0-9]{{1,2}})/(?P<two>[0-9]{{1,2}})/(?P<year>[0-9]{{4}})){_OVER}",
        _slashed,
    ),
    _rule(
        "a date is written year-month-day",
        rf"(?P<before>=\s*)(?P<at>(?P<year>[0-9]{{4}})[-/.](?P<month>[0-9]{{1,2}})[-/.](?P<day>[0-9]{{1,2}})){_OVER}",
        _day,
    ),
    _rule(
        "a date is written year-month-day, the year in full",
        rf"(?P<before>=\s*)(?P<at>[0-9]{{1,2}}[./-][0-9]{{1,2}}[./-][0-9]{{2}}){_OVER}",
        _never,
    ),
    _rule(
        "a time of day is written 08:00:00",
        rf"(?P<before>=\s*)(?P<at>(?P<hour>[0-9]{{1,2}}):(?P<minute>[0-9]{{2}})(?P<second>:[0-9]{{2}})?){_OVER}",
        lambda m: f"{m.group('before')}{int(m.group('hour')):02}:{m.group('minute')}{m.group('second') or ':00'}",
    ),
    # words
    _rule(
        "it is written true or false, in small letters",
        rf"(?P<before>=\s*)(?P<at>(?i:true|false|yes|no|on|off)){_OVER}",
        _true_or_false,
    ),
    _rule(
        "a text stands in quotes",
        rf"(?P<before>[=\[]\s*|,\s+)(?P<at>[^\W\d_](?:[^,;\[\]{{}}=\"'#\ue000-\uf8ff]|(?<=\w)'(?=\w))*?){_OVER}",
        r'\g<before>"\g<at>"',
    ),
    _rule("a text stands in quotes", rf"(?P<before>=\s*)(?P<at>[0-9]+[A-Za-z-][\w.-]*){_OVER}", r'\g<before>"\g<at>"'),
    _rule("a text ends with the quotes it began with", r"(?P<at>\")([^\"']*?)\s*$", r'"\2"'),
    _rule("a text ends with the quotes it began with", r"(?P<at>')([^\"']*?)\s*$", r"'\2'"),
    _rule(
        "a backslash in a text needs plain single quotes round it", r"\"(?P<at>[^\"'\n]*\\[^\"'\n]*)\"", r"'\g<at>'", quoted=True
    ),
    # lists and braces
    _rule("entries are parted by a comma", rf"(?P<before>[\[,]\s*{_NUM})(?P<at>\s+)(?={_NUM})", r"\g<before>, "),
    _rule("entries are parted by a comma", r"\](?P<at>\s*)(?=\[)", "], "),
    _rule("keys in braces are parted by a comma", rf"(?<=[0-9\]}}\ue000-\uf8ffe])(?P<at>\s+)(?={_KEY}\s*=)", ", "),
    _rule("no comma stands before the closing brace", r"(?P<at>,)\s*(?=\})", " "),
)


def balanced(line: str) -> tuple[int, str] | None:
    """Where a bracket of a line is missing or too many (from 0), and the line with those that belong there."""
    plain, comment = comment_of(line)
    stack: list[str] = []
    parts: list[str] = []
    first: int | None = None
    for at, sign in enumerate(masked(plain)):
        if sign in "]}":
            if sign not in stack:
                first = at if first is None else first
                continue
            while stack.pop() != sign:
                first = at if first is None else first
                parts = [*_trimmed(parts), "]" if sign == "}" else " }", " " if sign == "}" else ""]
        elif sign in "[{":
            stack.append("]" if sign == "[" else "}")
        parts.append(plain[at])
    if stack:
        first = len(plain.rstrip()) if first is None else first
        closers = "".join(" }" if sign == "}" else sign for sign in reversed(stack))
        parts = [*_trimmed(parts), closers, "  " if comment else ""]
    return None if first is None else (first, "".join(parts) + comment)


def _trimmed(parts: list[str]) -> list[str]:
    return list("".join(parts).rstrip())


__all__ = ["RULES", "Rule", "balanced", "comment_of", "masked"]

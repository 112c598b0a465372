"""What a marking says: a code layout, a code read by it, and the codes that lie one slip away.

Clearing is harder than suspecting, so nothing here mends a code silently: what cannot be read stays
unreadable, and slips are only ever used to doubt.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from audiences.folding import fold, last_signs, mask
from audiences.weeks import is_week, is_year, read_week, read_year, year_of

__all__ = [
    "COMMON_MISREADS",
    "LONGEST_CODE",
    "Layout",
    "Parsed",
    "Part",
    "PartKind",
    "Unreadable",
    "fold",
    "last_signs",
    "mask",
    "read",
    "read_week",
    "read_year",
    "slips",
]

COMMON_MISREADS: tuple[frozenset[str], ...] = tuple(
    frozenset(signs) for signs in ("0ODQ", "1IL7", "2Z", "5S", "6G", "8BD", "UV")
)
"""Signs taken for one another on metal and in handwriting (common practice, no source)."""

LONGEST_CODE = 64  # signs; what is longer is no marking, and would make the slips slow

# Words written before a number; as the beginning of a code they name no other family.
_LABELS = frozenset(
    [
        "CODE",
        "FN",
        "FR",
        "FRAME",
        "ID",
        "NO",
        "NR",
        "NUM",
        "NUMMER",
        "RAHMEN",
        "REF",
        "RN",
        "SER",
        "SERIE",
        "SN",
    ]
)
_TELLING_SIGNS = 2  # fixed signs that must differ before a code counts as another family's

PartKind = Literal["text", "iso_year", "iso_week", "digits", "one_of"]
_Fields = Mapping[str, str | int]


@dataclass(frozen=True, kw_only=True, slots=True)
class Part:
    """One stretch of a code: fixed *text*, or a field *name* of *size* signs, or one sign of *letters*."""

    kind: PartKind
    name: str = ""
    text: str = ""
    size: int = 0
    letters: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Layout:
    """How a family's codes are built.

    *hidden* last signs are never shown; *misread* holds classes of signs taken for one another.
    """

    parts: tuple[Part, ...]
    hidden: int = 4
    misread: tuple[frozenset[str], ...] = COMMON_MISREADS


@dataclass(frozen=True, kw_only=True, slots=True)
class Parsed:
    """A code that the layout reads: numbers as int, letters as text, years with their century."""

    code_key: str
    fields: Mapping[str, str | int]
    as_given: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Unreadable:
    """A code that the layout cannot read, and why.

    *foreign* means: built like this family's codes, but with another fixed text that no slip explains. Then
    *twin* is the same code with this family's text, to be doubted by.
    """

    why: str
    message: str
    foreign: bool = False
    code_key: str = ""
    twin: str = ""


_MESSAGES = {
    "empty": "There is no code.",
    "too-long": f"The code has more than {LONGEST_CODE} signs.",
    "wrong-length": "The code has more or fewer signs than this family's codes.",
    "wrong-shape": "A sign of the code is not one that can stand at its place.",
    "no-such-year": "The year in the code does not exist.",
    "no-such-week": "The week in the code does not exist in its ISO 8601 year.",
    "other-text": "The code is built like this family's, but its fixed text is another.",
}


def read(layout: Layout, code: str) -> Parsed | Unreadable:
    """Read *code* into its fields, or say why it cannot be read; a week must exist in its ISO 8601 year."""
    key = fold(code)
    if not key or len(key) > LONGEST_CODE:
        why = "too-long" if key else "empty"
        return Unreadable(why=why, message=_MESSAGES[why], code_key=key[:LONGEST_CODE])
    form = _form(layout)
    fields = form.fields(key)
    if not isinstance(fields, str):
        return Parsed(code_key=key, fields=fields, as_given=code)
    twin = form.twin(key)
    why = "other-text" if twin else fields
    return Unreadable(why=why, message=_MESSAGES[why], foreign=bool(twin), code_key=key, twin=twin)


def slips(layout: Layout, code_key: str) -> Iterator[str]:
    """Yield each other code key that the layout can read and that lies one slip from *code_key*.

    A slip is one sign taken for one of its misread class, or two neighbours swapped. Each is given once.
    """
    if len(code_key) > LONGEST_CODE:
        return
    form = _form(layout)
    for candidate in dict.fromkeys(form.neighbours(code_key)):
        if candidate != code_key and not isinstance(form.fields(candidate), str):
            yield candidate


@dataclass(frozen=True, kw_only=True, slots=True)
class _Form:
    """A layout made ready for reading."""

    parts: tuple[Part, ...]
    pattern: re.Pattern[str]
    any_text: re.Pattern[str]  # the same with other letters and digits for the fixed text
    own_text: str
    length: int
    likes: Mapping[str, str]

    def fields(self, key: str) -> _Fields | str:
        """Return the fields of *key*, or why it has none."""
        match = self.pattern.fullmatch(key)
        if not match:
            return "wrong-shape" if len(key) == self.length else "wrong-length"
        fields: dict[str, str | int] = {}
        year, week = None, None
        for part, signs in zip(self.parts, match.groups(), strict=True):
            if part.kind == "iso_year":
                fields[part.name] = year = year_of(signs)
            elif part.kind == "iso_week":
                fields[part.name] = week = int(signs)
            elif part.kind == "digits":
                fields[part.name] = int(signs)
            elif part.kind == "one_of":
                fields[part.name] = signs
        if year is not None and not is_year(year):
            return "no-such-year"
        return fields if week is None or is_week(year, week) else "no-such-week"

    def twin(self, key: str) -> str:
        """Return *key* with this family's text, where it has another one that no slip explains; else ""."""
        match = self.any_text.fullmatch(key)
        if not match:
            return ""
        pairs = list(zip(self.parts, match.groups(), strict=True))
        theirs = "".join(signs for part, signs in pairs if part.kind == "text")
        twin = "".join(fold(part.text) if part.kind == "text" else signs for part, signs in pairs)
        unsure = theirs in _LABELS or self._slipped(theirs) or isinstance(self.fields(twin), str)
        return "" if unsure else twin

    def _slipped(self, theirs: str) -> bool:
        """Tell whether one mistyped sign, misread signs or another order make *theirs* of the fixed text."""
        telling = sum(
            own != other and other not in self.likes.get(own, "")
            for own, other in zip(self.own_text, theirs, strict=True)
        )
        return telling < _TELLING_SIGNS or sorted(theirs) == sorted(self.own_text)

    def neighbours(self, key: str) -> Iterator[str]:
        """Yield every key one slip away, readable or not."""
        for place, sign in enumerate(key):
            for like in self.likes.get(sign, ""):
                yield key[:place] + like + key[place + 1 :]
            if place:
                yield key[: place - 1] + sign + key[place - 1] + key[place + 1 :]


@lru_cache(maxsize=64)
def _form(layout: Layout) -> _Form:
    texts = [fold(part.text) for part in layout.parts if part.kind == "text"]
    return _Form(
        parts=layout.parts,
        pattern=re.compile("".join(f"({_expression(part)})" for part in layout.parts)),
        any_text=re.compile("".join(f"({_any_text(part)})" for part in layout.parts)),
        own_text="".join(texts),
        length=sum(len(fold(part.text)) if part.kind == "text" else _size(part) for part in layout.parts),
        likes=_likes(layout.misread),
    )


def _expression(part: Part) -> str:
    if part.kind == "text":
        return re.escape(fold(part.text))
    if part.kind == "one_of":
        return "|".join(re.escape(fold(letter)) for letter in part.letters) or "(?!)"
    return f"[0-9]{{{_size(part)}}}"


def _any_text(part: Part) -> str:
    return "".join(map(_any_sign, fold(part.text))) if part.kind == "text" else _expression(part)


def _any_sign(sign: str) -> str:
    if sign.isdecimal():
        return "[0-9]"
    return "[A-Z]" if sign.isalpha() else re.escape(sign)


def _size(part: Part) -> int:
    if part.kind == "one_of":
        return 1
    return part.size if part.kind == "digits" else part.size or 2


def _likes(classes: tuple[frozenset[str], ...]) -> Mapping[str, str]:
    """Return for each sign the signs it is misread for, in code point order."""
    likes: dict[str, set[str]] = {}
    for alike in classes:
        signs = {fold(sign) for sign in alike}
        for sign in signs:
            likes.setdefault(sign, set()).update(signs - {sign})
    return {sign: "".join(sorted(others)) for sign, others in likes.items()}

"""What a marking says: a code layout, a code read by it, and the codes that lie one slip away.

Clearing is harder than suspecting, so nothing here mends a code silently: what cannot be read stays
unreadable, and slips are only ever used to doubt.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import chain

from audiences import gs1
from audiences.builds import Build, Fields, build_of
from audiences.folding import fold, last_signs, mask
from audiences.parts import Part, PartKind
from audiences.weeks import read_week, read_year

__all__ = [
    "COMMON_MISREADS",
    "LONGEST_CODE",
    "Layout",
    "Parsed",
    "Part",
    "PartKind",
    "Unreadable",
    "bare",
    "code_key",
    "fold",
    "key_of",
    "last_signs",
    "mask",
    "near",
    "read",
    "read_by",
    "read_week",
    "read_year",
    "slips",
]

COMMON_MISREADS: tuple[frozenset[str], ...] = tuple(
    frozenset(signs) for signs in ("0ODQ", "1IL7", "2Z", "5S6", "6G", "8B3", "8BD", "UV")
)
"""Signs taken for one another on metal and in handwriting (common practice, no source)."""

LONGEST_CODE = 64  # signs; what is longer is no marking, and would make the slips slow
_LONGEST_ADDRESS = 512  # signs of a code that is a GS1 address or a whole element string

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


@dataclass(frozen=True, kw_only=True, slots=True)
class Layout:
    """How a family's codes are built: by *parts*, or by one of the *others*.

    *hidden* last signs are never shown; *misread* holds classes of signs taken for one another. What is made ready
    for reading follows from the rest.
    """

    parts: tuple[Part, ...]
    hidden: int = 4
    misread: tuple[frozenset[str], ...] = COMMON_MISREADS
    others: tuple[tuple[Part, ...], ...] = ()
    ready: tuple[Build, ...] = field(init=False, repr=False, compare=False)
    marked: bool = field(init=False, repr=False, compare=False)
    likes: Mapping[str, str] = field(init=False, repr=False, compare=False)
    dropped: Mapping[int, None] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Make the layout ready once; every code of a campaign is read by the same one."""
        object.__setattr__(self, "ready", tuple(map(build_of, self.builds)))
        object.__setattr__(self, "marked", any(build.marked for build in self.ready))
        object.__setattr__(self, "likes", _likes(self.misread))
        separators = (part.text for parts in self.builds for part in parts if part.kind == "separator")
        object.__setattr__(self, "dropped", {ord(sign): None for text in separators for sign in fold(text)})

    @property
    def builds(self) -> tuple[tuple[Part, ...], ...]:
        """All ways in which the family's codes are built, the first first."""
        return (self.parts, *self.others)

    @property
    def fields(self) -> Mapping[str, Part]:
        """The part of each field, the first where builds share a field."""
        found: dict[str, Part] = {}
        for part in chain.from_iterable(self.builds):
            if part.sort:
                found.setdefault(part.name, part)
        return found


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
    "no-such-us-week": "The week in the code does not exist in its year, as weeks are counted in the US.",
    "no-such-month": "The month in the code does not exist.",
    "no-such-day": "The day in the code does not exist in its month or year.",
    "check-fails": "The check character does not fit the other signs: at least one sign is misread or mistyped.",
    "two-ways": "The code can be read in two ways, by two layouts of this family.",
    "not-gs1": "The code is no GS1 element string or address, or the check digit of its GTIN does not fit.",
    "other-text": "The code is built like this family's, but its fixed text is another.",
}


def read(layout: Layout, code: str) -> Parsed | Unreadable:
    """Read *code* into its fields, or say why it cannot be read; days and weeks must exist, check characters fit.

    A code that two builds of the family read in two ways is unreadable. Of a GS1 code *code_key* is the bracketed form.
    """
    key = _marked_key(code) if layout.marked else fold(code)
    if not key or len(key) > LONGEST_CODE:
        why = "too-long" if key else "empty"
        return Unreadable(why=why, message=_MESSAGES[why], code_key=key[:LONGEST_CODE])
    found = _fields(layout, key)
    if not isinstance(found, str):
        return Parsed(code_key=key, fields=found, as_given=code)
    twin = _twin(layout, key)
    why = "other-text" if twin else found
    return Unreadable(why=why, message=_MESSAGES[why], foreign=bool(twin), code_key=key, twin=twin)


def read_by(layout: Layout, code: Parsed) -> tuple[int, ...]:
    """Return which of the layout's builds read a code, by their places."""
    return tuple(
        at for at, build in enumerate(layout.ready) if not isinstance(build.fields(code.code_key), str)
    )


def code_key(code: str) -> str:
    """Return the key by which codes are compared where no layout is known: folded.

    A GS1 code that names a GTIN goes by its bracketed form, however it is written.
    """
    found = gs1.elements(code[:_LONGEST_ADDRESS]) if "01" in code else None
    return gs1.bracketed(found) if found and "01" in found else fold(code)


def key_of(layout: Layout, code: str) -> str:
    """Return the key of a code in a list: folded, without separators, a GS1 code in its bracketed form."""
    return bare(layout, _marked_key(code) if layout.marked else fold(code))


def bare(layout: Layout, code_key: str) -> str:
    """Return a code key without the signs of separators, which may be left out: two spellings of one code are one."""
    return code_key.translate(layout.dropped) if layout.dropped else code_key


def _marked_key(code: str) -> str:
    """Return the key of a code that may be a GS1 one."""
    found = gs1.elements(code[:_LONGEST_ADDRESS])
    return gs1.bracketed(found) if found else fold(code)


def slips(layout: Layout, code_key: str) -> Iterator[str]:
    """Yield each other code key that the layout can read and that lies one slip from *code_key*, each once."""
    return (near_by.code_key for near_by in near(layout, code_key))


def near(layout: Layout, code_key: str) -> Iterator[Parsed]:
    """Yield the reading of each other code that lies one slip from *code_key*; they only ever serve to doubt.

    A slip is one sign taken for one of its misread class, or two neighbours swapped.
    """
    if len(code_key) > LONGEST_CODE:
        return
    found = chain.from_iterable(build.neighbours(code_key, layout.likes) for build in layout.ready)
    for candidate in dict.fromkeys(found):
        fields = _fields(layout, candidate)
        if candidate != code_key and not isinstance(fields, str):
            yield Parsed(code_key=candidate, fields=fields, as_given=candidate)


def _fields(layout: Layout, key: str) -> Fields | str:
    """Return the fields of *key*, or why it has none."""
    if len(layout.ready) == 1:
        return layout.ready[0].fields(key)
    found = [build.fields(key) for build in layout.ready]
    fields = [one for one in found if not isinstance(one, str)]
    if fields:
        return fields[0] if all(one == fields[0] for one in fields) else "two-ways"
    faults = [one for one in found if isinstance(one, str)]
    return (
        min(faults, key=_VAGUE.index)
        if set(faults) <= set(_VAGUE)
        else next(fault for fault in faults if fault not in _VAGUE)
    )


_VAGUE = ("wrong-shape", "wrong-length", "not-gs1")


def _twin(layout: Layout, key: str) -> str:
    """Return *key* with this family's text, where it has another one that no slip explains; else ""."""
    found = [(build, told) for build in layout.ready if (told := build.other_text(key))]
    for build, (theirs, twin) in found:
        unsure = theirs in _LABELS or _slipped(layout, build.own_text, theirs)
        if unsure or isinstance(_fields(layout, twin), str):
            return ""
    return found[0][1][1] if found else ""


def _slipped(layout: Layout, own_text: str, theirs: str) -> bool:
    """Tell whether one mistyped sign, misread signs or another order make *theirs* of the fixed text."""
    telling = sum(
        own != other and other not in layout.likes.get(own, "")
        for own, other in zip(own_text, theirs, strict=True)
    )
    return telling < _TELLING_SIGNS or sorted(theirs) == sorted(own_text)


def _likes(classes: tuple[frozenset[str], ...]) -> Mapping[str, str]:
    """Return for each sign the signs it is misread for, in code point order."""
    likes: dict[str, set[str]] = {}
    for alike in classes:
        signs = {fold(sign) for sign in alike}
        for sign in signs:
            likes.setdefault(sign, set()).update(signs - {sign})
    return {sign: "".join(sorted(others)) for sign, others in likes.items()}

"""One way in which a family's codes are built, made ready for reading.

Reading goes from the left to the right, sign by sign, and never turns back: at each place the part that is due says
where it ends, or that it does not stand there.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from audiences import gs1
from audiences.check_characters import check_signs
from audiences.gs1 import ELEMENT_SIGNS
from audiences.parts import Decode, Part, decoding, signs_of, size_of, texts_of
from audiences.weeks import is_day, is_month, is_us_week, is_week, is_year, is_year_day

Fields = Mapping[str, str | int]

_NUMERALS = frozenset("0123456789")
_CAPITALS = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZ")


@dataclass(frozen=True, slots=True)
class Step:
    """One part, ready for reading: the *texts* of which one stands there, or *size* signs out of *signs*."""

    part: Part
    texts: tuple[str, ...]
    size: int
    signs: frozenset[str]
    optional: bool
    whole: bool

    def end(self, key: str, at: int) -> int:
        """Return where the part ends that begins at *at*, or -1 where it does not stand there."""
        if not self.texts:
            end = len(key) if self.whole else at + self.size
            return end if end <= len(key) and self.signs.issuperset(key[at:end]) else -1
        for text in self.texts:
            if key.startswith(text, at):
                return at + len(text)
        return at if self.optional else -1

    def other_end(self, key: str, at: int) -> int:
        """Return the same for fixed text of another family: as many letters and digits at the same places."""
        if self.part.kind != "text":
            return self.end(key, at)
        text = self.texts[0]
        theirs = key[at : at + len(text)]
        alike = len(theirs) == len(text) and all(map(_alike, text, theirs))
        return at + len(text) if alike else -1

    @property
    def lengths(self) -> tuple[int, int]:
        """The fewest and the most signs."""
        found = [len(text) for text in self.texts] or [self.size]
        return (0 if self.optional else min(found)), max(found)


def _alike(own: str, theirs: str) -> bool:
    for signs in (_NUMERALS, _CAPITALS):
        if own in signs:
            return theirs in signs
    return own == theirs


@dataclass(frozen=True, slots=True)
class Build:
    """The steps of one build, grouped by the GS1 element that they stand in (none: "")."""

    steps: tuple[Step, ...]
    by_element: tuple[tuple[str, tuple[Step, ...]], ...]
    named: tuple[tuple[int, str, Decode, str], ...]
    checks: tuple[int, ...]
    lengths: tuple[int, int]
    places: tuple[frozenset[str], ...]
    signs: frozenset[str]

    @property
    def own_text(self) -> str:
        """The fixed text of the family."""
        return "".join(step.texts[0] for step in self.steps if step.part.kind == "text")

    @property
    def marked(self) -> bool:
        """Say whether the code is a GS1 one."""
        return bool(self.by_element)

    def cut(self, key: str) -> Sequence[str] | None:
        """Return the signs of each part of *key*, or None where a part does not stand at its place."""
        if not self.by_element:
            return _cut(self.steps, key)
        found = gs1.elements(key) or {}
        cut: list[str] = []
        for element, steps in self.by_element:
            signs = _cut(steps, found[element]) if element in found else None
            if signs is None:
                return None
            cut += signs
        return cut

    def fields(self, key: str) -> Fields | str:
        """Return the fields of *key*, or why it has none."""
        cut = self.cut(key)
        if cut is None:
            return self._shape_fault(key)
        fields: dict[str, str | int] = {}
        dated: dict[str, int] = {}
        for at, name, decode, date_part in self.named:
            fields[name] = value = decode(cut[at])
            if date_part:
                dated[date_part] = int(value)
        return (_calendar_fault(dated) if dated else "") or self._check_fault(cut) or fields

    def _shape_fault(self, key: str) -> str:
        if self.by_element:
            return "wrong-shape" if gs1.elements(key) else "not-gs1"
        return "wrong-shape" if self.lengths[0] <= len(key) <= self.lengths[1] else "wrong-length"

    def _check_fault(self, cut: Sequence[str]) -> str:
        for at in self.checks:
            if check_signs(self.steps[at].part.scheme, self.counted(at, cut)) != cut[at]:
                return "check-fails"
        return ""

    def counted(self, at: int, cut: Sequence[str]) -> str:
        """Return the signs that the check at a step counts."""
        over = self.steps[at].part.over
        if over:
            named = {step.part.name: signs for step, signs in zip(self.steps, cut, strict=True)}
            return "".join(named.get(name, "") for name in over)
        before = zip(self.steps[:at], cut[:at], strict=True)
        return "".join(signs for step, signs in before if step.part.kind not in {"separator", "check"})

    def neighbours(self, key: str, likes: Mapping[str, str]) -> Iterator[str]:
        """Yield every key one slip from *key* that the build may read; most cannot be, and are left out at once.

        A slip is one sign taken for one of those it is *like*, or two neighbours swapped.
        """
        places = self.places or (self.signs,) * len(key)
        if len(places) != len(key):
            return
        unfit = [at for at, sign in enumerate(key) if sign not in places[at]]
        if len(unfit) > 2:  # noqa: PLR2004 - two neighbours
            return
        for at, sign in enumerate(key):
            if unfit in ([], [at]):
                for like in likes.get(sign, ""):
                    if like in places[at]:
                        yield key[:at] + like + key[at + 1 :]
            if at and unfit in ([], [at], [at - 1], [at - 1, at]):
                before = key[at - 1]
                if sign != before and sign in places[at - 1] and before in places[at]:
                    yield key[: at - 1] + sign + before + key[at + 1 :]

    def other_text(self, key: str) -> tuple[str, str] | None:
        """Return the other text in *key*, and *key* with this family's; None where it is not built so, or has none."""
        if self.marked or not self.own_text:
            return None
        theirs, twin, at = "", "", 0
        for step in self.steps:
            end = step.other_end(key, at)
            if end < 0:
                return None
            fixed = step.part.kind == "text"
            theirs += key[at:end] if fixed else ""
            twin += step.texts[0] if fixed else key[at:end]
            at = end
        return (theirs, twin) if at == len(key) else None


def _cut(steps: Sequence[Step], key: str) -> list[str] | None:
    found = []
    at = 0
    for step in steps:
        end = step.end(key, at)
        if end < 0:
            return None
        found.append(key[at:end])
        at = end
    return found if at == len(key) else None


def _calendar_fault(dated: Mapping[str, int]) -> str:
    """Return why there is no such day, week or month, "" where there is."""
    year, month = dated.get("year"), dated.get("month")
    if year is not None and not is_year(year):
        return "no-such-year"
    if month is not None and not is_month(month):
        return "no-such-month"
    for date_part, value in dated.items():
        if date_part in {"day", "year_day"}:
            known = is_day(year, month, value) if date_part == "day" else is_year_day(year, value)
            if not known:
                return "no-such-day"
        if date_part == "week" and not is_week(year, value):
            return "no-such-week"
        if date_part == "us_week" and not is_us_week(year, value):
            return "no-such-us-week"
    return ""


def build_of(parts: Sequence[Part]) -> Build:
    """Make parts ready for reading."""
    elements = tuple(dict.fromkeys(part.element for part in parts))
    steps = tuple(_step(part) for element in elements for part in parts if part.element == element)
    by_element = tuple(
        (element, tuple(step for step in steps if step.part.element == element)) for element in elements
    )
    return Build(
        steps,
        by_element if any(elements) else (),
        tuple((at, step.part.name, *_meaning(step.part)) for at, step in enumerate(steps) if step.part.sort),
        tuple(at for at, step in enumerate(steps) if step.part.kind == "check"),
        (sum(step.lengths[0] for step in steps), sum(step.lengths[1] for step in steps)),
        () if any(elements) or any(len(set(step.lengths)) > 1 for step in steps) else tuple(_places(steps)),
        frozenset("()").union(*elements, *(signs for step in steps for signs in (step.signs, *step.texts))),
    )


def _places(steps: Sequence[Step]) -> Iterator[frozenset[str]]:
    """Yield the signs that may stand at each place of a build whose codes are all equally long."""
    for step in steps:
        for at in range(step.lengths[0]):
            yield frozenset(text[at] for text in step.texts) if step.texts else step.signs


def _meaning(part: Part) -> tuple[Decode, str]:
    """Return what decodes the signs of a part, and which part of a date it is, "" for none."""
    date_part = "us_week" if part.kind == "us_week" else part.sort
    return decoding(part), date_part if date_part not in {"number", "choice"} else ""


def _step(part: Part) -> Step:
    whole = part.kind == "whole"
    signs = ELEMENT_SIGNS if whole else signs_of(part)
    return Step(part, texts_of(part), size_of(part), frozenset(signs), part.kind == "separator", whole)

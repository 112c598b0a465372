"""What stretches of a few codes may mean: dates, running numbers, check characters.

A guess needs every code to fit. How likely a fit by chance is depends on how many codes there are.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from audiences import gs1
from audiences.check_characters import CHECKED, DIGITS, SCHEMES, Scheme, check_signs, check_size
from audiences.parts import Part, PartKind
from audiences.telling import MONTHS, joined
from audiences.weeks import is_day, is_month, is_week, is_year_day

_CENTURY = 2000  # of a year of two digits
_FIRST_YEAR, _LAST_YEAR = 2005, 2040  # plausible years of making for what is still in use
_WIDEST = 20  # years between the oldest and the newest of a few codes
_SURE, _LIKELY = 100_000, 1_000  # to one: that no random codes fit a check character

Told = Mapping[str, int]


@dataclass(frozen=True, kw_only=True, slots=True)
class Piece:
    """One part, as it stands in the file, and what to ask about it."""

    part: Part
    data: Mapping[str, object]
    ask: str = ""


def text(signs: str, ask: str = "") -> Piece:
    """Return fixed text."""
    return Piece(part=Part(kind="text", text=signs), data={"text": signs}, ask=ask)


@dataclass(frozen=True, kw_only=True, slots=True)
class DateForm:
    """One way to write a date: the *kinds* with their sizes in order, whether there is such a date, and its words."""

    kinds: tuple[tuple[PartKind, int], ...]
    known: Callable[[Told], bool]
    words: Callable[[Told], str]

    @property
    def size(self) -> int:
        """The number of digits."""
        return sum(size for _, size in self.kinds)

    def read(self, digits: str) -> Told:
        """Return the numbers of a date by their kind, a year with its century."""
        found: dict[str, int] = {}
        at = 0
        for kind, size in self.kinds:
            number = int(digits[at : at + size])
            year = kind in {"year", "iso_year"}
            found["year" if year else kind] = number + (_CENTURY if year and size == len("yy") else 0)
            at += size
        return found

    def fits(self, found: Sequence[str]) -> bool:
        """Tell whether all *found* begin with a plausible date."""
        if len(found[0]) < self.size:
            return False
        told = [self.read(digits) for digits in found]
        years = [each["year"] for each in told]
        return _plausible(years) and all(map(self.known, told))

    def pieces(self, digits: str, others: Sequence["DateForm"]) -> Iterator[Piece]:
        """Yield the parts; the last asks whether *digits* mean this date, and not one of the *others*."""
        instead = joined([form.words(form.read(digits)) for form in others], "or")
        ask = f"{digits[: self.size]}: {self.words(self.read(digits))}{f' (and not {instead})' if instead else ''}?"
        for at, (kind, size) in enumerate(self.kinds):
            name = _NAMES[kind]
            told: object = size if kind in {"year", "iso_year"} else True
            part = Part(kind=kind, name=name, size=0 if kind in {"month", "day", "year_day"} else size)
            yield Piece(
                part=part, data={"field": name, kind: told}, ask=ask if at == len(self.kinds) - 1 else ""
            )


def _plausible(years: Sequence[int]) -> bool:
    return min(years) >= _FIRST_YEAR and max(years) <= _LAST_YEAR and max(years) - min(years) <= _WIDEST


_NAMES: Mapping[PartKind, str] = {
    "iso_year": "year",
    "year": "year",
    "iso_week": "week",
    "month": "month",
    "day": "day",
    "year_day": "day",
}


def _week(told: Told) -> str:
    return f"week {told['iso_week']} of {told['year']}"


def _month(told: Told) -> str:
    return f"{MONTHS[told['month'] - 1]} {told['year']}"


def _is_month_day(told: Told) -> bool:
    return is_month(told["month"]) and is_day(told["year"], told["month"], told["day"])


def _dates() -> Iterator[DateForm]:
    """Yield the forms, what chance is least likely to write first; a day of the year only where no week fits."""
    for year in (4, 2):
        yield DateForm(
            kinds=(("year", year), ("month", 2), ("day", 2)),
            known=_is_month_day,
            words=lambda told: f"{told['day']} {_month(told)}",
        )
        yield DateForm(
            kinds=(("year", year), ("month", 2)), known=lambda told: is_month(told["month"]), words=_month
        )
        yield DateForm(
            kinds=(("iso_year", year), ("iso_week", 2)),
            known=lambda told: is_week(told["year"], told["iso_week"]),
            words=_week,
        )
        yield DateForm(
            kinds=(("year", year), ("year_day", 3)),
            known=lambda told: is_year_day(told["year"], told["year_day"]),
            words=lambda told: f"day {told['year_day']} of {told['year']}",
        )
    yield DateForm(
        kinds=(("iso_week", 2), ("iso_year", 2)),
        known=lambda told: is_week(told["year"], told["iso_week"]),
        words=_week,
    )


_DATES = tuple(_dates())
_DAY = next(form for form in _DATES if form.kinds == (("year", 2), ("month", 2), ("day", 2)))
_OFTEN = frozenset({"iso_week", "month"})
_MONTH_LETTERS = ("ABCDEFGHJKLM", "ABCDEFGHIJKL")  # common practice, no source


def date_of(found: Sequence[str]) -> tuple[Piece, ...]:
    """Return the parts of the date that all *found* begin with, none where there is none."""
    fitting = [form for form in _DATES if form.fits(found)]
    if not fitting:
        return ()
    others = [form for form in fitting[1:] if form.kinds[0][1] == fitting[0].kinds[0][1]]
    return tuple(fitting[0].pieces(found[0], [form for form in others if form.kinds[-1][0] in _OFTEN]))


def month_letter_of(found: Sequence[str]) -> tuple[Piece, ...]:
    """Return year and month where all *found* are two digits and a changing letter that may stand for a month."""
    letters = "".join(signs[2:] for signs in found)
    years = [_CENTURY + int(signs[:2]) for signs in found]
    if len(set(letters)) == 1 or not _plausible(years):
        return ()
    months = next((each for each in _MONTH_LETTERS if set(letters) <= set(each)), "")
    if not months:
        return ()
    first = found[0]
    left_out = "with no letter left out" if "I" in months else "if I is left out"
    ask = f"{first}: {MONTHS[months.index(first[2])]} {years[0]}, {left_out}?"
    return (
        Piece(part=Part(kind="year", name="year", size=2), data={"field": "year", "year": 2}),
        Piece(
            part=Part(kind="month_letter", name="month", letters=months),
            data={"field": "month", "month_letters": months},
            ask=ask,
        ),
    )


def elements_of(codes: Sequence[str]) -> Iterator[Piece]:
    """Yield the elements that all the GS1 codes have, each as a part; a day of production only where all name one."""
    found = [elements for code in codes if (elements := gs1.elements(code))]
    for element in sorted(set.intersection(*map(set, found))) if found else ():
        values = [each[element] for each in found]
        if element == "11" and _DAY.fits(values):
            for piece in _DAY.pieces(values[0], ()):
                part = Part(kind=piece.part.kind, name=piece.part.name, size=piece.part.size, element=element)
                yield Piece(part=part, data={**piece.data, "element": element}, ask=piece.ask)
        for name, what in _ELEMENTS.get(element, ()):
            yield Piece(
                part=Part(kind="whole", name=name, element=element),
                data={"field": name, "whole": True, "element": element},
                ask=f"({element}){values[0]}: {what} {values[0]}?",
            )


_ELEMENTS: Mapping[str, Sequence[tuple[str, str]]] = {
    "01": [("gtin", "the GTIN")],
    "10": [("batch", "batch")],
    "21": [("serial", "serial number")],
}


@dataclass(frozen=True, kw_only=True, slots=True)
class CheckGuess:
    """A scheme that all codes fit: over all signs before it, or over the *digits* among them; *sure* or to be asked."""

    scheme: Scheme
    digits: bool
    sure: bool


def check_of(keys: Sequence[str]) -> CheckGuess | None:
    """Return the scheme of the check characters at the end of all *keys*, None where no scheme fits them all."""
    guesses = (
        CheckGuess(scheme=scheme, digits=digits, sure=_base(scheme) ** len(keys) >= _SURE)
        for digits in (False, True)
        for scheme in SCHEMES
        if _base(scheme) ** len(keys) >= _LIKELY and _all_fit(scheme, keys, digits=digits)
    )
    return max(guesses, key=lambda guess: (guess.sure, _base(guess.scheme)), default=None)


def _base(scheme: Scheme) -> int:
    """Return one in how many random signs fits."""
    return {"mod_37_2": 37, "mod_37_36": 36, "mod_97_10": 97, "mod_11_2": 11}.get(scheme, 10)


def _all_fit(scheme: Scheme, keys: Sequence[str], *, digits: bool) -> bool:
    size = check_size(scheme)
    for key in keys:
        counted = "".join(sign for sign in key[:-size] if not digits or sign in DIGITS)
        if not counted or check_signs(scheme, counted) != key[-size:]:
            return False
    only_digits = all(set(key[:-size]) <= set(DIGITS) for key in keys)
    return not (digits and (only_digits or CHECKED[scheme] != DIGITS))

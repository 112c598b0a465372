"""What a rule asks of a code, as it is written and as it is decided: yes, no, or not to be decided (None).

The three answers go together as in Kleene's strong logic, so that what is not known never counts as *no*.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import chain

from audiences.code_lists import CodeList
from audiences.codes import Layout, Parsed, bare
from audiences.folding import fold
from audiences.written_values import Place, Value, places_of

Decide = Callable[[Parsed], bool | None]


@dataclass(frozen=True, kw_only=True, slots=True)
class Sign:
    """One sign of a code, one of *one_of*; its *place* counts from 1 without spaces, hyphens, dots and separators."""

    place: int
    one_of: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Conditions:
    """All that must hold of a code: fields in their ranges and among their values, one sign, a list, and groups.

    Both ends of a range count. A week is ``yyww`` in quotes, compared as decoded year and week, never as text.
    *lists* holds None for a list that could not be read. *any_of* holds groups of which one must hold each, *none_of*
    conditions that must not hold.
    """

    ranges: Mapping[str, tuple[Value, Value]] = field(default_factory=dict)
    values: Mapping[str, tuple[Value, ...]] = field(default_factory=dict)
    signs: tuple[Sign, ...] = ()
    lists: tuple[CodeList | None, ...] = ()
    all_of: tuple["Conditions", ...] = ()
    any_of: tuple[tuple["Conditions", ...], ...] = ()
    none_of: tuple["Conditions", ...] = ()

    def within(self) -> Iterator["Conditions"]:
        """Yield these conditions and all groups inside them, however deep."""
        yield self
        for one in (*self.all_of, *chain(*self.any_of), *self.none_of):
            yield from one.within()

    @property
    def ask_nothing(self) -> bool:
        """Say whether there is no condition at all."""
        return not (
            self.ranges
            or self.values
            or self.signs
            or self.lists
            or self.all_of
            or self.any_of
            or self.none_of
        )


def deciding(conditions: Conditions, layout: Layout) -> Decide:
    """Return what decides *conditions* for a code that *layout* has read."""
    return _every([*_each(conditions, layout)])


def _each(asked: Conditions, layout: Layout) -> Iterator[Decide]:
    """Yield what decides each condition."""
    for name, ends in asked.ranges.items():
        yield _range(name, ends, layout)
    for name, values in asked.values.items():
        yield _choice(name, values, layout)
    for sign in asked.signs:
        yield _sign(sign, layout)
    for codes in asked.lists:
        yield _undecided if codes is None else _listed(codes, layout)
    for one in asked.all_of:
        yield deciding(one, layout)
    for several in asked.any_of:
        yield _some([deciding(one, layout) for one in several])
    for one in asked.none_of:
        yield _undecided if one.ask_nothing else _not(deciding(one, layout))


def _range(name: str, ends: tuple[Value, Value], layout: Layout) -> Decide:
    """Decide a range; ends the wrong way round still mean what lies between."""
    found = places_of(layout, name, ends)
    if found is None:
        return _undecided
    fields, (one, other) = found
    first, last = min(one, other), max(one, other)

    def decide(code: Parsed) -> bool | None:
        place = _place(code, fields)
        return None if place is None else first <= place <= last

    return decide


def _choice(name: str, values: Sequence[Value], layout: Layout) -> Decide:
    found = places_of(layout, name, values)
    if found is None or not values:
        return _undecided
    fields, places = found
    wanted = frozenset(places)

    def decide(code: Parsed) -> bool | None:
        place = _place(code, fields)
        return None if place is None else place in wanted

    return decide


def _place(code: Parsed, fields: tuple[str, ...]) -> Place | None:
    """Return where a code lies, None where it is built without one of the fields."""
    found = code.fields
    try:
        return tuple([found[name] for name in fields])
    except KeyError:
        return None


def _sign(sign: Sign, layout: Layout) -> Decide:
    at, wanted = sign.place - 1, frozenset(fold(sign.one_of))
    if at < 0 or not wanted:
        return _undecided

    def decide(code: Parsed) -> bool | None:
        key = bare(layout, code.code_key)
        return key[at] in wanted if at < len(key) else None

    return decide


def _listed(codes: CodeList, layout: Layout) -> Decide:
    return lambda code: bare(layout, code.code_key) in codes


def _undecided(_code: Parsed) -> None:
    return None


def _every(asked: Sequence[Decide]) -> Decide:
    def decide(code: Parsed) -> bool | None:
        answer: bool | None = True
        for one in asked:
            found = one(code)
            if found is False:
                return False
            if found is None:
                answer = None
        return answer

    return decide


def _some(asked: Sequence[Decide]) -> Decide:
    def decide(code: Parsed) -> bool | None:
        answer: bool | None = False
        for one in asked:
            found = one(code)
            if found:
                return True
            if found is None:
                answer = None
        return answer

    return decide if asked else _undecided


def _not(asked: Decide) -> Decide:
    def decide(code: Parsed) -> bool | None:
        found = asked(code)
        return None if found is None else not found

    return decide

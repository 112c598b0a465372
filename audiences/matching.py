"""Owners who may be the same person: found by several keys, never all with all, each pair with a score and reasons.

It suggests and decides nothing: a person does, for two of one household look much alike. Records are compared within
blocks of those that share a key, as record linkage has it since Fellegi and Sunter (1969). The points are our own
(common practice, no source); the tests measure what comes of them on published data.
"""

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from rapidfuzz.distance import OSA, Indel, JaroWinkler

from audiences.likeness import KEYS, Address, Likeness, Person, likeness_of

__all__ = ["LEAST", "REASONS", "Pair", "Person", "pairs"]

LEAST = 35
"""The score from which two owners are shown as possibly the same."""

REASONS: Mapping[str, str] = MappingProxyType(
    {
        "name-same": "the same name",
        "name-similar": "similar names",
        "name-part": "one name is part of the other",
        "name-half": "a part of the name fits and a part does not",
        "name-other": "different names",
        "email-same": "the same e-mail address",
        "email-similar": "similar e-mail addresses",
        "phone-same": "the same telephone number",
        "address-same": "the same postal address",
        "address-similar": "similar postal addresses",
        "address-other": "different postal addresses",
        "number-same": "the same customer number of one list",
        "number-similar": "customer numbers of one list that a slip may part",
        "number-other": "different customer numbers of one list",
    }
)
"""What speaks for two owners being the same, or against it: the stable reason, and how it reads."""

_POINTS: Mapping[str, int] = MappingProxyType(
    {
        "name-same": 32,
        "name-similar": 25,
        "name-part": 12,
        "name-half": -10,
        "name-other": -25,
        "email-same": 35,
        "email-similar": 15,
        "phone-same": 30,
        "address-same": 35,
        "address-similar": 25,
        "address-other": -10,
        "number-same": 45,
        "number-similar": 30,
        "number-other": -15,
    }
)
_MORE = 3  # points for each further way to both
_MOST_BY_WAYS = _POINTS["email-same"] + 2 * _MORE
_MOST = 100
_WHOLE_BLOCK = 24  # members of a block that are compared each with each; a larger one is sorted by name
_NEIGHBOURS = 5  # and each of its members compared with so many behind it
_SAME_NAME, _NEAR_WORD = 0.86, 0.9
_SAME_ADDRESS, _NEAR_ADDRESS, _OTHER_ADDRESS = 0.9, 0.68, 0.5
_NEAR_LOCAL_PART = 0.9
_FIGURES = 10
_THIN = 500  # numbers there could be for each that was given


@dataclass(frozen=True, kw_only=True, slots=True)
class Pair:
    """Two owners who may be the same, *first* before *second*; *score* to 100, *reasons* keys of REASONS."""

    first: str
    second: str
    score: int
    reasons: tuple[str, ...]


def pairs(people: Iterable[Person], *, least: int = LEAST) -> tuple[Pair, ...]:
    """Return the pairs that score *least* or more, the likeliest first.

    Only owners who share a key are compared; where many share one, each with the nearest by name.
    """
    known = sorted(map(likeness_of, people), key=lambda one: one.person_id)
    thin = _thin(known)
    found = [
        pair
        for one, other in _candidates(known)
        if (pair := _compared(known[one], known[other], thin, least)) is not None
    ]
    return tuple(sorted(found, key=lambda pair: (-pair.score, pair.first, pair.second)))


def _thin(known: Iterable[Likeness]) -> frozenset[str]:
    """Return who gives numbers so few of all they could be that a slip hardly makes one of them another."""
    given: dict[str, set[str]] = {}
    for one in known:
        for giver, number in one.numbers:
            given.setdefault(giver, set()).add(number)
    return frozenset(
        giver
        for giver, numbers in given.items()
        if len(numbers) * _THIN <= _FIGURES ** min(map(len, numbers))
    )


def _candidates(known: Sequence[Likeness]) -> list[tuple[int, int]]:
    """Return the places of all who share a key, in order."""
    found: set[tuple[int, int]] = set()
    for keys_of in KEYS:  # one kind after the other, so that one kind alone is held
        first: dict[str, int] = {}
        blocks: dict[str, list[int]] = {}
        for place, one in enumerate(known):
            for key in set(keys_of(one)):
                before = first.setdefault(key, place)
                if before != place:
                    blocks.setdefault(key, [before]).append(place)
        for block in blocks.values():
            found.update(_within(block, known))
    return sorted(found)


def _within(block: list[int], known: Sequence[Likeness]) -> Iterator[tuple[int, int]]:
    reach = len(block)
    if reach > _WHOLE_BLOCK:
        block = sorted(block, key=lambda place: (known[place].name, place))
        reach = _NEIGHBOURS
    for at, one in enumerate(block):
        for other in block[at + 1 : at + 1 + reach]:
            yield (one, other) if one < other else (other, one)


def _compared(one: Likeness, other: Likeness, thin: Container[str], least: int) -> Pair | None:
    """Return the pair, None where it scores less than *least*; the ways are not looked at where they cannot help."""
    name, number = _names(one, other), _numbers(one, other, thin)
    score = _points(name) + _points(number)
    if score + _MOST_BY_WAYS < least:
        return None
    ways = [reason for reason in (_emails(one, other), _phones(one, other), _addresses(one, other)) if reason]
    score += _by_ways(sorted(map(_points, ways), reverse=True))
    if score < least:
        return None
    return Pair(
        first=one.person_id,
        second=other.person_id,
        score=min(_MOST, score),
        reasons=tuple(reason for reason in (name, *ways, number) if reason),
    )


def _points(reason: str) -> int:
    return _POINTS[reason] if reason else 0


def _by_ways(points: Sequence[int]) -> int:
    """Return what the ways to both say, best first: a household shares all of them, so they do not add up."""
    return sum(points[:1]) + sum(_MORE if each > 0 else -_MORE for each in points[1:])


def _names(one: Likeness, other: Likeness) -> str:
    if not one.names or not other.names:
        return ""
    if one.name == other.name:
        return "name-same" if len(one.names) > 1 else "name-part"
    glued = Indel.normalized_similarity(one.name.replace(" ", ""), other.name.replace(" ", ""))
    typed = Indel.normalized_similarity("".join(one.names), "".join(other.names))
    if max(glued, typed) >= _SAME_NAME:
        return "name-similar"
    short, long = sorted((one.names, other.names), key=len)
    fitting = sum(any(_same_word(word, each) for each in long) for word in short)
    if fitting == len(short):
        return "name-similar" if len(short) > 1 else "name-part"
    return "name-half" if fitting else "name-other"


def _same_word(one: str, other: str) -> bool:
    if len(one) == 1 or len(other) == 1:
        return one[0] == other[0]
    return JaroWinkler.similarity(one, other) >= _NEAR_WORD


def _emails(one: Likeness, other: Likeness) -> str:
    if not one.emails.isdisjoint(other.emails):
        return "email-same"
    local = [
        (mine.partition("@")[0], theirs.partition("@")[0]) for mine in one.emails for theirs in other.emails
    ]
    near = any(Indel.normalized_similarity(mine, theirs) >= _NEAR_LOCAL_PART for mine, theirs in local)
    return "email-similar" if near else ""


def _phones(one: Likeness, other: Likeness) -> str:
    return "" if one.phones.isdisjoint(other.phones) else "phone-same"


def _addresses(one: Likeness, other: Likeness) -> str:
    found = [_address(mine, theirs) for mine in one.addresses for theirs in other.addresses]
    return max(found, key=lambda reason: _POINTS.get(reason, 0), default="")


def _address(one: Address, other: Address) -> str:
    """Compare two addresses; a street alike with another house number and postcode is another place."""
    alike = Indel.normalized_similarity(one.text, other.text)
    if alike >= _SAME_ADDRESS and one.figures == other.figures:
        return "address-same"
    figures = not one.figures or not other.figures or not set(one.figures).isdisjoint(other.figures)
    if alike >= _NEAR_ADDRESS and figures:
        return "address-similar"
    return "address-other" if alike < _OTHER_ADDRESS else ""


def _numbers(one: Likeness, other: Likeness, thin: Container[str]) -> str:
    if not one.numbers.isdisjoint(other.numbers):
        return "number-same"
    both = [
        (giver, mine, theirs) for giver, mine in one.numbers for by, theirs in other.numbers if by == giver
    ]
    if not both:
        return ""
    near = any(giver in thin and OSA.distance(mine, theirs) == 1 for giver, mine, theirs in both)
    return "number-similar" if near else "number-other"

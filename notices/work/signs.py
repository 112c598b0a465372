"""Which of an owner's units a reader means: by the last signs of its code, or by the family name where it has none."""

import unicodedata
from collections.abc import Sequence
from datetime import datetime, timedelta
from hmac import compare_digest

from audiences.codes import Layout, Parsed, fold, last_signs, read
from notices.cases.records import OwnerRow
from notices.work.answers import Standing, Visit

MOST_WRONG = 12  # wrong tries a day before a person must help: four signs are ten thousand guesses
_A_DAY = timedelta(days=1)
_SHORTEST_NAME = 2
WRONG_SIGNS = "wrong signs"
OTHER_CODE = "another code"


def matching(visit: Visit, typed: str, hidden: int) -> tuple[Standing, ...]:
    """Return the units whose hidden signs, with or without what stands before them, or family name were *typed*."""
    key = fold(typed)
    return tuple(each for each in visit.standings if _fits(each, visit.owner, key, typed, hidden))


def _fits(standing: Standing, owner: OwnerRow, key: str, typed: str, hidden: int) -> bool:
    code = standing.unit.code
    if not code:
        return is_family_name(typed, owner)
    signs = last_signs(code, hidden)
    return bool(signs) and len(key) >= len(signs) and _same(key, fold(code)[-len(key) :])


def _same(typed: str, true: str) -> bool:
    return compare_digest(typed.encode("utf-8", "replace"), true.encode("utf-8", "replace"))


def is_whole_code(typed: str, layout: Layout | None, hidden: int) -> bool:
    """Say whether somebody typed a whole code where the last signs were asked for."""
    key = fold(typed)
    if layout is None:
        return len(key) > 2 * hidden
    reading = read(layout, typed)
    return isinstance(reading, Parsed) or reading.foreign


def is_family_name(typed: str, owner: OwnerRow) -> bool:
    """Say whether *typed* is the owner's family name, alone or with what stands beside it; accents do not count."""
    said, known = _words(typed), _words(owner.name)
    if not said or sum(map(len, said)) < _SHORTEST_NAME:
        return False
    if owner.kind == "firm":
        return _stands_in(said, known)
    family = known[0] if "," in owner.name else known[-1:][0] if known else ""
    return family in said and _stands_in(said, known)


def _stands_in(said: Sequence[str], known: Sequence[str]) -> bool:
    span = len(said)
    return any(list(known[at : at + span]) == list(said) for at in range(len(known) - span + 1))


def _words(name: str) -> list[str]:
    bare = (sign for sign in unicodedata.normalize("NFKD", name) if not unicodedata.combining(sign))
    return "".join(sign if sign.isalnum() else " " for sign in "".join(bare).casefold()).split()


def too_many(visit: Visit, now: datetime) -> bool:
    """Say whether so many wrong signs were typed by this link within a day that only a person can help."""
    since = now - _A_DAY
    wrong = sum(
        event.kind == "answer_set_aside"
        and event.payload.get("why") in {WRONG_SIGNS, OTHER_CODE}
        and event.recorded_at > since
        for standing in visit.standings
        for event in standing.events
    )
    return wrong >= MOST_WRONG

"""How much a change endangers an owner who goes on doing what was said before: the order in which it is told."""

from enum import IntEnum

from audiences.verdicts import SAFE
from notices.cases.records import Saying


class Danger(IntEnum):
    """The kinds of change, the most endangered first; parts that must not be used come between the first two."""

    SAFE_BEFORE = 0
    LESS_BEFORE = 2
    OTHER = 10


def danger(verdict: str, level: int, now: Saying) -> Danger:
    """Return what it means that an owner was told this *verdict* and *level*, and is told *now*."""
    if verdict in SAFE and now.verdict not in SAFE:
        return Danger.SAFE_BEFORE
    return Danger.OTHER if level >= now.level else Danger.LESS_BEFORE

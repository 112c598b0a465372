"""Pairs of owners as lines for a terminal: each with every way to them, for a person who decides."""

from collections.abc import Iterable, Iterator

from audiences.matching import REASONS
from notices.cli.saying import number
from notices.work.pairs import Decision, Likely, Side


def likely(found: Iterable[Likely]) -> Iterator[str]:
    """Yield the lines of pairs, each with its score and reasons."""
    for one in found:
        yield f"{one.score:3}  {', '.join(REASONS[reason] for reason in one.reasons)}"
        yield from map(_side, one.sides)


def decisions(found: Iterable[Decision]) -> Iterator[str]:
    """Yield the lines of pairs of which was decided."""
    for one in found:
        yield "one person" if one.joined else "two persons"
        yield from map(_side, one.sides)


def _side(side: Side) -> str:
    ways = [row.value.replace("\n", ", ") for row in side.contacts if row.fault is None]
    known = [side.owner.name or "no name", *ways, number(len(side.units), "unit")]
    return f"     {side.owner.owner_id}  {' · '.join(known)}"

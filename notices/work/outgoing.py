"""What the outbox holds: how many messages stand where, and each that a person may have to look at."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from notices.cases.records import PostingState
from notices.work.ports import World

_TO_LOOK_AT = (PostingState.REFUSED, PostingState.IN_DOUBT, PostingState.BOUNCED)


@dataclass(frozen=True, kw_only=True, slots=True)
class Trouble:
    """One message that did not simply go: in which state, why, and about which units (their references)."""

    state: str
    why: str
    units: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class OutboxFigures:
    """Messages by state, every state named, and those in trouble by state and reference."""

    counts: Mapping[str, int]
    troubles: tuple[Trouble, ...]


def outbox(world: World) -> OutboxFigures:
    """Return the figures of the outbox and its refused, doubtful and bounced messages."""
    with world.register.look() as tx:
        counts = Counter(posting.state for posting in tx.outbox.postings())
        troubled = [one for state in _TO_LOOK_AT for one in tx.outbox.postings(state=state)]
        units = tx.record.units_of([one.posting_id for one in troubled])
    return OutboxFigures(
        counts={state.value: counts[state] for state in PostingState},
        troubles=tuple(
            Trouble(
                state=one.state.value,
                why=one.why,
                units=tuple(sorted(unit.unit_id for unit in units.get(one.posting_id, []))),
            )
            for one in troubled
        ),
    )

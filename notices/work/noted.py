"""What the campaign's stream makes of markets and overrulings, kept as notes beside it so that it is quickly found."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from audiences import canonical
from notices.cases.events import CAMPAIGN, Event
from notices.work import gates, overruling
from notices.work.ports import Transaction

_FOLDED: Mapping[str, Callable[[Iterable[Event]], Mapping[str, Mapping[str, str]]]] = {
    gates.NOTE: gates.folded,
    overruling.NOTE: overruling.folded,
}


def differing(tx: Transaction, events: Sequence[Event]) -> Iterator[str]:
    """Yield the notes that are not what the *events* of the campaign's stream make."""
    for name, folded in _FOLDED.items():
        wanted = folded(events)
        if (tx.safe.note(name) or canonical.dump({})) != canonical.dump(wanted):
            yield name


def renew(tx: Transaction) -> None:
    """Write each note that differs anew from its events."""
    events = tx.events.stream(CAMPAIGN)
    for name in list(differing(tx, events)):
        tx.safe.put_note(name, canonical.dump(_FOLDED[name](events)))

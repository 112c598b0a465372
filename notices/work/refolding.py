"""Fold every case anew, where the register was written by a program that folded otherwise."""

from notices.cases.folding import fold
from notices.work.noted import renew
from notices.work.ports import Transaction
from notices.work.recording import refresh

_UNIT = "unit:"
_AT_ONCE = 1000


def refold(tx: Transaction) -> None:
    """Write each unit's case, what is due for it, and the campaign's notes from their events alone."""
    renew(tx)
    cases = []
    for events in tx.events.streams(_UNIT):
        cases.append(fold(events[0].stream.removeprefix(_UNIT), events))
        if len(cases) == _AT_ONCE:
            refresh(tx, cases)
            cases = []
    refresh(tx, cases)

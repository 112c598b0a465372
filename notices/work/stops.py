"""Why a run ends before its time: nothing ends in silence, and nothing is hammered."""

from collections.abc import Iterable
from dataclasses import dataclass

from notices.cases.outgoing import Outcome
from notices.cases.retries import is_address_fault, said
from notices.work.crew import is_line_fault

ALL_OUT = "everything that was due has gone out"

# Postings that are refused stay refused. Where the server refuses one after another for a reason that lies with the
# sender, the run stops before the whole outbox is spent on it.
_REFUSALS = 10
_LINE_FAULTS = 5


@dataclass(frozen=True, kw_only=True, slots=True)
class Stop:
    """Why a run ended: *sort* is done, halted, way-out, refusals, lost or fault; *temporary* where waiting helps."""

    sort: str
    why: str
    temporary: bool = False


class StopError(Exception):
    """Ends a run from within."""

    def __init__(self, stop: Stop) -> None:
        """Carry why."""
        self.stop = stop
        super().__init__(stop.why)


class Watch:
    """Counts what happens in a row, over all connections."""

    def __init__(self) -> None:
        """Begin with nothing seen."""
        self._refused = 0
        self._lost = 0

    def look_at(self, outcomes: Iterable[Outcome]) -> Stop | None:
        """Return why the run stops where these outcomes, after those before, mean that nothing more can go."""
        stops = [self._count(outcome) for outcome in outcomes]
        return next((stop for stop in stops if stop is not None), None)

    def _count(self, outcome: Outcome) -> Stop | None:
        by_sender = outcome.result == "refused" and not is_address_fault(outcome)
        self._refused = self._refused + 1 if by_sender else 0
        self._lost = self._lost + 1 if is_line_fault(outcome) else 0
        if outcome.result == "stop":
            return Stop(sort="way-out", why=said(outcome))
        if self._refused >= _REFUSALS:
            why = f"{_REFUSALS} messages in a row were refused, and not for their addresses: {said(outcome)}"
            return Stop(sort="refusals", why=why)
        if self._lost >= _LINE_FAULTS:
            why = f"the connection was lost {_LINE_FAULTS} times in a row: {said(outcome)}"
            return Stop(sort="lost", why=why, temporary=True)
        return None

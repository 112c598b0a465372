"""The demo's clock and its appointments: time goes on because the story says so."""

import heapq
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from itertools import count


class Clock:
    """A clock that stands still until it is set or moved on; it never goes back."""

    def __init__(self, moment: datetime) -> None:
        self._moment = moment.astimezone(UTC)

    def now(self) -> datetime:
        """Return the moment of the story, in UTC."""
        return self._moment

    def at(self, moment: datetime) -> None:
        """Go on to *moment*; stay where that has passed."""
        self._moment = max(self._moment, moment.astimezone(UTC))

    def advance(self, seconds: float) -> None:
        """Go on by some seconds: what a waiting sender calls its sleep."""
        self._moment += timedelta(seconds=seconds)


class Agenda:
    """What people mean to do, and when; done in the order of the moments, then of the entries."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._entries: list[tuple[datetime, int, Callable[[], None]]] = []
        self._order = count()

    def add(self, moment: datetime, act: Callable[[], None]) -> None:
        """Enter what somebody does at *moment*."""
        heapq.heappush(self._entries, (moment.astimezone(UTC), next(self._order), act))

    def until(self, moment: datetime) -> None:
        """Let everything happen that is entered up to *moment*, and what it enters in its turn; then it is *moment*."""
        while self._entries and self._entries[0][0] <= moment:
            due, _, act = heapq.heappop(self._entries)
            self._clock.at(due)
            act()
        self._clock.at(moment)

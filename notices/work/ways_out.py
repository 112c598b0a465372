"""What the sender needs of a way out: the lead's mail server or a folder, one connection a thread."""

from typing import Protocol

from notices.cases.outgoing import Outcome, Parcel


class Line(Protocol):
    """One open connection of a way out; one thread's own."""

    def hand_over(self, parcel: Parcel) -> Outcome:
        """Hand one message over; world faults come back as an outcome, never as an exception."""

    def close(self) -> None:
        """End the connection; its own faults mean nothing for what was handed over."""


class WayOut(Protocol):
    """Where messages go: the lead's mail server, or a folder."""

    def open(self) -> Line:
        """Open one connection; raise WayOutError with a sentence where that cannot be."""

    def has(self, message_id: str) -> bool | None:
        """Say whether this message is known to have arrived; None where the way out cannot tell."""

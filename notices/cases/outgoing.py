"""What goes out and what became of it: the words between the sender and its ways out."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class Parcel:
    """One message on its way out: envelope and bytes with CRLF line ends."""

    message_id: str
    sender: str
    recipient: str
    data: bytes


@dataclass(frozen=True, kw_only=True, slots=True)
class Outcome:
    """What became of one try.

    *result* is handed_over, refused, later, in_doubt or stop (nothing of this run can go, as with a wrong
    password). *code* is the SMTP reply code, *enhanced* the RFC 3463 status.
    """

    result: str
    code: int | None = None
    enhanced: str | None = None
    reply: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Pace:
    """How fast a run may go: as the lead wrote it, and the seconds between two messages (0: at once)."""

    text: str
    gap: float


class WayOutError(Exception):
    """The way out cannot be used at all; the text says what to do.

    *temporary* where it may go through later as it is, so that trying again hammers nobody.
    """

    def __init__(self, text: str, *, temporary: bool = False) -> None:
        """Keep the sentence and whether waiting may help."""
        self.temporary = temporary
        super().__init__(text)


class RegisterError(Exception):
    """The register cannot be used; the text says what to do."""

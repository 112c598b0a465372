"""Copies of what was sent: a Maildir (a Sent folder, a journal mailbox) or a folder of message files, read by heads."""

from collections.abc import Iterable, Iterator
from datetime import UTC, datetime
from email import policy
from email.parser import BytesHeaderParser
from email.utils import parsedate_to_datetime
from pathlib import Path

from notices.cases.outgoing import WayOutError

# Where messages lie in a Maildir; what is in tmp has not arrived (https://cr.yp.to/proto/maildir.html).
_ARRIVED = ("cur", "new")
_LONGEST_HEAD = 1 << 18
_READ = BytesHeaderParser(policy=policy.compat32)


def seen(maildirs: Iterable[Path], folders: Iterable[Path]) -> dict[str, datetime | None]:
    """Return the Message-IDs found, each with the moment of its Date field where there is one (RFC 5322, 3.6).

    A Maildir may hold others below it. Raises WayOutError for a place that is none or cannot be read; a message
    that cannot be read is passed over: what is not found stays in doubt.
    """
    found: dict[str, datetime | None] = {}
    for place in maildirs:
        _look(_in_maildir(place), found)
    for place in folders:
        _look(_in_folder(place), found)
    return found


def _in_maildir(place: Path) -> Iterator[Path]:
    boxes = [place, *(one for one in _below(place) if one.is_dir() and one.name not in {*_ARRIVED, "tmp"})]
    arrived = [box / name for box in boxes for name in _ARRIVED if (box / name).is_dir()]
    if not arrived:
        raise WayOutError(f"{place} is no Maildir: it holds no folder called cur or new")
    for folder in arrived:
        yield from (one for one in _below(folder) if one.is_file())


def _in_folder(place: Path) -> Iterator[Path]:
    return (one for one in _below(place) if one.suffix == ".eml" and not one.name.startswith("."))


def _below(place: Path) -> list[Path]:
    try:
        return sorted(place.iterdir())
    except OSError as fault:
        raise WayOutError(
            f"{place} cannot be looked into ({fault.strerror}); give the folder where copies of what was sent lie"
        ) from fault


def _look(files: Iterable[Path], found: dict[str, datetime | None]) -> None:
    for file in files:
        try:
            with file.open("rb") as opened:
                head = opened.read(_LONGEST_HEAD)
        except OSError:
            continue
        fields = _READ.parsebytes(head)
        message_id = "".join(str(fields.get("Message-ID") or "").split())
        if message_id:
            found[message_id] = _moment(str(fields.get("Date") or "")) or found.get(message_id)


def _moment(text: str) -> datetime | None:
    try:
        moment = parsedate_to_datetime(text)
    except (ValueError, TypeError, IndexError):
        return None
    return moment.replace(tzinfo=UTC) if moment.tzinfo is None else moment

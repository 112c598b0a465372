"""Campaigns, events and owners for tests: valid by default, one difference a test."""

from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path

from notices.campaign.loading import load
from notices.campaign.models import Campaign
from notices.cases.case import Case
from notices.cases.events import Event, NewEvent, chained, unit_stream
from notices.cases.folding import fold

DEMO_FOLDER = Path(__file__).parent.parent / "notices" / "demo" / "folder"
UNIT = "0000000A"
OWNER = "OWNER00000000000000000000A"
DAY = datetime(2026, 3, 3, 9, 0, tzinfo=UTC)


def a_campaign(revision: int = 1, **changes: object) -> Campaign:
    """Return the demo's campaign at a revision, with top-level parts changed."""
    loaded = load((DEMO_FOLDER / f"campaign-{revision}.yaml").read_text(encoding="utf-8"))
    assert loaded.campaign is not None, loaded.findings

    return loaded.campaign.model_copy(update=changes)


def an_event(
    kind: str,
    payload: Mapping[str, object] | None = None,
    *,
    at: datetime = DAY,
    via: str = "page",
    seq: int = 1,
) -> Event:
    """Return one event of the unit under test."""
    new = NewEvent(stream=unit_stream(UNIT), kind=kind, at=at, actor="owner", via=via, payload=payload or {})
    return chained(new, seq=seq, recorded_at=at, before="")


def a_case(*happened: tuple[str, Mapping[str, object]] | str, listed: bool = True) -> Case:
    """Return the case of a unit that was listed, judged affected, and then had what *happened*."""
    story: list[tuple[str, Mapping[str, object]]] = []
    if listed:
        story.append(("unit_listed", {"keeper": OWNER, "source": "sales", "row": 2}))
        story.append(("verdict_given", _VERDICT))
    story += [(one, {}) if isinstance(one, str) else one for one in happened]
    return fold(UNIT, [_told(kind, payload, n) for n, (kind, payload) in enumerate(story, 1)])


def _told(kind: str, payload: Mapping[str, object], seq: int) -> Event:
    """Return an event as it comes: verdicts by a signature, everything else from a page."""
    return an_event(kind, payload, seq=seq, via="command" if kind == "verdict_given" else "page")


_VERDICT = {"verdict": "affected", "why": "", "near": False, "rule": "line-b", "revision": 1}
NOTICE = (
    "notice_handed_over",
    {
        "posting": "P1",
        "owner": OWNER,
        "kind": "first",
        "channel": "email",
        "occasion": "first",
        "fingerprint": "f",
        "said": "s",
        "revision": 1,
    },
)
STOPPED = ("stop_stated", {"stopped": True, "signs": True})
PRESSED = ("stop_stated", {"stopped": True, "signs": False})
IN_USE = ("stop_stated", {"stopped": False, "signs": True})


def used(segment: str) -> tuple[str, Mapping[str, object]]:
    """Return what an owner with the signs says of the use."""
    return ("use_stated", {"segment": segment, "signs": True})

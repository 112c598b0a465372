"""Overrule a finding: a named person's word, with a reason, that a judgement about words or law is wrong here.

The events of the campaign's stream say so. What stands lies in one note, written with them. An overruling is bound to
its finding and to what its passage says: where either changes, the finding holds back again.
"""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from audiences import canonical
from audiences.findings import Finding, Severity
from notices.campaign.needs import NEVER_OVERRULED_CODES, lacking
from notices.campaign.overruling import JUDGEMENTS, Overruling, bound, may_be_overruled, with_overrulings
from notices.campaign.revisions import Revision
from notices.cases import ids
from notices.cases.events import CAMPAIGN, Event, NewEvent
from notices.cases.records import TextRow
from notices.work.ports import Transaction, World
from notices.work.recording import record
from notices.work.revisions import CAMPAIGN_FILE, Draft, draft

NOTE = "overrulings"


class OverrulingError(ValueError):
    """A finding cannot be overruled as asked; the text says why."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Place:
    """Where a finding is: *where* its path, or file and line with a colon; *language* that of a translation.

    *says* are words of its message, which tell it from others at the same place.
    """

    code: str
    where: str
    language: str = ""
    says: str = ""


def overrulings(tx: Transaction) -> dict[str, Overruling]:
    """Return the overrulings that stand, by what each is bound to."""
    words = _words(tx)
    texts = tx.papers.texts([word["text"] for word in words.values()])
    return {
        key: Overruling(
            bound=key, by=word["by"], reason=text.body if (text := texts.get(word["text"])) else ""
        )
        for key, word in words.items()
    }


def folded(events: Iterable[Event]) -> dict[str, Mapping[str, str]]:
    """Return who overruled what, as the events of the campaign's stream have it, without what was taken back."""
    words: dict[str, Mapping[str, str]] = {}
    for event in events:
        key = str(event.payload.get("bound", ""))
        if event.kind == "finding_overruled":
            words[key] = {"by": event.actor, "text": str(event.payload.get("text", ""))}
        elif event.kind == "overruling_taken_back":
            words.pop(key, None)
    return words


def _words(tx: Transaction) -> dict[str, Mapping[str, str]]:
    noted = tx.safe.note(NOTE)
    return json.loads(noted) if noted else {}


def weighed_up(world: World, drafted: Draft, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings of the draft, those overruled marked so; where none can be, the register is not opened."""
    found = tuple(findings)
    if drafted.revision is None or not any(map(may_be_overruled, found)):
        return found
    with world.register.look() as tx:
        return with_overrulings(found, drafted.revision, overrulings(tx))


def overrule(world: World, place: Place, *, by: str, reason: str) -> tuple[Finding, ...]:
    """Record that a finding of the draft holds nothing back, and why; return the findings that are overruled by it.

    OverrulingError where no such finding must be mended, where it is no judgement, or name or reason is empty.
    """
    revision, found = _at(world, place, by, reason)
    with world.register.change() as tx:
        text_id = _put_text(tx, world, reason)
        for one in found:
            key = bound(one, revision)
            payload = {"code": one.code, "file": one.file, "path": one.path, "bound": key, "text": text_id}
            _record(tx, world, "finding_overruled", by, payload)
        return with_overrulings(found, revision, overrulings(tx))


def take_back(world: World, place: Place, *, by: str, reason: str) -> tuple[Finding, ...]:
    """Record that an overruling no longer stands, and why; return the findings that hold back again.

    OverrulingError where none stands there, or name or reason is empty.
    """
    revision, found = _at(world, place, by, reason)
    with world.register.change() as tx:
        words = _words(tx)
        standing = [one for one in found if bound(one, revision) in words]
        if not standing:
            raise OverrulingError(f"nobody has overruled [{place.code}] at {place.where}")
        text_id = _put_text(tx, world, reason)
        for one in standing:
            payload = {"bound": bound(one, revision), "text": text_id}
            _record(tx, world, "overruling_taken_back", by, payload)
    return tuple(standing)


def _at(world: World, place: Place, by: str, reason: str) -> tuple[Revision, tuple[Finding, ...]]:
    """Return the draft and its findings at a place that a person may overrule, as if nobody had yet."""
    if not by.strip() or not reason.strip():
        raise OverrulingError("a finding is overruled with a name and a reason: --by NAME --reason TEXT")
    if place.code in NEVER_OVERRULED_CODES:
        raise OverrulingError(f"[{place.code}] is never overruled: without hazard and stop it is no warning")
    if place.code not in JUDGEMENTS:
        raise OverrulingError(f"[{place.code}] is no judgement about words or law, so no reason mends it")
    drafted = draft(world)
    if drafted.revision is None:
        raise OverrulingError(f"{CAMPAIGN_FILE} cannot be read as it is; see notices check")
    every = {*drafted.findings, *lacking(drafted.revision.campaign, "proofs", drafted.lines)}
    of_code = [one for one in every if one.code == place.code and may_be_overruled(one)]
    source = place.language in {"", drafted.revision.campaign.language}
    file = CAMPAIGN_FILE if source else f"translations/{place.language}.po"
    found = [
        one
        for one in of_code
        if place.where == f"{one.file}:{one.line}" or (one.path == place.where and one.file == file)
    ]
    if not found:
        there = ", ".join(sorted(f"{one.file}:{one.line} {one.path}" for one in of_code)) or "nowhere"
        raise OverrulingError(f"[{place.code}] must not be mended at {place.where}; it must at: {there}")
    meant = [one for one in found if place.says in one.message]
    if len(meant) != 1:  # one reason is given for one finding
        there = "; ".join(sorted(one.message for one in found))
        raise OverrulingError(f"say which is meant, by words of it, with --says: {there}")
    return drafted.revision, tuple(meant)


def _put_text(tx: Transaction, world: World, reason: str) -> str:
    text_id = ids.long_id(world.draw)
    tx.papers.put_text(TextRow(text_id=text_id, owner_id=None, body=reason.strip()))
    return text_id


def _record(tx: Transaction, world: World, kind: str, by: str, payload: Mapping[str, object]) -> None:
    now = world.now()
    event = NewEvent(stream=CAMPAIGN, kind=kind, at=now, actor=by.strip(), via="command", payload=payload)
    record(tx, [event], now=now)
    tx.safe.put_note(NOTE, canonical.dump(folded(tx.events.stream(CAMPAIGN))))


def carried(findings: Iterable[Finding], revision: Revision) -> str:
    """Return what a signature carries of the findings that were overruled: which, where, and what each is bound to."""
    found = {one for one in findings if one.severity is Severity.OVERRULED}
    return "; ".join(sorted(f"{one.file} {one.path} [{one.code}] {bound(one, revision)}" for one in found))

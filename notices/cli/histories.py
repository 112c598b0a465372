"""One unit's history in plain text."""

from collections.abc import Iterator
from datetime import datetime, tzinfo

from notices.work.counting import column_of
from notices.work.photos import file_of
from notices.work.seeking import History, Part

# Keys of an event that name a row of the register, not a fact.
_SILENT = frozenset({"text", "posting", "owner", "keeper", "fingerprint", "said", "evidence"})

_PHOTOS = frozenset({"photo", "photos"})

# Invisible signs that keep two directions apart in a mail (Unicode 6.3); a terminal would show them spelled out.
_ISOLATES = dict.fromkeys(range(0x2066, 0x206A))


def history(found: History) -> str:
    """Return what is known of a unit, who holds it, what happened and what was told, line by line."""
    return "\n".join([*_standing(found), *_holders(found), *_happened(found), *_told(found)])


def _standing(found: History) -> Iterator[str]:
    case, unit = found.row.case, found.unit
    yield f"Unit {unit.unit_id}, code {unit.code or 'not known'}"
    sold = [
        f"on {unit.sold_on.isoformat()}" if unit.sold_on else "",
        f"in {unit.sold_in}" if unit.sold_in else "",
    ]
    if any(sold):
        yield "  sold " + " ".join(part for part in sold if part)
    verdict = case.verdict or "not judged"
    yield f"  {verdict}{f' ({case.why})' if case.why else ''}, use {case.segment}, {case.stopped}".replace(
        "_", " "
    )
    stage = column_of(case).replace("_", " ")
    yield f"  {stage}" + (f", ended as {case.ending}".replace("_", " ") if case.ending else "")
    due = found.row.due
    if due:
        yield f"  due {due.on.isoformat()}: {due.step} by {due.channel}, {due.why}"


def _holders(found: History) -> Iterator[str]:
    yield "  Held by" if found.parts else "  Nobody is known to hold it"
    yield from (line for part in found.parts for line in _holder(part))
    if found.refund_to:
        yield f"    a refund goes to {found.refund_to.name}, who paid"


def _holder(part: Part) -> Iterator[str]:
    where = f", {part.owner.country}" if part.owner.country else ""
    yield f"    {part.role} {part.owner.name}{where}, writes {part.owner.language}"
    for contact in part.contacts:
        fault = f" (not usable: {contact.fault})" if contact.fault else ""
        yield f"      {contact.channel} {' / '.join(contact.value.splitlines())}{fault}"


def _happened(found: History) -> Iterator[str]:
    yield "  What happened"
    for event in found.events:
        told = [(key, value) for key, value in event.payload.items() if _tells(key, value)]
        details = ", ".join(_detail(key, value) for key, value in told if str(value) not in found.texts)
        line = f"    {_moment(event.at, found.zone)} {event.kind.replace('_', ' ')} by {event.actor}, {event.via}"
        yield f"{line}: {details}" if details else line
        for key in ("text", "why"):
            text = found.texts.get(str(event.payload.get(key)))
            if text:
                yield f"      “{' / '.join(text.splitlines())}”"


def _tells(key: str, value: object) -> bool:
    """Say whether a detail tells a person something: digests and ids do not."""
    return key not in _SILENT and value is not None and value != ""


def _detail(key: str, value: object) -> str:
    if key in _PHOTOS and not isinstance(value, bool):  # hearing says only whether there was one
        return "photo " + ", ".join(
            file_of(str(each)) for each in (value if isinstance(value, list) else [value])
        )
    said = {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)
    return f"{key.replace('_', ' ')} {said}"


def _told(found: History) -> Iterator[str]:
    if found.told:
        yield "  What its owners were told"
    for one in found.told:
        moment = _moment(one.at, found.zone) if one.at else "not gone"
        yield f"    {moment} {one.kind} for {one.occasion}: {one.state.value.replace('_', ' ')}"
        words = found.words.get(one.posting_id, "").translate(_ISOLATES)
        yield from (f"      | {line}".rstrip() for line in words.splitlines())


def _moment(moment: datetime, zone: tzinfo) -> str:
    return moment.astimezone(zone).strftime("%Y-%m-%d %H:%M")

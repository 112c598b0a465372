"""One unit's history in plain text."""

from collections.abc import Iterator

from notices.work.counting import column_of
from notices.work.seeking import History, Part


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


def _holder(part: Part) -> Iterator[str]:
    where = f", {part.owner.country}" if part.owner.country else ""
    yield f"    {part.role} {part.owner.name}{where}, writes {part.owner.language}"
    for contact in part.contacts:
        fault = f" (not usable: {contact.fault})" if contact.fault else ""
        yield f"      {contact.channel} {' / '.join(contact.value.splitlines())}{fault}"


def _happened(found: History) -> Iterator[str]:
    yield "  What happened"
    for event in found.events:
        details = ", ".join(
            f"{key} {value}"
            for key, value in event.payload.items()
            if key != "text" and value not in {"", None}
        )
        moment = event.at.isoformat(timespec="minutes")
        yield f"    {moment} {event.kind.replace('_', ' ')} by {event.actor}, {event.via}" + (
            f": {details}" if details else ""
        )
        text = found.texts.get(str(event.payload.get("text")))
        if text:
            yield f"      “{' / '.join(text.splitlines())}”"


def _told(found: History) -> Iterator[str]:
    if found.told:
        yield "  What its owners were told"
    for one in found.told:
        moment = one.at.isoformat(timespec="minutes") if one.at else "not gone"
        yield f"    {moment} {one.kind} for {one.occasion}: {one.state.value.replace('_', ' ')}"

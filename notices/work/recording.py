"""Write what happened: the events, the cases they make and what is due, all in the caller's transaction."""

from collections.abc import Iterable, Sequence
from datetime import datetime

from notices.campaign.models import Campaign
from notices.cases.case import Case
from notices.cases.due import CaseRow
from notices.cases.events import Event, NewEvent
from notices.cases.folding import step
from notices.cases.follow_ups import Next, following
from notices.work.ports import Transaction
from notices.work.revisions import signed
from notices.work.units import usable

_UNIT = "unit:"


def record(tx: Transaction, events: Sequence[NewEvent], *, now: datetime) -> list[Event]:
    """Append *events* and bring each touched unit's case up to date; return those that were not there already."""
    stored = tx.events.append(events, recorded_at=now)
    touched: dict[str, list[Event]] = {}
    for event in stored:
        if event.stream.startswith(_UNIT):
            touched.setdefault(event.stream.removeprefix(_UNIT), []).append(event)
    before = tx.cases.get(list(touched))
    after = [_after(before.get(unit_id), unit_id, news) for unit_id, news in touched.items()]
    refresh(tx, after)
    return stored


def _after(row: CaseRow | None, unit_id: str, news: Iterable[Event]) -> Case:
    case = row.case if row else Case(unit_id=unit_id)
    for event in news:
        case = step(case, event)
    return case


def refresh(tx: Transaction, cases: Sequence[Case]) -> None:
    """Write *cases* with what is due for each under the last signed revision."""
    if not cases:
        return
    held = signed(tx)
    tx.cases.put(with_due(tx, cases, held.campaign if held else None))


def with_due(
    tx: Transaction, cases: Sequence[Case], campaign: Campaign | None, *, of: Next = following
) -> list[CaseRow]:
    """Return the rows of *cases*, each with its next step (*of*); nothing is due before the first signature."""
    if campaign is None:
        return [CaseRow(case=case) for case in cases]
    keepers = sorted({case.keeper_id for case in cases if case.keeper_id})
    contacts = tx.people.contacts(keepers)
    return [
        CaseRow(case=case, due=of(case, campaign, usable(contacts.get(case.keeper_id or "", []))))
        for case in cases
    ]

"""The projection: a case and what is due for it as one row, derived from the events and written anew at will."""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import fields, replace
from datetime import date
from operator import attrgetter
from typing import Any, get_type_hints

from sqlalchemy import Connection

from audiences import canonical
from audiences.segments import Segment
from notices.cases.case import Case, Stage, Stopped, Whereabouts
from notices.cases.due import Agenda, CaseRow, Due, Step
from notices.store import tables
from notices.store.rows import among, ask, fetch, questions, walk, write

_HINTS = get_type_hints(Case)
_OWN = tuple(field.name for field in fields(Case) if field.name in tables.cases.columns)
# What the fold remembers beyond the columns, so that a case that learns a field asks for no new column.
_REMEMBERED = tuple(field.name for field in fields(Case) if field.name not in _OWN)
_DAYS = frozenset(name for name in _REMEMBERED if _HINTS[name] == date | None)
_MANY = frozenset(name for name in _REMEMBERED if _HINTS[name] == tuple[str, ...])
_own_values = attrgetter(*_OWN)
_remembered_values = attrgetter(*_REMEMBERED)
_DUE = {"due_on": "on", "due_step": "step", "due_channel": "channel", "due_why": "why"}
_NOTHING_DUE = dict.fromkeys(_DUE)
_ALIKE = """
    SELECT stopped, stage, segment, ending, verdict, whereabouts, CASE WHEN keeper_id IS NULL THEN 0 ELSE 1 END,
      COUNT(*)
    FROM cases GROUP BY 1, 2, 3, 4, 5, 6, 7
"""
# What a person must do first has no column of its own. In canonical JSON no text can hold this: its quotes are escaped.
_NOBODY_MUST_CALL = '%"urgent_on":null%'
_AGENDA = """
    SELECT cases.unit_id, due_step, due_channel, due_on, due_why, owners.name, contacts.value,
      CASE WHEN memory LIKE ? THEN 1 ELSE 0 END AS waits
    FROM cases
    LEFT JOIN owners ON owners.owner_id = cases.keeper_id
    LEFT JOIN contacts ON contacts.owner_id = cases.keeper_id AND contacts.fault IS NULL
      AND contacts.channel = CASE due_channel WHEN 'text' THEN 'phone' ELSE due_channel END
    WHERE due_on <= ?
    ORDER BY waits, due_on, cases.unit_id, contacts.value_key
"""
_LATER = "SELECT COUNT(*), MIN(due_on) FROM cases WHERE due_on > ?"


class CaseTable:
    """The cases of one register, within one transaction."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def get(self, unit_ids: Sequence[str]) -> dict[str, CaseRow]:
        """Return the rows of these units."""
        found = {}
        for asked in questions(unit_ids):
            tail = f"WHERE {among('unit_id', asked)} ORDER BY unit_id"
            for row in fetch(self._connection, tables.cases, tail, asked):
                found[row["unit_id"]] = _read(row)
        return found

    def put(self, rows: Iterable[CaseRow]) -> None:
        """Write or replace rows."""
        write(self._connection, tables.cases, map(_row, rows))

    def alike(self) -> list[tuple[Case, int]]:
        """Return one case for all that count alike, bare but for what they are counted by, and how many they are."""
        return [
            (
                Case(
                    unit_id="",
                    verdict=verdict,
                    ending=ending,
                    whereabouts=Whereabouts(whereabouts),
                    keeper_id="" if kept else None,
                    segment=Segment(segment),
                    stage=Stage[stage.upper()],
                    stopped=Stopped(stopped),
                ),
                number,
            )
            for stopped, stage, segment, ending, verdict, whereabouts, kept, number in ask(
                self._connection, _ALIKE
            )
        ]

    def agenda(self, until: date) -> Agenda:
        """Return what is due by the day *until*, a call where a person must call first, then by day and unit."""
        steps: list[Step] = []
        day = until.isoformat()
        for row in ask(self._connection, _AGENDA, (_NOBODY_MUST_CALL, day)):
            unit_id, step, channel, on, why, owner, value, _ = row
            if steps and steps[-1].unit_id == unit_id:
                steps[-1] = replace(steps[-1], to=(*steps[-1].to, value))
                continue
            steps.append(
                Step(
                    unit_id=unit_id,
                    step=step,
                    channel=channel,
                    on=date.fromisoformat(on),
                    why=why,
                    owner=owner or "",
                    to=() if value is None else (value,),
                )
            )
        ((later, next_on),) = ask(self._connection, _LATER, (day,))
        return Agenda(
            steps=tuple(steps), later=later, next_on=date.fromisoformat(next_on) if next_on else None
        )

    def all(self) -> Iterator[CaseRow]:
        """Yield every row, ordered by unit_id."""
        return map(_read, walk(self._connection, tables.cases, ("unit_id",)))


def _row(row: CaseRow) -> dict[str, object]:
    case, due = row.case, row.due
    memory = dict(zip(_REMEMBERED, _remembered_values(case), strict=True))
    for name in _DAYS:
        if memory[name] is not None:
            memory[name] = memory[name].isoformat()
    return {
        **dict(zip(_OWN, _own_values(case), strict=True)),
        "stage": case.stage.key,
        **({name: getattr(due, field) for name, field in _DUE.items()} if due else _NOTHING_DUE),
        "memory": canonical.dump(memory),
    }


def _read(row: Mapping[str, Any]) -> CaseRow:
    memory = json.loads(row["memory"])
    known = {name: memory[name] for name in _REMEMBERED if name in memory}
    for name in _DAYS & known.keys():
        if known[name] is not None:
            known[name] = date.fromisoformat(known[name])
    for name in _MANY & known.keys():
        known[name] = tuple(known[name])
    own = {name: row[name] for name in _OWN}
    own["whereabouts"] = Whereabouts(own["whereabouts"])
    own["stopped"] = Stopped(own["stopped"])
    own["segment"] = Segment(own["segment"])
    own["stage"] = Stage[own["stage"].upper()]
    due = Due(**{field: row[name] for name, field in _DUE.items()}) if row["due_on"] is not None else None
    return CaseRow(case=Case(**own, **known), due=due)

"""The projection: a case and what is due for it as one row, derived from the events and written anew at will."""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import fields, replace
from datetime import date
from typing import Any, get_type_hints

from sqlalchemy import Connection

from audiences import canonical
from audiences.segments import Segment
from notices.cases.case import Case, Stage, Stopped, Whereabouts
from notices.cases.due import Agenda, CaseRow, Due, Step
from notices.store import tables
from notices.store.rows import among, ask, fetch, questions, walk, write

_OWN_COLUMN = {column.name for column in tables.cases.columns}
# What the fold remembers beyond the columns, so that a case that learns a field asks for no new column.
_REMEMBERED = {
    field.name: get_type_hints(Case)[field.name] for field in fields(Case) if field.name not in _OWN_COLUMN
}
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
    own = {name: getattr(case, name) for name in _OWN_COLUMN if name in Case.__dataclass_fields__}
    return {
        **own,
        "stage": case.stage.key,
        "due_on": due.on if due else None,
        "due_step": due.step if due else None,
        "due_channel": due.channel if due else None,
        "due_why": due.why if due else None,
        "memory": canonical.dump({name: _plain(getattr(case, name)) for name in _REMEMBERED}),
    }


def _plain(value: object) -> object:
    return value.isoformat() if isinstance(value, date) else value


def _read(row: Mapping[Any, Any]) -> CaseRow:
    own = {name: row[name] for name in _OWN_COLUMN if name in Case.__dataclass_fields__}
    memory = json.loads(row["memory"])
    case = Case(
        **{
            **own,
            "whereabouts": Whereabouts(row["whereabouts"]),
            "stopped": Stopped(row["stopped"]),
            "segment": Segment(row["segment"]),
            "stage": Stage[row["stage"].upper()],
            **{
                name: _typed(_REMEMBERED[name], value)
                for name, value in memory.items()
                if name in _REMEMBERED
            },
        }
    )
    if row["due_on"] is None:
        return CaseRow(case=case)
    due = Due(step=row["due_step"], channel=row["due_channel"], on=row["due_on"], why=row["due_why"])
    return CaseRow(case=case, due=due)


def _typed(hint: object, value: object) -> object:
    if isinstance(value, str) and hint == date | None:
        return date.fromisoformat(value)
    return tuple(value) if isinstance(value, list) else value

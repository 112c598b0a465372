"""The fastest bare way known of doing each thing, with nothing of ours but its input."""

import csv
import hashlib
import io
import json
import re
import sqlite3
from binascii import b2a_qp
from collections.abc import Mapping, Sequence
from contextlib import closing
from dataclasses import dataclass
from datetime import date, datetime
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP
from html import escape
from pathlib import Path
from typing import Any

import email_validator
import mjml
import phonenumbers
import psycopg
from jinja2 import Environment, Template

_PLACE = re.compile(r"\[\[ (plain\.)?([a-z_]+) \]\]")


@dataclass(frozen=True, kw_only=True, slots=True)
class OwnValues:
    """What differs between owners, ready to be put in: as HTML and as plain text."""

    rich: Mapping[str, Any]
    plain: Mapping[str, str]


def second_template(source: str, *, escapes: bool) -> Template:
    """Parse a template that is filled once an owner."""
    environment = Environment(
        block_start_string="[%",
        block_end_string="%]",
        variable_start_string="[[",
        variable_end_string="]]",
        comment_start_string="[#",
        comment_end_string="#]",
        autoescape=escapes,  # noqa: S701 - off for plain text alone
        keep_trailing_newline=True,
        trim_blocks=True,
    )
    return environment.from_string(source)


def mail_for_one(mjml_source: str, text: str, own: OwnValues) -> tuple[str, str]:
    """Put one owner's values into MJML and text, and compile the MJML."""

    def rich(match: re.Match[str]) -> str:
        return escape(own.plain[match[2]]) if match[1] else str(own.rich[match[2]])

    html = mjml.mjml2html(_PLACE.sub(rich, mjml_source), disable_comments=True, fonts={})
    return str(html), _PLACE.sub(lambda match: own.plain[match[2]], text)


@dataclass(frozen=True, kw_only=True, slots=True)
class Templates:
    """One variant's four templates, parsed."""

    html: Template
    html_units: Template
    text: Template
    text_units: Template

    def fill(self, own: OwnValues, markup: type[str]) -> tuple[str, str]:
        """Return the HTML and the text of one owner's mail, by Jinja alone."""
        block = markup(self.html_units.render(own.rich, plain=own.plain))
        html = self.html.render(own.rich, plain=own.plain, units=block)
        text = self.text.render(own.plain, units=self.text_units.render(own.plain))
        return html, text


def quoted(text: str) -> bytes:
    """Encode a text as quoted-printable."""
    return b2a_qp(text.encode(), istext=True).replace(b"\n", b"\r\n")


@dataclass(frozen=True, kw_only=True, slots=True)
class Content:
    """What a message holds, put together already."""

    subject: str
    sender: Address
    reply_to: str
    to: Address
    language: str
    text: str
    html: str
    pictures: Sequence[tuple[str, bytes]]


def email_message(content: Content, *, date: datetime, message_id: str) -> bytes:
    """Write a message with the standard library."""
    message = EmailMessage(policy=SMTP)
    message["Date"] = date
    message["From"] = content.sender
    message["Reply-To"] = content.reply_to
    message["To"] = content.to
    message["Subject"] = content.subject
    message["Message-ID"] = message_id
    message["Content-Language"] = content.language
    message.set_content(content.text, cte="quoted-printable")
    message.add_alternative(content.html, subtype="html", cte="base64")
    rich = message.get_payload()[1]  # type: ignore[index]  # an alternative has parts
    for cid, data in content.pictures:
        rich.add_related(data, "image", "png", cid=cid, disposition="inline")  # type: ignore[union-attr]  # the same
    return message.as_bytes()


@dataclass(frozen=True, slots=True)
class ReadRow:
    """One row of a list, its contact points normalised by the libraries."""

    cells: list[str]
    points: tuple[tuple[str, str], ...]


def read_list(data: bytes) -> list[ReadRow]:
    """Read a list with csv, email-validator and phonenumbers, column by column."""
    rows = csv.reader(io.StringIO(data.decode(), newline=""))
    next(rows)
    found = []
    for cells in rows:
        checked = email_validator.validate_email(cells[2], check_deliverability=False)
        number = phonenumbers.parse(cells[3], cells[4])
        assert phonenumbers.is_possible_number(number)
        assert phonenumbers.is_valid_number(number)
        spelt = phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.E164)
        date.fromisoformat(cells[7])
        address = checked.ascii_email or checked.normalized
        found.append(ReadRow(cells, (("email", address), ("phone", spelt))))
    return found


Rows = dict[str, list[tuple[Any, ...]]]


def rows_of(path: Path, tables: Sequence[str]) -> Rows:
    """Return the rows of these tables, in the order of their keys."""
    with closing(sqlite3.connect(path)) as connection:
        return {name: connection.execute(f"SELECT * FROM {name} ORDER BY 1, 2").fetchall() for name in tables}  # noqa: S608 - names of ours


@dataclass(frozen=True, slots=True)
class Told:
    """What has to be spelt of one event: what its hash is made of, and its payload."""

    before: str
    fields: dict[str, Any]


def spelt(raws: Sequence[dict[str, str]], told: Sequence[Told]) -> tuple[list[str], list[tuple[str, str]]]:
    """Spell the rows of a list and the payloads of its events as JSON, and hash the events, by the bare libraries."""
    dump = json.JSONEncoder(ensure_ascii=False, sort_keys=True, separators=(",", ":")).encode
    return (
        [dump(raw) for raw in raws],
        [
            (dump(one.fields["payload"]), hashlib.sha256(dump([one.before, one.fields]).encode()).hexdigest())
            for one in told
        ],
    )


def write_rows(path: Path, rows: Rows) -> None:
    """Write these rows in one durable transaction, by the bare driver."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("BEGIN IMMEDIATE")
        for name, some in rows.items():
            marks = ", ".join("?" * len(some[0]))
            connection.executemany(f"INSERT INTO {name} VALUES ({marks})", some)  # noqa: S608 - names of ours
        connection.execute("COMMIT")


@dataclass(frozen=True, kw_only=True, slots=True)
class Recorded:
    """Events of one kind and the cases they made, as they lie in a register."""

    events: list[tuple[Any, ...]]
    cases: list[tuple[Any, ...]]


def _connected(address: str) -> Any:  # noqa: ANN401 - a connection of either driver
    if not address.startswith("postgresql"):
        connection = sqlite3.connect(address, isolation_level=None)
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA foreign_keys = ON")
        return connection
    server, _, schema = address.partition("?schema=")
    return psycopg.connect(
        server, autocommit=True, options=f"-c search_path={schema} -c synchronous_commit=on"
    )


def recorded(address: str, kind: str) -> Recorded:
    """Return the events of a kind and the cases of their units."""
    with closing(_connected(address)) as connection:
        events = connection.execute(f"SELECT * FROM events WHERE kind = '{kind}' ORDER BY stream").fetchall()  # noqa: S608 - names of ours
        cases = connection.execute("SELECT * FROM cases ORDER BY unit_id").fetchall()
    return Recorded(events=events, cases=cases)


def record_one_by_one(address: str, rows: Recorded) -> None:
    """Write each event and its case in a durable transaction of their own."""
    with closing(_connected(address)) as connection:
        sqlite = isinstance(connection, sqlite3.Connection)
        mark, begin = ("?", "BEGIN IMMEDIATE") if sqlite else ("%s", "BEGIN")
        names = _CASE.split(", ")
        anew = ", ".join(f"{name} = excluded.{name}" for name in names[1:])
        event = f"INSERT INTO events VALUES ({', '.join([mark] * 11)}) ON CONFLICT (once) DO NOTHING"  # noqa: S608 - the same
        case = (
            f"INSERT INTO cases ({_CASE}) VALUES ({', '.join([mark] * len(names))}) "  # noqa: S608 - the same
            f"ON CONFLICT (unit_id) DO UPDATE SET {anew}"
        )
        for of_event, of_case in zip(rows.events, rows.cases, strict=True):
            connection.execute(begin)
            connection.execute(event, of_event)
            connection.execute(case, of_case)
            connection.execute("COMMIT")


_CASE = (
    "unit_id, version, keeper_id, whereabouts, stopped, verdict, why, judged_by, segment, stage, ending, live, "
    "due_on, due_step, due_channel, due_why, memory"
)
_ALIKE = """
    SELECT stopped, stage, segment, ending, verdict, whereabouts, keeper_id IS NULL, COUNT(*)
    FROM cases GROUP BY 1, 2, 3, 4, 5, 6, 7
"""
_AWAY = frozenset({"in_stock", "refunded", "replaced", "destroyed"})
_OUT = frozenset({"unreachable", "refused_by_owner", "stolen_or_lost"})
_DUE = """
    SELECT cases.unit_id, due_step, due_channel, due_on, due_why, owners.name, contacts.value
    FROM cases
    LEFT JOIN owners ON owners.owner_id = cases.keeper_id
    LEFT JOIN contacts ON contacts.owner_id = cases.keeper_id AND contacts.fault IS NULL
      AND contacts.channel = CASE due_channel WHEN 'text' THEN 'phone' ELSE due_channel END
    WHERE due_on <= ?
    ORDER BY json_extract(memory, '$.urgent_on') IS NULL, due_on, cases.unit_id, contacts.value_key
"""


def count_cases(file: str) -> tuple[dict[str, int], dict[str, int]]:
    """Count the cells of the grid by bare SQL, and the figures beside it: places, stopped and the rest."""
    grid: dict[str, int] = {}
    figures: dict[str, int] = {}
    with closing(sqlite3.connect(file)) as connection:
        for stopped, stage, segment, ending, verdict, whereabouts, nobody, count in connection.execute(
            _ALIKE
        ):
            if verdict == "foreign" or ending == "listed_twice":
                place = "nowhere"
            elif ending in _AWAY or whereabouts != "owner":
                place = "put_away"
            elif verdict == "cleared" or ending == "cleared":
                place = "cleared"
            else:
                place = "owner_unknown" if nobody else "in_hands"
            figures[place] = figures.get(place, 0) + count
            if ending is not None:
                figures[f"ended {ending}"] = figures.get(f"ended {ending}", 0) + count
            if place == "in_hands":
                figures[stopped] = figures.get(stopped, 0) + count
                fixed = ending == "fixed" or stage in {"confirmed", "closed"}
                cell = f"{segment} {'ended' if ending in _OUT else 'fixed' if fixed else stage}"
                grid[cell] = grid.get(cell, 0) + count
    figures.pop("nowhere", None)
    return grid, figures


def due_list(file: str, today: str) -> tuple[list[tuple[Any, ...]], tuple[int, str | None]]:
    """Return what is due by bare SQL, the addresses of each step together, and what is due later."""
    with closing(sqlite3.connect(file)) as connection:
        found: dict[str, list[Any]] = {}
        for *step, value in connection.execute(_DUE, (today,)):
            found.setdefault(step[0], [*step, ()])[-1] += (value,) if value else ()
        later = connection.execute("SELECT COUNT(*), MIN(due_on) FROM cases WHERE due_on > ?", (today,))
        return [tuple(step) for step in found.values()], later.fetchone()

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


def mjml_for_one(source: str, own: OwnValues) -> str:
    """Put one owner's values into MJML and compile it."""

    def value(match: re.Match[str]) -> str:
        return escape(own.plain[match[2]]) if match[1] else str(own.rich[match[2]])

    return str(mjml.mjml2html(_PLACE.sub(value, source), disable_comments=True, fonts={}))


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

"""Which column of a list means what: guessed from its headings, remembered as TOML, and read by."""

import json
import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from audiences.encodings import ENCODINGS
from audiences.findings import Finding
from audiences.forms import NO_FORM, SEPARATORS, Form
from audiences.headings import MEANINGS, meaning_of
from audiences.owners import ListedRow
from audiences.rows import RowReader
from audiences.tables import Table
from audiences.whereabouts import uncertain

__all__ = ["MEANINGS", "Columns", "from_toml", "guess", "read_rows", "to_toml"]

_JOINED = frozenset({"name", "address"})  # several columns make one value
_FIRST_OF_SEVERAL = frozenset({"email", "phone"})  # the first usable one is taken
_IGNORED = "ignored"
# How a list is written: what is remembered, and what it may be; a sheet may have any name.
_FORM: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {"encoding": tuple(ENCODINGS), "separator": tuple(name for name, _ in SEPARATORS), "sheet": ()}
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Columns:
    """The headings behind each meaning, in the order in which they are read, and the headings nobody reads.

    *form* is how the list was written when the columns were chosen.
    """

    by_meaning: Mapping[str, tuple[str, ...]]
    ignored: tuple[str, ...] = ()
    form: Form = NO_FORM


def guess(headings: Sequence[str]) -> Columns:
    """Return what English, German and Arabic headings most likely mean; a person confirms it.

    A street comes before its town whatever their order in the list, a given name before the family name.
    """
    found: dict[str, list[tuple[int, int, str, str]]] = {}
    for column, heading in enumerate(headings):
        entry = meaning_of(heading)
        if entry:
            meaning, part, rank = entry
            found.setdefault(meaning, []).append((rank, column, part, heading))
    by_meaning = {
        meaning: _chosen(meaning, [(part, heading) for _, _, part, heading in sorted(found[meaning])])
        for meaning in MEANINGS
        if meaning in found
    }
    read = {heading for chosen in by_meaning.values() for heading in chosen}
    ignored = tuple(heading for heading in headings if heading not in read)
    return Columns(by_meaning=MappingProxyType(by_meaning), ignored=ignored)


def _chosen(meaning: str, ranked: Sequence[tuple[str, str]]) -> tuple[str, ...]:
    if meaning == "name":
        return _name_columns(ranked)
    if meaning in _JOINED | _FIRST_OF_SEVERAL:
        return tuple(heading for _, heading in ranked)
    return (ranked[0][1],)


def _name_columns(ranked: Sequence[tuple[str, str]]) -> tuple[str, ...]:
    """Return company, then given and family name, or one column that holds the whole name."""
    first: dict[str, str] = {}
    for part, heading in ranked:
        first.setdefault(part, heading)
    parts = ("company", "given", "family") if "family" in first else ("company", "full", "given")
    return tuple(first[part] for part in parts if part in first)


def to_toml(columns: Columns) -> str:
    """Return *columns* as the text of the remembered file, which `from_toml` reads back."""
    kept = [(meaning, columns.by_meaning.get(meaning, ())) for meaning in MEANINGS]
    lines = [f"{meaning} = {_array(headings)}" for meaning, headings in kept if headings]
    head = "# Which headings of the list mean what. Several are read in this order.\n"
    text = head + "".join(f"{line}\n" for line in [*lines, f"{_IGNORED} = {_array(columns.ignored)}"])
    told = [f"{name} = {_quoted(value)}\n" for name in _FORM if (value := getattr(columns.form, name))]
    return text + "".join(
        ["# How the list is written. What a newer file says of itself goes first.\n", *told] if told else []
    )


def _array(headings: Iterable[str]) -> str:
    return f"[{', '.join(_quoted(heading) for heading in headings)}]"


def _quoted(text: str) -> str:
    # A JSON string is a TOML basic string but for DEL, which TOML wants escaped.
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007F")


def from_toml(text: str, file: str) -> tuple[Columns | None, tuple[Finding, ...]]:
    """Read the remembered columns; None and the reasons where any of them cannot be read."""
    try:
        remembered = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        place = re.search(r"line (\d+)", str(error))
        return None, (
            Finding(
                code="columns-not-toml",
                file=file,
                line=int(place[1]) if place else None,
                message="the remembered columns cannot be read as TOML",
                mend='write each line as: meaning = ["heading", "heading"]',
            ),
        )
    findings = tuple(_faults(remembered, text, file))
    if findings:
        return None, findings
    read = {meaning: _headings(value) for meaning, value in remembered.items() if meaning not in _FORM}
    ignored = read.pop(_IGNORED, ())
    by_meaning = {meaning: read[meaning] for meaning in MEANINGS if read.get(meaning)}
    form = Form(**{name: value for name in _FORM if isinstance(value := remembered.get(name), str)})
    return Columns(by_meaning=MappingProxyType(by_meaning), ignored=ignored, form=form), ()


def _headings(value: object) -> tuple[str, ...]:
    """Return one heading or several, as long as all of them are texts."""
    if isinstance(value, str):
        return (value,)
    return tuple(item for item in value if isinstance(item, str)) if isinstance(value, list) else ()


def _faults(remembered: Mapping[str, object], text: str, file: str) -> Iterator[Finding]:
    taken: dict[str, str] = {}
    for meaning, value in remembered.items():
        line = _line_of(meaning, text)
        if meaning in _FORM:
            yield from _form_faults(meaning, value, file, line)
            continue
        headings = _headings(value)
        if meaning not in (*MEANINGS, _IGNORED):
            yield Finding(
                code="columns-meaning-unknown",
                file=file,
                line=line,
                path=meaning,
                message="a column cannot mean this",
                mend=f"choose one of: {', '.join(MEANINGS)}",
            )
        elif not isinstance(value, str) and (not isinstance(value, list) or len(headings) != len(value)):
            yield Finding(
                code="columns-wrong-form",
                file=file,
                line=line,
                path=meaning,
                message="this is no list of headings",
                mend='write ["heading"], or several between the brackets',
            )
        for heading in headings:
            if taken.setdefault(heading, meaning) != meaning:
                yield Finding(
                    code="columns-heading-twice",
                    file=file,
                    line=line,
                    path=meaning,
                    message=f"the heading “{heading}” already means {taken[heading]}",
                    mend="leave it at one meaning",
                )


def _form_faults(name: str, value: object, file: str, line: int | None) -> Iterator[Finding]:
    allowed = _FORM[name]
    if not isinstance(value, str) or (allowed and value not in allowed):
        yield Finding(
            code="columns-form-unknown",
            file=file,
            line=line,
            path=name,
            message="a list cannot be written so" if allowed else "this is no name of a sheet",
            mend=f"choose one of: {', '.join(allowed)}" if allowed else 'write sheet = "its name"',
        )


def _line_of(key: str, text: str) -> int | None:
    pattern = re.compile(rf"""\s*\[{{0,2}}["']?{re.escape(key)}["']?\s*(?:=|\.|\])""")
    return next((number for number, line in enumerate(text.split("\n"), 1) if pattern.match(line)), None)


def read_rows(
    table: Table, columns: Columns, *, default_country: str | None
) -> tuple[tuple[ListedRow, ...], tuple[Finding, ...]]:
    """Return the rows of *table* as listed owners and units, and what is wrong with any of them.

    A row stays when only a day, a country or a contact point is wrong: it is listed, with a finding. A country
    that the list does not give is *default_country* (ISO 3166-1 alpha-2).
    """
    findings = list(_missing(table, columns))
    reader = RowReader(table=table, by_meaning=columns.by_meaning, default_country=default_country)
    rows = [row for cells in table.rows if (row := reader.read(cells, findings)) is not None]
    return tuple(rows), (*findings, *reader.end(), *uncertain(rows, table.file))


def _missing(table: Table, columns: Columns) -> Iterator[Finding]:
    for meaning, headings in columns.by_meaning.items():
        for heading in headings:
            if heading not in table.headings:
                yield Finding(
                    code="column-missing",
                    file=table.file,
                    line=table.heading_line,
                    path=heading,
                    message=f"the list has no such column; {meaning} is read from it",
                    mend="give the column its old heading again, or choose the columns anew",
                )

"""What stands in a YAML file, with the line of every key (YAML 1.2.2, core schema, section 10.3.2)."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentEndEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)

from audiences.findings import Finding
from notices.campaign import plain
from notices.campaign.syntax import shown, syntax_finding, unprintable

_DEEPEST = 20  # our own parts nest six deep
_LARGEST = 2_000_000  # signs; a campaign is a few thousand


@dataclass(frozen=True, kw_only=True, slots=True)
class Document:
    """A file as plain values: mappings, tuples, texts, whole numbers, days, true and false.

    *lines* and *written* give the line, and for unquoted values the very signs, by path (``a.b[2].c``); a key
    with nothing after it is left out of *value*.
    """

    value: object
    lines: Mapping[str, int]
    written: Mapping[str, str]
    findings: tuple[Finding, ...]


@dataclass(kw_only=True, slots=True)
class _Reading:
    """What has been gathered so far of one file."""

    file: str
    events: Iterator[Any]
    lines: dict[str, int] = field(default_factory=dict)
    written: dict[str, str] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)


class _TooDeepError(Exception):
    """Raised where parts are nested beyond any use; carries the line."""


def read(text: str, file: str) -> Document:
    """Read one YAML document; faults are findings, all that can be seen at once."""
    findings = list(unprintable(text, file))
    if len(text) > _LARGEST:
        findings = [
            Finding(
                code="campaign-too-large",
                file=file,
                message=f"the file has {len(text)} signs; a campaign has at most {_LARGEST}",
                mend="keep pictures and lists in files of their own",
            )
        ]
    if findings:
        return Document(value={}, lines={}, written={}, findings=tuple(findings))
    reading = _Reading(file=file, events=YAML(typ="safe", pure=True).parse(text))
    value: object = {}
    try:
        value = _document(reading)
    except _TooDeepError as fault:
        reading.findings.append(
            Finding(
                code="yaml-too-deep",
                file=file,
                line=fault.args[0],
                message=f"more than {_DEEPEST} parts are nested in each other here",
                mend="close the brackets, or set the part back to the left",
            )
        )
    except MarkedYAMLError as fault:
        reading.findings.append(syntax_finding(fault, text, file))
    except ValueError:  # ruamel hands chr() the number of "\U00110000" as it stands
        reading.findings.append(
            Finding(
                code="yaml-escape",
                file=file,
                message="a \\U escape names a sign that does not exist",
                mend="write the sign itself",
            )
        )
    return Document(
        value=value, lines=reading.lines, written=reading.written, findings=tuple(reading.findings)
    )


def _document(reading: _Reading) -> object:
    """Read the first document; say so where another one follows."""
    value: object = {}
    documents = 0
    for event in reading.events:
        if isinstance(event, MappingStartEvent | SequenceStartEvent | ScalarEvent | AliasEvent):
            documents += 1
            if documents > 1:
                reading.findings.append(
                    Finding(
                        code="yaml-documents",
                        file=reading.file,
                        line=event.start_mark.line + 1,
                        message="a second document begins before this line; the file holds one campaign",
                        mend="take out the line ---",
                    )
                )
                return value
            value = _node(reading, event, "", 0) or {}
        elif isinstance(event, DocumentEndEvent):
            continue
    return value


def _node(reading: _Reading, event: Any, path: str, depth: int) -> object:  # noqa: ANN401 # ruamel's events share no useful type
    if depth > _DEEPEST:
        raise _TooDeepError(event.start_mark.line + 1)
    line = event.start_mark.line + 1
    if isinstance(event, AliasEvent) or event.anchor is not None:
        reading.findings.append(
            Finding(
                code="yaml-anchor",
                file=reading.file,
                line=line,
                path=path,
                message="& and * make one part stand for another; what a notice says is written out",
                mend="write the text out, or put it in quotes if it begins with & or *",
            )
        )
    if isinstance(event, AliasEvent):
        return None
    if getattr(event, "tag", None) not in {None, "!"}:
        reading.findings.append(
            Finding(
                code="yaml-tag",
                file=reading.file,
                line=line,
                path=path,
                message="a word with ! before a value asks for a type; types are not chosen in this file",
                mend="take the ! and its word out, or put the text in quotes",
            )
        )
    if isinstance(event, MappingStartEvent):
        return _mapping(reading, path, depth)
    if isinstance(event, SequenceStartEvent):
        return _sequence(reading, path, depth)
    return _scalar(reading, event, path, line)


def _mapping(reading: _Reading, path: str, depth: int) -> dict[str, object]:
    found: dict[str, object] = {}
    seen: dict[str, int] = {}
    while not isinstance(event := next(reading.events), MappingEndEvent):
        line = event.start_mark.line + 1
        key = _key(reading, event, path, depth)
        if key is None:
            _node(reading, next(reading.events), f"{path}.?".lstrip("."), depth + 1)
            continue
        inner = f"{path}.{key}" if path else key
        if key in seen:
            _duplicate(reading, inner, line, seen[key])
            _node(reading, next(reading.events), f"{inner}?", depth + 1)
            continue
        seen[key] = line
        reading.lines[inner] = line
        value = _node(reading, next(reading.events), inner, depth + 1)
        if value is not None:
            found[key] = value
    return found


def _duplicate(reading: _Reading, path: str, line: int, first: int) -> None:
    reading.findings.append(
        Finding(
            code="yaml-key-twice",
            file=reading.file,
            line=line,
            path=path,
            message=f"this key stands on line {first} already",
            mend="keep one of the two",
        )
    )


def _key(reading: _Reading, event: Any, path: str, depth: int) -> str | None:  # noqa: ANN401 # as above
    """Return a key that is a text, else None with a finding; YAML would also take a list, a number or a day."""
    line = event.start_mark.line + 1
    value = _node(reading, event, f"{path}.?".lstrip("."), depth + 1)
    if isinstance(value, str) and value.isprintable() and value:
        return value
    what = shown(event.value) if isinstance(event, ScalarEvent) else "what stands before the colon"
    reading.findings.append(
        Finding(
            code="yaml-key-form",
            file=reading.file,
            line=line,
            path=path,
            message=f"{what} is no key: a key is a word",
            mend="put it in quotes if it is meant as a word",
        )
    )
    return None


def _sequence(reading: _Reading, path: str, depth: int) -> tuple[object, ...]:
    found: list[object] = []
    while not isinstance(event := next(reading.events), SequenceEndEvent):
        inner = f"{path}[{len(found)}]"
        reading.lines[inner] = event.start_mark.line + 1
        before = len(reading.findings)
        value = _node(reading, event, inner, depth + 1)
        if value is None and len(reading.findings) == before:
            reading.findings.append(
                Finding(
                    code="yaml-item-empty",
                    file=reading.file,
                    line=reading.lines[inner],
                    path=inner,
                    message="nothing stands here in the list",
                    mend="write the text, or take the dash or comma out",
                )
            )
        found.append(value)
    return tuple(found)


def _scalar(reading: _Reading, event: Any, path: str, line: int) -> object:  # noqa: ANN401 # as above
    raw: str = event.value
    if not event.implicit[0]:  # quoted, a block, or tagged: a text as it stands
        return raw
    reading.written[path] = raw
    value = plain.meant(raw)
    if plain.is_impossible_day(raw):
        reading.findings.append(
            Finding(
                code="day-impossible",
                file=reading.file,
                line=line,
                path=path,
                message=f"the calendar has no day {raw}",
                mend="write a day that exists, as 2026-03-31",
            )
        )
    if plain.loses_zero(raw):
        reading.findings.append(
            Finding(
                code="number-zero-first",
                file=reading.file,
                line=line,
                path=path,
                message=f"{raw} needs quotes: YAML reads it as the number {value}",
                mend=f'write "{raw}"',
            )
        )
    return value

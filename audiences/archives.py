"""Whether a workbook's archive may be opened: what it inflates to is counted before anything else reads it.

The archive is laid out as APPNOTE.TXT (ZIP) says, its sheets as ECMA-376 part 1, 18.3 says.
"""

import html
import io
import re
import zipfile
import zlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from posixpath import normpath

LARGEST_INFLATED = 256 << 20  # bytes; about 300,000 rows
MOST_CELLS = 20_000_000  # the reader lays a sheet out whole, empty cells too
_MOST_MEMBERS = 2_000
_CHUNK = 1 << 16
_STEP = 1 << 20
_LOCAL_HEADER = 30
_TAG = rb"<(?:\w+:)?"
_SHEET = re.compile(_TAG + rb"sheet\s([^>]*)>")
_RELATION = re.compile(_TAG + rb"Relationship\s([^>]*)>")
_ATTRIBUTE = re.compile(rb"([\w:]+)\s*=\s*[\"']([^\"'<>]*)")
# a cell that is not closed at once: one that has only a format holds nothing, and programs write them by the million
_FILLED = re.compile(_TAG + rb"c(?:\s[^>]*)?(?<!/)>")
_PLACE = re.compile(rb"\br=[\"']([A-Za-z]{1,9})(\d{1,9})")
_COLUMNS = re.compile(_TAG + rb"c\s[^>]*?\br=[\"']([A-Za-z]{1,9})")
_ROWS = re.compile(rb"\sr=[\"'][A-Za-z]*(\d{1,9})")
_HIDDEN = re.compile(_TAG + rb"row\s[^>]*?\bhidden=[\"'](?:1|true)[\"'][^>]*>")
_RECKONED = re.compile(rb"[<:]f[\s/>]|\bt=[\"']e[\"']")
# a cell that says it holds an error, and a formula that nobody has reckoned
_VALUELESS = re.compile(
    _TAG
    + rb"c\s(?=[^>]*\bt=[\"']e[\"'])[^>]*>|"
    + _TAG
    + rb"c\s[^>/]*>\s*"
    + _TAG
    + rb"f\b(?:[^>]*/>|[^>]*>[^<]*</(?:\w+:)?f>)\s*(?:"
    + _TAG
    + rb"v\s*/>|"
    + _TAG
    + rb"v></(?:\w+:)?v>)?\s*</(?:\w+:)?c>"
)


class ArchiveFaultError(Exception):
    """Raised with the stable reason why an archive is not opened: ``too-large``, ``corrupt`` or ``encrypted``."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SheetMarks:
    """What the reader does not tell of a sheet: the numbers of its hidden rows, and of rows with a valueless cell."""

    hidden: tuple[int, ...] = ()
    valueless: tuple[int, ...] = ()


def looked_through(data: bytes, *, most: int = LARGEST_INFLATED) -> Mapping[str, SheetMarks]:
    """Count what the archive inflates to, and return the marks of each sheet by its name; {} where it is no XLSX.

    ArchiveFaultError where it holds more than *most* bytes, more cells than a list can have, is damaged or encrypted.
    """
    parts: dict[str, bytes] = {}
    marks: dict[str, SheetMarks] = {}
    for name, body in _members(data, most):
        if name in {"xl/workbook.xml", "xl/_rels/workbook.xml.rels"}:
            parts[name] = body
        elif name.startswith("xl/worksheets/"):
            marks[name] = _marks(body)
        elif name == "META-INF/manifest.xml" and b"encryption-data" in body:
            raise ArchiveFaultError("encrypted")
    return {sheet: marks[part] for sheet, part in _sheets(parts).items() if part in marks}


def _members(data: bytes, most: int) -> Iterator[tuple[str, bytes]]:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            members = archive.infolist()
    except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError, UnicodeError) as fault:
        raise ArchiveFaultError("corrupt") from fault
    if len(members) > _MOST_MEMBERS or sum(member.file_size for member in members) > most:
        raise ArchiveFaultError("too-large")
    left = most
    for member in members:
        if member.flag_bits & 1:
            raise ArchiveFaultError("encrypted")
        body = _inflated(data, member, left)
        left -= len(body)
        yield member.filename, body


def _inflated(data: bytes, member: zipfile.ZipInfo, most: int) -> bytes:
    """Return a member's bytes as they really inflate, whatever size the archive declares."""
    head = data[member.header_offset : member.header_offset + _LOCAL_HEADER]
    if len(head) < _LOCAL_HEADER or not head.startswith(b"PK\x03\x04"):
        raise ArchiveFaultError("corrupt")
    start = member.header_offset + _LOCAL_HEADER
    start += int.from_bytes(head[26:28], "little") + int.from_bytes(head[28:30], "little")
    packed = memoryview(data)[start : start + member.compress_size]
    if member.compress_type == zipfile.ZIP_STORED:
        found = bytes(packed)
    elif member.compress_type == zipfile.ZIP_DEFLATED:
        found = _deflated(packed, most)
    else:
        raise ArchiveFaultError("corrupt")
    if len(found) > most:
        raise ArchiveFaultError("too-large")
    if len(found) != member.file_size:
        raise ArchiveFaultError("corrupt")
    return found


def _deflated(packed: memoryview, most: int) -> bytes:
    inflate = zlib.decompressobj(-zlib.MAX_WBITS)
    found = bytearray()
    try:
        for start in range(0, len(packed), _CHUNK):
            waiting: bytes | memoryview = packed[start : start + _CHUNK]
            while waiting and not inflate.eof:
                found += inflate.decompress(waiting, _STEP)
                waiting = inflate.unconsumed_tail
                if len(found) > most:
                    raise ArchiveFaultError("too-large")
    except zlib.error as fault:
        raise ArchiveFaultError("corrupt") from fault
    if not inflate.eof:
        raise ArchiveFaultError("corrupt")
    return bytes(found)


def _marks(sheet: bytes) -> SheetMarks:
    if _span(_COLUMNS.findall(sheet), _ROWS.findall(sheet)) > MOST_CELLS and _filled(sheet) > MOST_CELLS:
        raise ArchiveFaultError("too-large")
    return SheetMarks(
        hidden=_rows_with(_HIDDEN, sheet) if b"hidden" in sheet else (),
        valueless=_rows_with(_VALUELESS, sheet) if _RECKONED.search(sheet) else (),
    )


def _span(columns: Iterable[bytes], rows: Iterable[bytes]) -> int:
    """Return how many cells lie between the first and the last of these columns and rows."""
    return max(map(_column, set(columns)), default=1) * max(map(int, set(rows)), default=1)


def _filled(sheet: bytes) -> int:
    """Return how many cells those span that hold something; all that may be where one does not say its place."""
    places = {place.groups() if place else None for place in map(_place, _FILLED.finditer(sheet))}
    if None in places:
        return MOST_CELLS + 1
    found = [place for place in places if place]
    return _span((column for column, _ in found), (row for _, row in found))


def _place(cell: re.Match[bytes]) -> re.Match[bytes] | None:
    return _PLACE.search(cell[0])


def _rows_with(what: re.Pattern[bytes], sheet: bytes) -> tuple[int, ...]:
    return tuple(sorted({_row_of(found[0]) for found in what.finditer(sheet)}))


def _column(letters: bytes) -> int:
    """Return the number of a column by its letters: A 1, Z 26, AA 27."""
    number = 0
    for letter in letters.upper():
        number = number * 26 + letter - 64
    return number


def _row_of(tag: bytes) -> int:
    found = _ROWS.search(tag)
    return int(found[1]) if found else 0


def _sheets(parts: Mapping[str, bytes]) -> Mapping[str, str]:
    """Return the part of each sheet by its name."""
    relations = map(_attributes, _RELATION.findall(parts.get("xl/_rels/workbook.xml.rels", b"")))
    target = {each.get("Id", ""): each.get("Target", "") for each in relations}
    found = {}
    for sheet in map(_attributes, _SHEET.findall(parts.get("xl/workbook.xml", b""))):
        place = target.get(next((sheet[key] for key in sheet if key.endswith(":id")), ""), "")
        found[sheet.get("name", "")] = normpath(place.lstrip("/") if place.startswith("/") else f"xl/{place}")
    return found


def _attributes(tag: bytes) -> dict[str, str]:
    return {
        key.decode("utf-8", "replace"): html.unescape(value.decode("utf-8", "replace"))
        for key, value in _ATTRIBUTE.findall(tag)
    }

"""Workbooks made by hand, as ECMA-376, OpenDocument 1.3 and MS-XLS lay them out, the hostile ones too."""

import io
import struct
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from xml.sax.saxutils import escape, quoteattr

_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006/relationships"
_EPOCH = date(1899, 12, 30)  # day 0 of the 1900 date system, as programs reckon from March 1900 on


@dataclass(frozen=True, kw_only=True, slots=True)
class Formula:
    """A formula with the value a spreadsheet program left beside it, None where none did, or its error."""

    text: str
    value: str | None = None
    error: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Moment:
    """A moment or a time of day: days since 1899-12-30, the fraction being the time."""

    days: float


Value = str | float | bool | date | Formula | Moment | None


def letters(column: int) -> str:
    """Return the letters of a column, counted from 0."""
    found = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        found = chr(65 + rest) + found
    return found


def sheet_xml(
    rows: Sequence[Sequence[Value]], *, hidden: Iterable[int] = (), merged: Iterable[str] = ()
) -> str:
    """Return a worksheet; *hidden* rows are counted from 1, *merged* are ranges such as A1:C1."""
    unseen = set(hidden)
    body = "".join(
        f'<row r="{number}" hidden="{int(number in unseen)}">'
        + "".join(_cell(f"{letters(column)}{number}", value) for column, value in enumerate(row))
        + "</row>"
        for number, row in enumerate(rows, start=1)
        if row
    )
    ranges = "".join(f'<mergeCell ref="{each}"/>' for each in merged)
    tail = f"<mergeCells>{ranges}</mergeCells>" if ranges else ""
    return f'<worksheet xmlns="{_MAIN}"><sheetData>{body}</sheetData>{tail}</worksheet>'


def _cell(place: str, value: Value) -> str:
    if isinstance(value, Formula):
        return _formula(place, value)
    if isinstance(value, bool):
        return f'<c r="{place}" t="b"><v>{int(value)}</v></c>'
    if isinstance(value, date | Moment):
        days = value.days if isinstance(value, Moment) else (value - _EPOCH).days
        return f'<c r="{place}" s="1"><v>{days}</v></c>'
    if isinstance(value, str):
        return f'<c r="{place}" t="inlineStr"><is><t xml:space="preserve">{escape(value)}</t></is></c>'
    return "" if value is None else f'<c r="{place}"><v>{value!r}</v></c>'


def _formula(place: str, formula: Formula) -> str:
    if formula.error:
        return f'<c r="{place}" t="e"><f>{escape(formula.text)}</f><v>{formula.error}</v></c>'
    kept = "" if formula.value is None else f"<v>{escape(formula.value)}</v>"
    return f'<c r="{place}" t="str"><f>{escape(formula.text)}</f>{kept}</c>'


def xlsx(
    sheets: Mapping[str, str], *, hidden: Iterable[str] = (), more: Mapping[str, bytes] | None = None
) -> bytes:
    """Return a workbook of worksheets by their names; *more* are further members of the archive."""
    names, unseen = list(sheets), set(hidden)
    state = {name: "hidden" if name in unseen else "visible" for name in names}
    listed = "".join(
        f'<sheet name={quoteattr(name)} sheetId="{number}" state="{state[name]}" r:id="r{number}"/>'
        for number, name in enumerate(names, start=1)
    )
    related = "".join(
        f'<Relationship Id="r{number}" Type="{_OFFICE}/worksheet" Target="worksheets/sheet{number}.xml"/>'
        for number in range(1, len(names) + 1)
    )
    styles = (
        f'<styleSheet xmlns="{_MAIN}"><numFmts count="1"><numFmt numFmtId="164" formatCode="dd\\.mm\\.yyyy"/></numFmts>'
        '<cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="164" applyNumberFormat="1"/></cellXfs></styleSheet>'
    )
    related += f'<Relationship Id="styles" Type="{_OFFICE}/styles" Target="styles.xml"/>'
    members = {
        "[Content_Types].xml": (
            b'<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
            b'<Default Extension="xml" ContentType="application/xml"/></Types>'
        ),
        "_rels/.rels": (
            f'<Relationships xmlns="{_PACKAGE}"><Relationship Id="r1" Type="{_OFFICE}/officeDocument"'
            ' Target="xl/workbook.xml"/></Relationships>'
        ).encode(),
        "xl/workbook.xml": (
            f'<workbook xmlns="{_MAIN}" xmlns:r="{_OFFICE}"><sheets>{listed}</sheets></workbook>'
        ).encode(),
        "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{_PACKAGE}">{related}</Relationships>'.encode(),
        "xl/styles.xml": styles.encode(),
        **{
            f"xl/worksheets/sheet{number}.xml": sheets[name].encode()
            for number, name in enumerate(names, start=1)
        },
        **(more or {}),
    }
    return zipped(members)


def zipped(members: Mapping[str, bytes]) -> bytes:
    """Return a deflated archive."""
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, body in members.items():
            archive.writestr(name, body)
    return made.getvalue()


def ods(rows: Sequence[Sequence[Value]], *, raw: str = "", more: Mapping[str, bytes] | None = None) -> bytes:
    """Return an OpenDocument spreadsheet with one sheet; *raw* are rows as XML below the others."""
    space = "urn:oasis:names:tc:opendocument:xmlns"
    body = "".join(f"<table:table-row>{''.join(map(_ods_cell, row))}</table:table-row>" for row in rows)
    content = (
        f'<office:document-content xmlns:office="{space}:office:1.0" xmlns:table="{space}:table:1.0"'
        f' xmlns:text="{space}:text:1.0" office:version="1.3"><office:body><office:spreadsheet>'
        f'<table:table table:name="Sales">{body}{raw}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    kind = b"application/vnd.oasis.opendocument.spreadsheet"
    manifest = (
        f'<manifest:manifest xmlns:manifest="{space}:manifest:1.0" manifest:version="1.3"><manifest:file-entry'
        f' manifest:full-path="/" manifest:media-type="{kind.decode()}"/></manifest:manifest>'
    ).encode()
    members = {"mimetype": kind, "content.xml": content.encode(), "META-INF/manifest.xml": manifest}
    return zipped({**members, **(more or {})})


def _ods_cell(value: Value) -> str:
    if isinstance(value, date):
        return f'<table:table-cell office:value-type="date" office:date-value="{value.isoformat()}"/>'
    if isinstance(value, int | float):
        return f'<table:table-cell office:value-type="float" office:value="{value!r}"/>'
    if isinstance(value, str):
        return f'<table:table-cell office:value-type="string"><text:p>{escape(value)}</text:p></table:table-cell>'
    return "<table:table-cell/>"


def xls(rows: Sequence[Sequence[Value]]) -> bytes:
    """Return a workbook of the years before 2007 with one sheet (MS-XLS, BIFF8, in a compound file)."""
    cells = b"".join(
        biff_cell(row, column, value)
        for row, values in enumerate(rows)
        for column, value in enumerate(values)
    )
    end = _record(0x000A, b"")
    begin = _record(0x0809, struct.pack("<HHHHII", 0x0600, 0x0005, 0, 0, 0, 6))
    length = len(begin) + 4 + 6 + 2 + len("Sales") + len(end)
    sheet = _record(0x0085, struct.pack("<IHBB", length, 0, len("Sales"), 0) + b"Sales")
    globals_ = begin + sheet + end
    body = _record(0x0809, struct.pack("<HHHHII", 0x0600, 0x0010, 0, 0, 0, 6)) + cells + end
    return compound({"Workbook": globals_ + body})


def _record(kind: int, body: bytes) -> bytes:
    return struct.pack("<HH", kind, len(body)) + body


def biff_cell(row: int, column: int, value: Value) -> bytes:
    """Return the record of one cell (MS-XLS, 2.4.148 and 2.4.180)."""
    place = struct.pack("<HHH", row, column, 0)
    if isinstance(value, str):
        return _record(0x0204, place + struct.pack("<HB", len(value), 1) + value.encode("utf-16-le"))
    if isinstance(value, int | float):
        return _record(0x0203, place + struct.pack("<d", value))
    return b""


def compound(streams: Mapping[str, bytes]) -> bytes:
    """Return a compound file (MS-CFB) with one or more streams of at least 4096 bytes each, padded to that."""
    free, end, fat_sector = 0xFFFFFFFF, 0xFFFFFFFE, 0xFFFFFFFD
    fat = [fat_sector, end]  # sector 0 holds the table, sector 1 the directory
    sectors = b""
    entries = [_entry("Root Entry", 5, end, 0, child=1)]
    for number, (name, body) in enumerate(streams.items(), start=1):
        padded = body + bytes(max(4096, -(-len(body) // 512) * 512) - len(body))
        start, count = len(fat), len(padded) // 512
        fat += [*range(start + 1, start + count), end]
        sectors += padded
        right = number + 1 if number < len(streams) else free
        entries.append(_entry(name, 2, start, len(padded), right=right))
    entries += [bytes(128)] * (4 - len(entries))
    table = struct.pack("<128I", *fat, *[free] * (128 - len(fat)))
    header = (
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
        + bytes(16)
        + struct.pack("<HHHHH", 0x3E, 3, 0xFFFE, 9, 6)
        + bytes(6)
        + struct.pack("<IIIIIIIII", 0, 1, 1, 0, 4096, end, 0, end, 0)
        + struct.pack("<109I", 0, *[free] * 108)
    )
    return header + table + b"".join(entries[:4]) + sectors


def _entry(
    name: str, kind: int, start: int, size: int, *, child: int = 0xFFFFFFFF, right: int = 0xFFFFFFFF
) -> bytes:
    text = name.encode("utf-16-le") + b"\0\0"
    return (
        text.ljust(64, b"\0")
        + struct.pack("<HBB", len(text), kind, 1)
        + struct.pack("<III", 0xFFFFFFFF, right, child)
        + bytes(36)
        + struct.pack("<IQ", start, size)
    )

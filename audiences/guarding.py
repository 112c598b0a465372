"""Text in cells that a spreadsheet program opens: nothing there runs as a formula, and our reader gets the text back.

Which signs begin a formula: OWASP, "CSV Injection" (from memory), the full-width ones with them.
"""

import csv
import io
import re
from collections.abc import Iterable, Sequence

Cell = str | int
"""What stands in a cell: text, or a whole number to be counted with."""

# A text whose first sign, apostrophes aside, begins a formula.
_FORMULA = re.compile("('*)[=+\\-@\t\r\n＝＋－＠]")  # noqa: RUF001 - the full-width ones begin a formula too

_UNWRITABLE = re.compile("[\0\ud800-\udfff\ufffe\uffff]")


def guarded(text: str) -> str:
    """Return *text* with one apostrophe more before what would begin a formula; `bare` takes it away again."""
    return f"'{text}" if _FORMULA.match(text) else text


def begins_formula(text: str) -> bool:
    """Say whether a program that types cells by their look would take *text* for a formula."""
    found = _FORMULA.match(text)
    return found is not None and not found[1]


def bare(text: str) -> str:
    """Return the text of a cell without the one apostrophe that a safe export puts before a formula's first sign."""
    if text[:1] != "'":
        return text
    return text[1:] if _FORMULA.match(text) else text


def written(cell: Cell) -> str:
    """Return a cell's text as any of our files may hold it: line ends as line feeds.

    Raise ValueError for NUL, lone surrogates, U+FFFE and U+FFFF: no edge of ours lets them in, no XML holds them.
    """
    text = str(cell).replace("\r\n", "\n").replace("\r", "\n")
    if _UNWRITABLE.search(text):
        raise ValueError("a cell holds NUL, a lone surrogate or a noncharacter")
    return text


def csv_bytes(headings: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """Return a table as CSV (RFC 4180): UTF-8 with its mark, lines ended CR LF, every text quoted and `guarded`.

    The mark has office programs read it as UTF-8 (common practice). ValueError as `written` raises it.
    """
    text = io.StringIO()
    writer = csv.writer(text, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\r\n")
    for row in (headings, *rows):
        writer.writerow([cell if isinstance(cell, int) else guarded(written(cell)) for cell in row])
    return text.getvalue().encode("utf-8-sig")

"""How a list is written down: its encoding and the sign between cells, or the sheet that is read of a workbook."""

from dataclasses import dataclass

SEPARATORS = (("comma", ","), ("semicolon", ";"), ("tab", "\t"))
"""What may stand between cells: the word it is remembered by, and the sign; office programs write all three."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Form:
    """A CSV list has *encoding* and *separator* (both as remembered), a workbook *sheet*; the rest is empty."""

    encoding: str = ""
    separator: str = ""
    sheet: str = ""


NO_FORM = Form()

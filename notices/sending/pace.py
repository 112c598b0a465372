"""How many messages may go in a second, a minute, an hour or a day."""

import re

from audiences.findings import Finding
from notices.cases.outgoing import Pace

_SECONDS = {"s": 1, "min": 60, "h": 3600, "day": 86400}
_FORM = re.compile(r"([1-9][0-9]{0,5})\s*/\s*(s|min|h|day)", re.ASCII)


def parse(text: str, *, file: str = "mail.toml", line: int | None = None) -> Pace | Finding:
    """Read ``60/s``, ``30/min``, ``500/h``, ``2000/day`` or ``none``; a finding where it is none of these."""
    bare = text.strip()
    if bare == "none":
        return Pace(text=bare, gap=0.0)
    form = _FORM.fullmatch(bare)
    if form is None:
        return Finding(
            code="mail-pace-unreadable",
            file=file,
            line=line,
            path="pace",
            message=f"{text!a} is no pace",
            mend="write how many in which time, as in 60/s, 30/min, 500/h or 2000/day; or none",
        )
    count, unit = form.groups()
    return Pace(text=f"{count}/{unit}", gap=_SECONDS[unit] / int(count))

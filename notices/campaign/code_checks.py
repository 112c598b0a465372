"""Whether the code layouts read their codes, and hide enough of them."""

from collections.abc import Iterator

from audiences import codes
from audiences.findings import Finding, Severity
from audiences.parts import Part, size_of, written
from audiences.telling import joined, meanings
from notices.campaign.layouts import layout_of
from notices.campaign.looking import Look
from notices.campaign.product import Example

_NUMBER_SIGNS = 18


def examples(look: Look) -> Iterator[Finding]:
    """Hold that the layouts read their examples, and find in them what the lead says is there."""
    code = look.campaign.code
    layout = layout_of(code)
    if code is None or layout is None:
        return
    given = {"code.example": code.example} if code.example else {}
    given |= {f"code.examples[{at}]": one for at, one in enumerate(code.examples)}
    for path, one in given.items():
        yield from _example(look, path, layout, one)
    readings = [codes.read(layout, one.code) for one in given.values()]
    shown = {at for one in readings if isinstance(one, codes.Parsed) for at in codes.read_by(layout, one)}
    unread = [at for at in range(len(layout.builds)) if at not in shown]
    if not given or (unread and all(isinstance(one, codes.Parsed) for one in readings)):
        yield Finding(
            code="example-missing",
            **look.at("code"),
            message="nothing shows that the layout reads a real code",
            mend="write example: with a code from a unit and the value of each field",
            severity=Severity.CONSIDER,
        )


def _example(look: Look, path: str, layout: codes.Layout, given: Example) -> Iterator[Finding]:
    reading = codes.read(layout, given.code)
    if isinstance(reading, codes.Unreadable):
        yield Finding(
            code="example-unreadable",
            **look.at(path),
            message=f"the layout cannot read it: {reading.message}",
            mend="correct the example, or the layout",
        )
        return
    for name, expected in given.fields.items():
        found = reading.fields.get(name)
        if found is None or not _same(layout.fields[name], found, expected):
            yield Finding(
                code="example-differs",
                **look.at(f"{path}.{name}"),
                message=f"the example says {expected}; the layout finds {'no such field' if found is None else found}",
                mend="correct the example, or the layout",
            )
    if not given.fields:
        yield Finding(
            code="example-unconfirmed",
            **look.at(path),
            message=f"{given.code} reads as {joined(meanings(layout, reading))}; nobody has said that this is right",
            mend="if it is, write the values beside the code, as "
            + ", ".join(f"{name}: {value}" for name, value in reading.fields.items()),
            severity=Severity.CONSIDER,
        )


def _same(part: Part, found: str | int, expected: str | int) -> bool:
    """Compare a field as read with a field as written: as a number or as its signs; 0172 and 172 are one number."""
    text = codes.fold(str(expected))
    if not isinstance(found, int):
        return text == found
    as_number = text.isascii() and text.isdecimal() and len(text) <= _NUMBER_SIGNS and int(text) == found
    counted = part.kind in {"base_34", "base_36", "month_letter"}
    return as_number or (counted and written(part, found) == text.rjust(size_of(part), "0"))


def hidden_signs(look: Look) -> Iterator[Finding]:
    """Hold that hiding the last signs leaves something to show, and that something is hidden at all."""
    code = look.campaign.code
    layout = layout_of(code)
    if code is None or layout is None:
        return
    shown = codes.mask(code.example.code, layout.hidden) if code.example else ""
    if shown and not codes.fold(shown.replace("·", "")):
        yield Finding(
            code="hidden-too-many",
            **look.at("code.hidden"),
            message="no sign of the code is left to show, so that an owner cannot tell which unit is meant",
            mend="hide at most half of the signs",
        )
    if shown and shown.count("·") < code.hidden:
        yield Finding(
            code="hidden-shortened",
            **look.at("code.hidden"),
            message=f"{code.hidden} signs are more than half of the code; two are hidden instead",
            mend="write at most half of the code's signs",
            severity=Severity.CONSIDER,
        )


CODE_CHECKS = (examples, hidden_signs)

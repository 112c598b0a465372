"""Whether the code layout reads its codes, and hides enough of them."""

from collections import Counter
from collections.abc import Iterator

from audiences import codes
from audiences.findings import Finding, Severity
from notices.campaign.layouts import kinds_of, layout_of, part_of
from notices.campaign.looking import Look

_NUMBER_SIGNS = 18


def layout_parts(look: Look) -> Iterator[Finding]:
    """Hold that each part of the layout is fixed text or one named field of one kind."""
    layout = look.campaign.code.layout if look.campaign.code else ()
    for place, part in enumerate(layout):
        if part_of(part) is None:
            kinds = kinds_of(part)
            said = f"it says {' and '.join(kinds)}" if kinds else "it says no kind"
            yield Finding(
                code="layout-part-unclear",
                **look.at(f"code.layout[{place}]"),
                message=f"a part is fixed text, or one field of one kind; {said}",
                mend="write {text: …} or {field: NAME, iso_year: 2}, iso_week: true, digits: 4 or one_of: ABC",
            )
    named = Counter(part.field for part in layout if part.field is not None)
    for name in (name for name, times in named.items() if times > 1):
        yield Finding(
            code="layout-field-twice",
            **look.at("code.layout"),
            message=f"{named[name]} parts are called {name}",
            mend="give each field a name of its own",
        )
    if layout and not named:
        yield Finding(
            code="layout-without-field",
            **look.at("code.layout"),
            message="the layout is fixed text alone, so that it tells no two units apart",
            mend="add {field: number, digits: 4} or what stands there",
        )


def example(look: Look) -> Iterator[Finding]:
    """Hold that the layout reads its example, and finds in it what the lead says is there."""
    code = look.campaign.code
    layout = layout_of(code)
    if code is None or layout is None:
        return
    if code.example is None:
        yield Finding(
            code="example-missing",
            **look.at("code"),
            message="nothing shows that the layout reads a real code",
            mend="write example: with a code from a unit and the value of each field",
            severity=Severity.CONSIDER,
        )
        return
    reading = codes.read(layout, code.example.code)
    if isinstance(reading, codes.Unreadable):
        yield Finding(
            code="example-unreadable",
            **look.at("code.example"),
            message=f"the layout cannot read it: {reading.message}",
            mend="correct the example, or the layout",
        )
        return
    for name, expected in code.example.fields.items():
        found = reading.fields.get(name)
        if found is None or not _same(found, expected):
            yield Finding(
                code="example-differs",
                **look.at(f"code.example.{name}"),
                message=f"the example says {expected}; the layout finds {'no such field' if found is None else found}",
                mend="correct the example, or the layout",
            )


def _same(found: str | int, expected: str | int) -> bool:
    """Compare a field as read with a field as written; 0172 and 172 are one number, letters are folded."""
    if isinstance(found, int):
        text = codes.fold(str(expected))
        return text.isdecimal() and len(text) <= _NUMBER_SIGNS and int(text) == found
    return codes.fold(found) == codes.fold(str(expected))


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


CODE_CHECKS = (layout_parts, example, hidden_signs)

"""Whether the code layouts can be read by: each part clear, no field twice, check characters that can fit."""

from collections import Counter
from collections.abc import Iterator

from audiences.findings import Finding
from notices.campaign.layout_parts import builds_of, fault_of, kinds_of, mixed, part_of, uncounted
from notices.campaign.layouts import differing
from notices.campaign.looking import Look
from notices.campaign.product import LayoutPart


def layout_parts(look: Look) -> Iterator[Finding]:
    """Hold that each part of each layout is fixed text, a separator, a check, or one named field of one kind."""
    builds = builds_of(look.campaign.code) if look.campaign.code else {}
    for path, parts in builds.items():
        for place, part in enumerate(parts):
            yield from _part(look, f"{path}[{place}]", part)
        yield from _build(look, path, parts)
    known = [[part for part in map(part_of, parts) if part is not None] for parts in builds.values()]
    name = differing(known)
    if name:
        yield Finding(
            code="layout-fields-differ",
            **look.at("code.layouts"),
            message=f"{name} is one sort of value in one layout and another sort in another one",
            mend="give the field another name in one of them; rules then ask for each by its name",
        )


def _part(look: Look, path: str, part: LayoutPart) -> Iterator[Finding]:
    """Say what is wrong with one part."""
    fault = fault_of(part)
    if fault == "kind":
        kinds = kinds_of(part)
        said = f"it says {' and '.join(kinds)}" if kinds else "it says no kind"
        yield Finding(
            code="layout-part-unclear",
            **look.at(path),
            message=f"a part is fixed text, or one field of one kind; {said}",
            mend="write {text: …} or {field: NAME, iso_year: 2}, iso_week: true, digits: 4 or one_of: ABC",
        )
    elif fault == "year":
        yield Finding(
            code="layout-year-open",
            **look.at(path),
            message="one digit stands for a year in every ten, and nothing says which ten",
            mend="add since: with the first year in which the product was made, as {field: year, year: 1, since: 2019}",
        )
    elif fault == "months":
        yield Finding(
            code="layout-months",
            **look.at(path),
            message="month letters are twelve different signs, one for each month",
            mend="write them from January to December, as month_letters: ABCDEFGHJKLM where I is left out",
        )
    elif fault == "choices":
        yield Finding(
            code="layout-choices",
            **look.at(path),
            message="one choice is empty, or another one begins with it, so that it cannot be told which stands there",
            mend="make the choices equally long, or write one layout for each under layouts:",
        )
    elif fault == "separator":
        yield Finding(
            code="layout-separator",
            **look.at(path),
            message="a separator is a sign such as / or *; spaces, hyphens and dots count nowhere and need no part",
            mend="take the part out, or write {text: …} where a letter or digit always stands there",
        )
    elif fault == "extra":
        yield Finding(
            code="layout-part-extra",
            **look.at(path),
            message="places goes with one_of, since with a year, over with check, and whole with element",
            mend="take out the key that does not belong to this kind, or name the element",
        )


def _build(look: Look, path: str, parts: tuple[LayoutPart, ...]) -> Iterator[Finding]:
    """Say what is wrong with the parts of one layout beside each other."""
    known = [part for part in map(part_of, parts) if part is not None]
    named = Counter(part.field for part in parts if part.field is not None)
    for name in (name for name, times in named.items() if times > 1):
        yield Finding(
            code="layout-field-twice",
            **look.at(path),
            message=f"{named[name]} parts are called {name}",
            mend="give each field a name of its own",
        )
    if not named:
        yield Finding(
            code="layout-without-field",
            **look.at(path),
            message="the layout is fixed text alone, so that it tells no two units apart",
            mend="add {field: number, digits: 4} or what stands there",
        )
    if mixed(known):
        yield Finding(
            code="layout-elements-mixed",
            **look.at(path),
            message="some parts stand in an element of a GS1 code, and others do not",
            mend="name the element of every part, or write two layouts under layouts:",
        )
    why = uncounted(known) if len(known) == len(parts) else ""
    if why:
        yield Finding(
            code="layout-check-unfit",
            **look.at(path),
            message=f"its check character can never fit: {why}",
            mend="name the fields that it counts, as over: [year, week, number], or another scheme",
        )


LAYOUT_CHECKS = (layout_parts,)

"""What the law of each market asks of a notice, in plain lines: paragraph, how it is known, and whether it is there."""

from collections.abc import Iterator, Sequence

from notices.campaign.duties import CLOSING
from notices.wording.elements import UNSHOWN
from notices.wording.law_checks import Asked

_THERE = {True: "written", False: "not written", None: "told by a finding of its own, where it lacks"}


def lines(asked: Sequence[Asked]) -> Iterator[str]:
    """Yield each law area with its elements, those of other markets for comparison only, and who decides."""
    title = ""
    for one in asked:
        if one.table.title != title:
            title = one.table.title
            yield f"{title}{'' if one.market else ' (no market of this campaign)'}:"
        element = one.element
        yield f"  {one.weight:6}  {element.what}: {_there(one)}"
        yield f"          {element.cited} [{element.mark}]"
    if asked:
        yield CLOSING


def _there(one: Asked) -> str:
    if one.there and one.element.found_by in UNSHOWN:
        return "written in campaign.yaml, but no notice shows it yet"
    return _THERE[one.there]


def as_json(asked: Sequence[Asked]) -> list[dict[str, object]]:
    """Return each element asked for in the shape that other programs read; *written* is null where nobody can tell."""
    return [
        {
            "area": one.table.key,
            "market": one.market or None,
            "asked": one.weight,
            "what": one.element.what,
            "source": one.element.source,
            "mark": one.element.mark,
            "written": one.there,
            "shown": None if one.there is None else one.there and one.element.found_by not in UNSHOWN,
        }
        for one in asked
    ]

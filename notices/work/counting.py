"""Where every unit stands, counted once: the grid, its sum, the stopped figure and the endings."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from audiences.segments import Segment
from notices.cases.case import ENDINGS, PUT_AWAY, STILL_OUT, Case, Stage, Stopped, Whereabouts

# The columns of the grid, in the order of the work; *listed* is shown as not reached.
STAGES = (
    "listed",
    "notified",
    "answered",
    "remedy_agreed",
    "under_way",
    "done_unconfirmed",
    "fixed",
    "ended",
)
# The rows of the grid, the most endangered first.
SEGMENTS = (Segment.SYMPTOMATIC, Segment.UNKNOWN, Segment.RIDDEN_NO_SYMPTOMS, Segment.UNRIDDEN)


@dataclass(frozen=True, kw_only=True, slots=True)
class Standing:
    """Counts of units: ``sold = in_hands + cleared + put_away + owner_unknown``, and the grid adds up to in_hands.

    *listed* counts the units on the lists without foreign ones and those listed twice; *unjudged* those among
    in_hands that have no verdict yet.
    """

    sold: int
    listed: int
    in_hands: int
    cleared: int
    put_away: int
    owner_unknown: int
    unjudged: int
    stopped: Mapping[str, int]
    grid: Mapping[str, Mapping[str, int]]
    endings: Mapping[str, int]


def count(cases: Iterable[Case], *, sold: int | None) -> Standing:
    """Count *cases*, each once; *sold* None means that the number sold is not known: then it is the number listed."""
    return count_alike(((case, 1) for case in cases), sold=sold)


def count_alike(cases: Iterable[tuple[Case, int]], *, sold: int | None) -> Standing:
    """Count cases, each with how many there are like it, as `count` does."""
    places: Counter[str] = Counter()
    stopped = dict.fromkeys((state.value for state in Stopped), 0)
    grid = {segment.value: dict.fromkeys(STAGES, 0) for segment in SEGMENTS}
    endings = dict.fromkeys(sorted(ENDINGS), 0)
    unjudged = 0
    for case, number in cases:
        place = place_of(case)
        places[place] += number
        if case.ending is not None:
            endings[case.ending] += number
        if place == "in_hands":
            grid[case.segment.value][column_of(case)] += number
            stopped[case.stopped.value] += number
            unjudged += number if case.verdict is None else 0
    listed = places.total() - places["nowhere"]
    whole = listed if sold is None else sold
    return Standing(
        sold=whole,
        listed=listed,
        in_hands=places["in_hands"],
        cleared=places["cleared"],
        put_away=places["put_away"],
        owner_unknown=whole - listed + places["owner_unknown"],
        unjudged=unjudged,
        stopped=stopped,
        grid=grid,
        endings=endings,
    )


def place_of(case: Case) -> str:
    """Return where a unit counts: nowhere, put_away, cleared, owner_unknown or in_hands, the first that fits."""
    if case.verdict == "foreign" or case.ending == "listed_twice":
        return "nowhere"
    if case.ending in PUT_AWAY or case.whereabouts is not Whereabouts.OWNER:
        return "put_away"
    if case.verdict == "cleared" or case.ending == "cleared":
        return "cleared"
    return "owner_unknown" if case.keeper_id is None else "in_hands"


def column_of(case: Case) -> str:
    """Return the grid's column for a unit in somebody's hands."""
    if case.ending in STILL_OUT:
        return "ended"
    if case.ending == "fixed" or case.stage >= Stage.CONFIRMED:
        return "fixed"
    return case.stage.key

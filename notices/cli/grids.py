"""The grid of the four segments and the stages, in plain text that a narrow terminal bears too."""

import shutil
from collections.abc import Mapping, Sequence

from notices.work.counting import SEGMENTS, STAGES, Standing
from notices.work.looking import Status

_HEADS: Mapping[str, tuple[str, str]] = {
    "listed": ("not", "reached"),
    "notified": ("", "notified"),
    "answered": ("", "answered"),
    "remedy_agreed": ("remedy", "agreed"),
    "under_way": ("under", "way"),
    "done_unconfirmed": ("done, not", "confirmed"),
    "fixed": ("", "fixed"),
    "ended": ("", "ended"),
}
_ENDINGS: Mapping[str, str] = {
    "in_stock": "in stock",
    "unreachable": "unreachable",
    "refused_by_owner": "refused by the owner",
    "stolen_or_lost": "stolen or lost",
    "listed_twice": "listed twice",
}
_GAP = "  "


def status(found: Status) -> str:
    """Return the whole status as text: grid, sum, stopped figure, endings."""
    head = f"Status on {found.on.isoformat()}, " + (
        "nothing signed yet" if found.revision is None else f"revision {found.revision}"
    )
    parts = [head, _grid(found), _sum(found.standing), _stopped(found.standing), _endings(found.standing)]
    return "\n\n".join(part for part in parts if part)


def _grid(found: Status) -> str:
    rows = [_row(found.names[segment], found.standing.grid[segment]) for segment in SEGMENTS]
    totals = {stage: sum(found.standing.grid[one][stage] for one in SEGMENTS) for stage in STAGES}
    wide = _table([*_heads(), *rows, _row("all", totals)])
    if max(len(line) for line in wide) <= shutil.get_terminal_size().columns:
        return "\n".join(wide)
    narrow = [
        f"{found.names[segment]}: {found.standing.grid[segment][stage]} {' '.join(_HEADS[stage]).strip()}"
        for segment in SEGMENTS
        for stage in STAGES
        if found.standing.grid[segment][stage]
    ]
    return "\n".join([*narrow, f"all: {sum(totals.values())}"])


def _heads() -> list[list[str]]:
    return [
        ["", *(_HEADS[stage][0] for stage in STAGES), ""],
        ["", *(_HEADS[stage][1] for stage in STAGES), "all"],
    ]


def _row(name: str, counts: Mapping[str, int]) -> list[str]:
    return [name, *(str(counts[stage]) for stage in STAGES), str(sum(counts.values()))]


def _table(rows: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(len(cell) for cell in column) for column in zip(*rows, strict=True)]
    return [
        _GAP.join(
            cell.ljust(width) if place == 0 else cell.rjust(width)
            for place, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]


def _sum(standing: Standing) -> str:
    text = (
        f"{standing.sold} sold = {standing.in_hands} in owners' hands + {standing.cleared} cleared"
        f" + {standing.put_away} in stock, collected or destroyed + {standing.owner_unknown} owner unknown"
    )
    return f"{text}\n{standing.unjudged} not judged" if standing.unjudged else text


def _stopped(standing: Standing) -> str:
    stopped = standing.stopped
    return (
        f"{stopped['stopped']} of {standing.in_hands} in owners' hands have stopped; {stopped['pressed']} pressed the"
        f" button and no more; {stopped['in_use']} still in use; {stopped['no_word']} without a word"
    )


def _endings(standing: Standing) -> str:
    ended = [f"{count} {_ENDINGS.get(key, key)}" for key, count in standing.endings.items() if count]
    return f"Ended: {', '.join(ended)}" if ended else ""

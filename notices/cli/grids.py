"""The grid of the four segments and the stages, in plain text that a narrow terminal bears too."""

import shutil
import textwrap
from collections.abc import Mapping, Sequence

from notices.work.counting import SEGMENTS, STAGES, Standing
from notices.work.looking import Status

_HEADS: Mapping[str, tuple[str, str, str]] = {
    "listed": ("", "not", "reached"),
    "notified": ("", "noti-", "fied"),
    "answered": ("", "ans-", "wered"),
    "remedy_agreed": ("", "remedy", "agreed"),
    "under_way": ("", "under", "way"),
    "done_unconfirmed": ("done,", "not con-", "firmed"),
    "fixed": ("", "", "fixed"),
    "ended": ("", "", "ended"),
}
_ENDINGS: Mapping[str, str] = {
    "in_stock": "in stock",
    "unreachable": "unreachable",
    "refused_by_owner": "refused by the owner",
    "stolen_or_lost": "stolen or lost",
    "listed_twice": "listed twice",
}
_GAP = " "
_NAME = 20  # signs of a segment's name on one line, so that the grid fits eighty columns


def status(found: Status) -> str:
    """Return the whole status as text: grid, sum, stopped figure, endings."""
    head = f"Status on {found.on.isoformat()}, " + (
        "nothing signed yet" if found.revision is None else f"revision {found.revision}"
    )
    parts = [head, _grid(found), _sum(found.standing), _stopped(found.standing), _endings(found.standing)]
    return "\n\n".join(part for part in parts if part)


def _grid(found: Status) -> str:
    grid = found.standing.grid
    totals = {stage: sum(grid[one][stage] for one in SEGMENTS) for stage in STAGES}
    rows = [line for one in SEGMENTS for line in _row(found.names[one], grid[one])]
    wide = _table([*_heads(), *rows, *_row("all", totals)])
    if max(len(line) for line in wide) <= shutil.get_terminal_size().columns:
        return "\n".join(wide)
    narrow = [
        f"{found.names[one]}: {grid[one][stage]} {_word(stage)}"
        for one in SEGMENTS
        for stage in STAGES
        if grid[one][stage]
    ]
    return "\n".join([*narrow, f"all: {sum(totals.values())}"])


def _word(stage: str) -> str:
    return "not reached" if stage == "listed" else stage.replace("_", " ")


def _heads() -> list[list[str]]:
    heads = [["", *(_HEADS[stage][line] for stage in STAGES), ""] for line in range(3)]
    heads[-1][-1] = "all"
    return heads


def _row(name: str, counts: Mapping[str, int]) -> list[list[str]]:
    """Return a row, its name broken over lines; the figures stand on the last."""
    lines = textwrap.wrap(name, _NAME) or [""]
    figures = [*(str(counts[stage]) for stage in STAGES), str(sum(counts.values()))]
    return [*([line, *[""] * len(figures)] for line in lines[:-1]), [lines[-1], *figures]]


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

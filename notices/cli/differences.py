"""What the draft makes of the units, and what it changes for them, in plain text and JSON."""

from collections.abc import Iterator

from notices.campaign.comparing import Value
from notices.cases.dangers import Danger
from notices.cli.saying import number
from notices.work.differing import Difference, Differs
from notices.work.weighing import Weighed

_MOST_LINES = 60  # of one kind; JSON has all
_KINDS = {
    Danger.SAFE_BEFORE: (
        "safe_before",
        "was safe and no longer is: call at once",
        "were safe and no longer are: call at once",
    ),
    Danger.LESS_BEFORE: ("less_before", "was to do less than now", "were to do less than now"),
    Danger.OTHER: ("other", "is told something else", "are told something else"),
}  # fmt: skip


def weighed(found: Weighed | None) -> Iterator[str]:
    """Yield how many units of the lists fall under each rule."""
    if found is None or not found.units:
        return
    yield f"By this draft, of {number(found.units, 'unit')} on the lists:"
    for verdict, count in sorted(found.verdicts.items()):
        parts = found.rules if verdict == "affected" else found.cleared if verdict == "cleared" else {}
        named = ", ".join(f"{one} {many}" for one, many in parts.items())
        yield f"  {verdict} {count}{f' ({named})' if named else ''}"
    if found.near:
        yield f"  one slip from an affected code: {found.near}; an owner who types such a code is asked for a photo"


def weighed_as_json(found: Weighed | None) -> dict[str, object] | None:
    """Return the same in the shape that other programs read."""
    if found is None:
        return None
    return {
        "units": found.units,
        "verdicts": dict(found.verdicts),
        "rules": dict(found.rules),
        "cleared": dict(found.cleared),
        "near": found.near,
    }


def lines(found: Difference | None) -> Iterator[str]:
    """Yield what changed in the file, then for whom, the most endangered first."""
    if found is None:
        return
    after = f"the draft (revision {found.after})" if found.draft else f"revision {found.after}"
    yield f"Between revision {found.before} and {after}:"
    yield from _some([f"  {one.path}: {_shown(one.before)} -> {_shown(one.after)}" for one in found.changes])
    yield from (
        f"  {one.file}: {number(one.gained, 'code')} more, {number(one.lost, 'code')} fewer"
        for one in found.lists
    )
    if not found.changes and not found.lists:
        yield "  nothing is another"
    yield f"For {number(len(found.units), 'unit')} verdict or instruction is another."
    for kind, (_, one, many) in _KINDS.items():
        if count := found.dangers[kind]:
            yield f"  {count} {one if count == 1 else many}"
            yield from _some([_line(unit) for unit in found.units if unit.danger is kind])


def _some(of_one_kind: list[str]) -> Iterator[str]:
    yield from of_one_kind[:_MOST_LINES]
    if len(of_one_kind) > _MOST_LINES:
        yield f"  ... and {len(of_one_kind) - _MOST_LINES} more; --format json lists all"


def _shown(value: Value | None) -> str:
    return "-" if value is None else str(value)


def _line(unit: Differs) -> str:
    was, now = unit.verdicts
    rule = f" ({unit.rules[1]})" if unit.rules[1] else ""
    level = f", level {unit.levels[0]} -> {unit.levels[1]}" if unit.levels[0] != unit.levels[1] else ""
    return f"    {unit.unit_id}  {was if was == now else f'{was} -> {now}'}{rule}{level}, use {unit.segment}"


def as_json(found: Difference | None) -> dict[str, object] | None:
    """Return the same in the shape that other programs read."""
    if found is None:
        return None
    return {
        "before": found.before,
        "after": found.after,
        "draft": found.draft,
        "changes": [{"path": one.path, "before": one.before, "after": one.after} for one in found.changes],
        "lists": [{"file": one.file, "gained": one.gained, "lost": one.lost} for one in found.lists],
        "counts": {key: found.dangers[kind] for kind, (key, *_) in _KINDS.items()},
        "units": [
            {
                "unit": one.unit_id,
                "danger": _KINDS[one.danger][0],
                "segment": one.segment,
                "verdict": list(one.verdicts),
                "rule": list(one.rules),
                "level": list(one.levels),
            }
            for one in found.units
        ],
    }

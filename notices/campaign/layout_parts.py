"""The parts of a code layout as codes are read by them, and what is wrong with those that cannot be."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal, get_args

from audiences.builds import build_of
from audiences.check_characters import CHECKED
from audiences.codes import Part, PartKind, fold
from audiences.parts import signs_of
from notices.campaign.product import Code, LayoutPart

PartFault = Literal["kind", "year", "months", "choices", "separator", "extra"]
_MONTHS = 12
_KEYS: Mapping[PartKind, str] = {kind: kind for kind in get_args(PartKind)} | {
    "month_letter": "month_letters"
}
_YEARS = ("iso_year", "year")


def kinds_of(part: LayoutPart) -> tuple[PartKind, ...]:
    """Return which kinds a part claims to be; it is clear where that is exactly one."""
    return tuple(kind for kind, key in _KEYS.items() if getattr(part, key) not in {None, False, ()})


def fault_of(part: LayoutPart) -> PartFault | None:
    """Return what is wrong with a part by itself, None where it is clear."""
    kinds = kinds_of(part)
    if len(kinds) != 1 or (part.field is None) is not (kinds[0] in {"text", "separator", "check"}):
        return "kind"
    return next((fault for fault, found in _faults(part, kinds[0]) if found), None)


def _faults(part: LayoutPart, kind: PartKind) -> Iterator[tuple[PartFault, bool]]:
    size = part.iso_year or part.year
    yield "kind", size not in {None, 1, 2, 4}
    yield "year", size == 1 and part.since is None
    letters = fold(part.month_letters or "")
    yield "months", kind == "month_letter" and not len(letters) == len(set(letters)) == _MONTHS
    yield "choices", kind == "choice" and not _told_apart([fold(choice) for choice in part.choice])
    separator = fold(part.separator or "")
    yield "separator", kind == "separator" and (not separator or any(map(str.isalnum, separator)))
    beside = {
        "places": part.places is not None and kind != "one_of",
        "since": part.since is not None and kind not in _YEARS,
        "over": bool(part.over) and kind != "check",
        "element": part.element is None and kind == "whole",
    }
    yield "extra", any(beside.values())


def _told_apart(choices: Sequence[str]) -> bool:
    """Tell whether no choice is empty or begins another one, so that reading never has to guess."""
    return all(choices) and not any(
        one.startswith(other)
        for at, one in enumerate(choices)
        for by, other in enumerate(choices)
        if at != by
    )


def part_of(part: LayoutPart) -> Part | None:
    """Return a layout part as codes are read by it, or None where it is unclear."""
    if fault_of(part) is not None:
        return None
    (kind,) = kinds_of(part)
    return Part(
        kind=kind,
        name=part.field or "",
        text=part.text or part.separator or "",
        size=_size(part, kind),
        letters=part.one_of or part.month_letters or "",
        choices=part.choice,
        since=part.since,
        scheme=part.check or "mod_37_36",
        over=part.over,
        element=part.element or "",
    )


def _size(part: LayoutPart, kind: PartKind) -> int:
    if kind == "one_of":
        return part.places or 1
    sizes = (part.iso_year, part.year, part.digits, part.base_34, part.base_36)
    return next((size for size in sizes if size), 2 if kind == "iso_week" else 0)


def builds_of(code: Code) -> Mapping[str, tuple[LayoutPart, ...]]:
    """Return each layout of a code by its path in the file."""
    one = {"code.layout": code.layout} if code.layout else {}
    return one | {f"code.layouts.{name}": parts for name, parts in code.layouts.items()}


def mixed(parts: Sequence[Part]) -> bool:
    """Tell whether some parts stand in an element of a GS1 code and others do not."""
    return len({bool(part.element) for part in parts}) > 1


def uncounted(parts: Sequence[Part]) -> str:
    """Return why a check character of a layout can never fit, "" where each can."""
    steps = build_of(parts).steps
    names = [step.part.name for step in steps]
    for at, step in enumerate(steps):
        if step.part.kind != "check":
            continue
        over = step.part.over
        unknown = [name for name in over if name not in names]
        if unknown:
            return f"the layout has no field {unknown[0]}"
        counted = [one for one in steps[:at] if one.part.kind not in {"separator", "check"}]
        counted = [one for one in steps if one.part.name in over] if over else counted
        signs = {sign for one in counted for sign in "".join(one.texts) or signs_of(one.part)}
        strange = sorted(signs - set(CHECKED[step.part.scheme]))
        if not counted:
            return "nothing stands before it"
        if strange:
            return f"{strange[0]} may stand among the signs that it counts, and {step.part.scheme} does not know it"
    return ""

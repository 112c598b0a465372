"""The campaign's code layout and affected rules as the judge takes them."""

from collections.abc import Mapping, Sequence

from audiences.code_lists import CodeList
from audiences.codes import COMMON_MISREADS, Layout, Part
from audiences.conditions import Conditions, Sign
from audiences.verdicts import Judge, Rule
from notices.campaign.layout_parts import builds_of, mixed, part_of, uncounted
from notices.campaign.models import AffectedRule, Campaign, Code, CodeConditions

_ENDS = 2  # of a range: the first and the last


Lists = Mapping[str, CodeList]
"""The lists of single codes that could be read, by the name of their file."""


def judge_of(campaign: Campaign, lists: Lists) -> Judge:
    """Return the judge of a campaign; a layout or list that is absent or unclear clears nobody.

    No finding about the code may hold back a stop warning, so an unclear layout is left out instead of refused.
    """
    layout = layout_of(campaign.code)
    fields = layout.fields if layout else {}
    return Judge(
        layout=layout,
        rules=tuple(rule_of(rule, fields, lists) for rule in campaign.affected),
        otherwise=campaign.otherwise,
        reworked=tuple(lists[name] for name in campaign.reworked or () if name in lists),
    )


def layout_of(code: Code | None) -> Layout | None:
    """Return the layout of a code, or None where there is none or one of its parts is unclear."""
    builds = [] if code is None else [tuple(map(part_of, parts)) for parts in builds_of(code).values()]
    known = [tuple(part for part in parts if part is not None) for parts in builds]
    if code is None or not builds or known != builds or not all(map(_sound, known)) or differing(known):
        return None
    misread = tuple(frozenset(signs) for signs in code.misread) or COMMON_MISREADS
    return Layout(parts=known[0], hidden=code.hidden, misread=misread, others=tuple(known[1:]))


def _sound(parts: tuple[Part, ...]) -> bool:
    named = [part.name for part in parts if part.sort]
    return bool(named) and len(set(named)) == len(named) and not mixed(parts) and not uncounted(parts)


def differing(builds: Sequence[Sequence[Part]]) -> str:
    """Return the first field that means different sorts of values in two layouts, "" where none does."""
    sorts: dict[str, set[str]] = {}
    for part in (part for parts in builds for part in parts if part.sort):
        sorts.setdefault(part.name, set()).add(part.kind if part.sort in {"week", "number"} else part.sort)
    return next((name for name, found in sorts.items() if len(found) > 1), "")


def rule_of(rule: AffectedRule, fields: Mapping[str, Part], lists: Lists) -> Rule:
    """Return a rule as units are judged by it; days of sale that are not a first and a last count for nothing."""
    asked = conditions_of(rule, fields, lists)
    sold = rule.sold or ()
    return Rule(
        name=rule.rule,
        sold=(sold[0], sold[1]) if len(sold) == _ENDS else None,
        ranges=asked.ranges,
        values=asked.values,
        signs=asked.signs,
        lists=asked.lists,
        all_of=asked.all_of,
        any_of=asked.any_of,
        none_of=asked.none_of,
    )


def conditions_of(asked: CodeConditions, fields: Mapping[str, Part], lists: Lists) -> Conditions:
    """Return conditions as codes are judged by them: a list of two is a range, but of letters a list is a choice."""
    ranges: dict[str, tuple[str | int, str | int]] = {}
    values: dict[str, tuple[str | int, ...]] = {}
    for name, condition in asked.conditions.items():
        given: tuple[str | int, ...] = condition if isinstance(condition, tuple) else (condition,)
        if is_range(fields.get(name), given):
            first, last = given
            ranges[name] = (first, last)
        else:
            values[name] = given
    return Conditions(
        ranges=ranges,
        values=values,
        signs=() if asked.sign is None else (Sign(place=asked.sign.place, one_of=asked.sign.one_of),),
        lists=() if asked.codes is None else (lists.get(asked.codes),),
        all_of=tuple(conditions_of(one, fields, lists) for one in asked.all or ()),
        any_of=() if asked.any is None else (tuple(conditions_of(one, fields, lists) for one in asked.any),),
        none_of=() if asked.not_ is None else (conditions_of(asked.not_, fields, lists),),
    )


def is_range(part: Part | None, given: tuple[str | int, ...]) -> bool:
    """Tell whether two values are the first and the last of a range."""
    return len(given) == _ENDS and (part is None or part.sort != "choice")

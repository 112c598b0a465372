"""Whether the affected rules mean what they say: fields of the layout, values they can take, ranges in order."""

from collections.abc import Iterator, Mapping

from audiences import codes
from audiences.findings import Finding, Severity
from audiences.parts import signs_of, size_of, texts_of
from audiences.telling import joined
from audiences.written_values import fits, places_of
from notices.campaign.layouts import is_range, layout_of
from notices.campaign.looking import Look
from notices.campaign.models import CodeConditions

_TAKEN = frozenset(
    {"all", "any", "codes", "not", "rule", "sign", "sold"}
)  # keys of a rule that name no field


def rules_known(look: Look) -> Iterator[Finding]:
    """Hold that each rule has a name of its own, a layout to be read by, and conditions."""
    campaign = look.campaign
    layout = layout_of(campaign.code)
    if layout is None and any(_asks_code(rule) for rule in campaign.affected):
        yield Finding(
            code="rule-without-layout",
            **look.at("affected"),
            message="codes cannot be read without a clear layout, so every unit counts as affected",
            mend="write code.layout, or take affected: out until you know it",
        )
    if not campaign.affected and campaign.otherwise == "affected":
        yield Finding(
            code="otherwise-without-rule",
            **look.at("otherwise"),
            message="without a rule every unit is affected already",
            mend="take otherwise: out, or write the rules",
            severity=Severity.CONSIDER,
        )
    for place, rule in enumerate(campaign.affected):
        if rule.rule in {earlier.rule for earlier in campaign.affected[:place]}:
            yield Finding(
                code="rule-twice",
                **look.at(f"affected[{place}].rule"),
                message="an earlier rule has this name already; verdicts name their rule",
                mend="give it a name of its own",
            )
        for path, group in rule.within(f"affected[{place}]"):
            if not _asks_code(group) and (group is not rule or rule.sold is None):
                yield Finding(
                    code="rule-without-condition",
                    **look.at(path),
                    message="no field, sign or list stands here, so that every unit with a code is affected",
                    mend="add a field of the layout and its values, as line: B",
                )
    for name in layout.fields if layout else ():
        if name in _TAKEN:
            yield Finding(
                code="layout-field-reserved",
                **look.at("code.layout"),
                message=f"a field is called {name}, and in a rule this word means something else",
                mend=f"give it another name than {', '.join(sorted(_TAKEN))}",
            )


def _asks_code(asked: CodeConditions) -> bool:
    named = asked.sign is not None or asked.codes is not None or asked.not_ is not None
    return bool(named or asked.conditions or asked.all or asked.any)


def rule_values(look: Look) -> Iterator[Finding]:
    """Hold that each condition is on a field of the layout, and that the field can take its values."""
    layout = layout_of(look.campaign.code)
    if layout is None:
        return
    parts = layout.fields
    groups = (
        group for at, rule in enumerate(look.campaign.affected) for group in rule.within(f"affected[{at}]")
    )
    for path, group in groups:
        for name, condition in group.conditions.items():
            given = condition if isinstance(condition, tuple) else (condition,)
            where = look.at(f"{path}.{name}")
            if name not in parts:
                yield Finding(
                    code="rule-field-unknown",
                    **where,
                    message=f"the layout has no field {name}, so this condition clears nobody",
                    mend=f"name one of {', '.join(parts)}",
                )
                continue
            yield from _values(look, where["path"], layout, parts[name], given)


def days_of_sale(look: Look) -> Iterator[Finding]:
    """Hold that days of sale are a first and a last one, in this order."""
    for place, rule in enumerate(look.campaign.affected):
        if rule.sold is None:
            continue
        where = look.at(f"affected[{place}].sold")
        if len(rule.sold) != len(("first", "last")):
            yield Finding(
                code="sale-days-form",
                **where,
                message=f"days of sale are a first and a last one, and {len(rule.sold)} stand here",
                mend="write [first, last], as [2025-05-01, 2025-07-31]",
            )
        elif rule.sold[0] > rule.sold[1]:
            yield Finding(
                code="sale-days-turned",
                **where,
                message=f"{rule.sold[0]} comes after {rule.sold[1]}",
                mend="write the first day first",
            )


def _values(
    look: Look, path: str, layout: codes.Layout, part: codes.Part, given: tuple[str | int, ...]
) -> Iterator[Finding]:
    places = [places_of(layout, part.name, [value]) for value in given]
    unfit = [
        value
        for value, found in zip(given, places, strict=True)
        if found is None or not fits(part, found[1][0])
    ]
    for value in unfit:
        yield Finding(
            code="rule-value-unfit",
            **look.at(path),
            message=f"{value} cannot stand in the field {part.name}",
            mend=_FORMS[part.kind].format(signs=joined(texts_of(part) or signs_of(part)), size=size_of(part)),
        )
    if unfit or part.sort == "choice":
        return
    span = [found[1][0] for found in places if found]
    if len(given) > len(("first", "last")):
        yield Finding(
            code="rule-range-form",
            **look.at(path),
            message=f"a range has a first and a last value, and {len(given)} stand here",
            mend="write [first, last], or one rule for each value",
        )
    elif is_range(part, given) and span[0] > span[1]:
        yield Finding(
            code="rule-range-turned",
            **look.at(path),
            message=f"{given[0]} comes after {given[1]}",
            mend="write the first value first",
        )


_YEAR_FORM = 'write the year in quotes, as "25"'
_BASE_FORM = "write it in quotes, with the signs of the code, at most {size}"
_FORMS: Mapping[str, str] = {
    "iso_week": 'write year and week in quotes, as "2518"; the week must exist in that year (ISO 8601)',
    "us_week": 'write year and week in quotes, as "2518"; the week must exist in that year',
    "iso_year": _YEAR_FORM,
    "year": _YEAR_FORM,
    "month": 'write year and month in quotes, as "2503"',
    "month_letter": 'write year and month in quotes and as numbers, as "2503"',
    "year_day": 'write year and day of the year in quotes, as "25074"; a year has 365 or 366',
    "day": 'write year, month and day in quotes, as "250315"; the day must exist',
    "digits": "write a number that has as many digits as the field",
    "base_34": _BASE_FORM,
    "base_36": _BASE_FORM,
    "one_of": "write signs of the field, as [A, B]; it takes {size} of {signs}",
    "choice": "write choices of the field; it takes {signs}",
}


def cleared_by_day(look: Look) -> Iterator[Finding]:
    """Ask for a cleared text that also fits a unit without a code, where its day of sale may clear it."""
    campaign = look.campaign
    by_day = campaign.affected and all(rule.sold is not None for rule in campaign.affected)
    if by_day and campaign.otherwise == "cleared" and campaign.now.cleared is not None:
        yield Finding(
            code="cleared-without-code",
            **look.at("now.cleared"),
            message="units without a code are cleared by their day of sale, and their owners read this too",
            mend="word it so that it also fits an owner who has no code to compare, and name the days of sale",
            severity=Severity.CONSIDER,
        )


RULE_CHECKS = (rules_known, rule_values, days_of_sale, cleared_by_day)

"""What the affected rules take: none at all, what an earlier rule takes too, or nothing that is left for them."""

from collections.abc import Iterator
from itertools import chain

from audiences.codes import Parsed, read
from audiences.conditions import Decide
from audiences.findings import Finding, Severity
from audiences.stand_ins import stand_ins
from audiences.verdicts import Judge, Rule
from notices.campaign.layouts import judge_of
from notices.campaign.looking import Look


def reach(look: Look) -> Iterator[Finding]:
    """Hold each rule against codes that stand for all codes, and its days of sale against those of earlier rules."""
    judge = judge_of(look.campaign, look.lists)
    rules = [(place, rule, decide) for place, (rule, decide) in enumerate(judge.decided)]
    codes = stand_ins(judge.layout, judge.rules) if judge.layout else ()
    if codes:
        by_code = [(place, rule, decide) for place, rule, decide in rules if decide is not None]
        for place, rule, decide in by_code:
            yield from _outside(look, place, rule, codes)
            earlier = [(other, asked) for at, other, asked in by_code if at < place]
            yield from _by_code(look, judge, place, rule, decide, earlier, codes)
    for place, rule in enumerate(judge.rules):
        yield from _by_day(look, place, rule, judge.rules[:place])


def _outside(look: Look, place: int, rule: Rule, codes: tuple[Parsed, ...]) -> Iterator[Finding]:
    longest = max(len(code.code_key) for code in codes)
    for sign in (sign for one in rule.within() for sign in one.signs if sign.place > longest):
        yield Finding(
            code="rule-place-outside",
            **look.at(f"affected[{place}]"),
            message=f"the rule asks for sign {sign.place}, and no code has more than {longest}",
            mend="count the signs without spaces, hyphens, dots and separators, from 1",
        )


def _by_code(
    look: Look,
    judge: Judge,
    place: int,
    rule: Rule,
    decide: Decide,
    earlier: list[tuple[Rule, Decide]],
    codes: tuple[Parsed, ...],
) -> Iterator[Finding]:
    taken = [code for code in codes if decide(code) is not False]
    left = [code for code in taken if not _first(earlier, code)]
    if not left:  # what stands for a long list may miss the one code that counts
        rest = [code for code in _listed(judge, rule) if decide(code) is not False]
        taken, left = [*taken, *rest], [code for code in rest if not _first(earlier, code)]
    where = look.at(f"affected[{place}]")
    if not taken:
        yield Finding(
            code="rule-empty",
            **where,
            message="no code can meet this rule, so that it makes no unit affected",
            mend="compare it with codes of affected units; conditions side by side must all hold of one code",
        )
        return
    before = next((name for code in taken if (name := _first(earlier, code))), "")
    if not left:
        yield Finding(
            code="rule-unreachable",
            **where,
            message=f"every code that meets it meets an earlier rule too, as {before}, and is told so under that name",
            mend="move it up, or take it out",
            severity=Severity.CONSIDER,
        )
    elif before:
        yield Finding(
            code="rules-overlap",
            **where,
            message=f"some codes are affected by {before} too, and are told so under that name",
            mend="part the ranges if figures are to tell the two rules apart",
            severity=Severity.CONSIDER,
        )


def _first(rules: list[tuple[Rule, Decide]], code: Parsed) -> str:
    return next((rule.name for rule, decide in rules if decide(code) is not False), "")


def _listed(judge: Judge, rule: Rule) -> Iterator[Parsed]:
    lists = (codes for one in rule.within() for codes in one.lists if codes is not None)
    for key in chain.from_iterable(lists):
        reading = read(judge.layout, key) if judge.layout else None
        if isinstance(reading, Parsed):
            yield reading


def _by_day(look: Look, place: int, rule: Rule, earlier: tuple[Rule, ...]) -> Iterator[Finding]:
    """Hold the days of rules that go by them alone against each other."""
    if rule.sold is None or not rule.ask_nothing:
        return
    first, last = min(rule.sold), max(rule.sold)
    for other in earlier:
        if other.sold is None or not other.ask_nothing:
            continue
        begins, ends = min(other.sold), max(other.sold)
        if begins <= last and first <= ends:
            inside = begins <= first and last <= ends
            yield Finding(
                code="sale-days-overlap",
                **look.at(f"affected[{place}].sold"),
                message=f"{'all' if inside else 'some'} of these days stand in {other.name} too, and units sold then "
                "are told so under that name",
                mend="part the days, or take one of the rules out",
                severity=Severity.CONSIDER,
            )


def unread_codes(look: Look) -> Iterator[Finding]:
    """Hold that the layout can read each code of the lists: it would miss a unit whose code is misspelt there."""
    layout = judge_of(look.campaign, {}).layout
    if layout is None:
        return
    for name, path in look.campaign.lists_named().items():
        codes = look.lists.get(name)
        unread = [] if codes is None else [key for key in codes if not isinstance(read(layout, key), Parsed)]
        if unread:
            clears = path.startswith("reworked")
            yield Finding(
                code="code-list-unread",
                **look.at(path),
                message=f"the layout cannot read {len(unread)} of {len(codes or ())} codes in {name}, as {unread[0]}",
                mend="correct them in the file, or the layout; a misspelt code misses its unit",
                severity=Severity.CONSIDER if clears else Severity.MUST_MEND,
            )


REACH_CHECKS = (reach, unread_codes)

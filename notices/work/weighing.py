"""What the draft makes of the units on the lists: how many fall under each rule, and which codes are doubtful."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from audiences.codes import Layout, Parsed, key_of, read
from audiences.findings import Finding, Severity
from audiences.made import earliest
from audiences.verdicts import SAFE, Judgement, Verdict
from notices.campaign.looking import line_of
from notices.campaign.revisions import Revision
from notices.cases.records import SourceRow, UnitRow
from notices.work import judging
from notices.work.ports import Transaction, World
from notices.work.revisions import CAMPAIGN_FILE, Draft, judge_by

_ROWS_SHOWN = 8


@dataclass(frozen=True, kw_only=True, slots=True)
class Weighed:
    """The units of the lists as the draft judges them: by verdict, by rule, and cleared by why.

    *near* counts the codes that would let their unit go and lie one slip from an affected one.
    """

    units: int
    verdicts: Mapping[str, int]
    rules: Mapping[str, int]
    cleared: Mapping[str, int]
    near: int
    findings: tuple[Finding, ...]


def weighed(world: World, drafted: Draft) -> Weighed | None:
    """Judge every unit by the draft, in memory; None where there is no draft, or no list was imported.

    The register is not opened before a list has been imported, so that a new folder is left as it is.
    """
    revision = drafted.revision
    if revision is None or not any(name.endswith(".columns.toml") for name in world.folder.names("lists")):
        return None
    by = judge_by(revision)
    with world.register.look() as tx:
        cases = {row.case.unit_id: row.case for row in tx.cases.all()}
        units = tx.units.units()
        found = {key: judging.judged(by, unit, cases.get(key)) for key, unit in units.items()}
        early = _sold_early(by.layout, units.values()) if by.layout else set[str]()
        after_sale = list(_after_sale(tx, early)) if early else []
    rules = Counter(one.rule for one in found.values() if one.verdict is Verdict.AFFECTED)
    idle = [place for place, rule in enumerate(by.rules) if found and not rules[rule.name]]
    return Weighed(
        units=len(found),
        verdicts=Counter(str(one.verdict) for one in found.values()),
        rules={**{rule.name: rules[rule.name] for rule in by.rules}, **rules},
        cleared=Counter(one.why for one in found.values() if one.verdict is Verdict.CLEARED),
        near=sum(map(_near, found.values())),
        findings=(
            *(_idle(place, drafted.lines) for place in idle),
            *after_sale,
            *_unlisted(revision, by.layout, drafted.lines, units.values()),
            *_without_market(revision, drafted.lines, units.values()),
        ),
    )


def _near(judgement: Judgement) -> bool:
    return judgement.near and judgement.verdict in SAFE | {Verdict.MISSING}


def _unlisted(
    revision: Revision, layout: Layout | None, lines: Mapping[str, int], units: Iterable[UnitRow]
) -> Iterator[Finding]:
    """Say of each list of codes how many of them no sales list knows: nobody knows who has them, or a sign is wrong."""
    known = {key_of(layout, unit.code) if layout else unit.code_key for unit in units if unit.code}
    for name, path in revision.campaign.lists_named().items():
        codes = revision.lists.get(name)
        strange = [key for key in codes or () if key not in known] if known else []
        if strange:
            yield Finding(
                code="code-list-unlisted",
                file=CAMPAIGN_FILE,
                line=line_of(path, lines),
                path=path,
                message=f"{len(strange)} of {len(codes or ())} codes in {name} are on no sales list, as {strange[0]}",
                mend="import the lists that are missing, and look for misspelt codes: such a code touches another unit",
                severity=Severity.CONSIDER,
            )


def _without_market(
    revision: Revision, lines: Mapping[str, int], units: Iterable[UnitRow]
) -> Iterator[Finding]:
    """Say where units were sold in a country that no market names: another law than theirs would decide the notice."""
    campaign = revision.campaign
    strange = Counter(
        unit.sold_in for unit in units if unit.sold_in and campaign.market_of(unit.sold_in) is None
    )
    if not strange or not campaign.markets:
        return
    where = ", ".join(f"{country} ({count})" for country, count in sorted(strange.items()))
    yield Finding(
        code="country-without-market",
        file=CAMPAIGN_FILE,
        line=line_of("markets", lines),
        path="markets",
        message=f"units were sold in countries that no market names: {where}; another law decides what they are told",
        mend="add the country to the market of its law, or make a market of it",
        severity=Severity.CONSIDER,
    )


def _sold_early(layout: Layout, units: Iterable[UnitRow]) -> set[str]:
    """Return the units whose code says that they were made after they were sold."""
    early = set()
    for unit in units:
        reading = read(layout, unit.code) if unit.code and unit.sold_on else None
        made = earliest(layout, reading) if isinstance(reading, Parsed) else None
        if made and unit.sold_on and made > unit.sold_on:
            early.add(unit.unit_id)
    return early


def _after_sale(tx: Transaction, early: set[str]) -> Iterator[Finding]:
    for source in tx.lists.sources():
        rows = [row for row in tx.lists.rows(source.source_id) if row.unit_id in early]
        if rows:
            yield _made_after_sale(source.file, rows)


def _idle(place: int, lines: Mapping[str, int]) -> Finding:
    path = f"affected[{place}]"
    return Finding(
        code="rule-without-unit",
        file=CAMPAIGN_FILE,
        line=line_of(path, lines),
        path=path,
        message="no unit on the lists falls under this rule",
        mend="hold it against the code of a unit that is affected; perhaps its list has not been imported yet",
        severity=Severity.CONSIDER,
    )


def _made_after_sale(file: str, rows: list[SourceRow]) -> Finding:
    shown = ", ".join(str(row.row_no) for row in rows[:_ROWS_SHOWN])
    more = f" and {len(rows) - _ROWS_SHOWN} more" if len(rows) > _ROWS_SHOWN else ""
    return Finding(
        code="code-after-sale",
        file=file,
        line=rows[0].row_no,
        path="code",
        message=f"by its code the unit was made after the day on which it was sold: {_rows(rows)} {shown}{more}",
        mend="one of the two is wrong: look the sale up, or ask the owner for the code",
        severity=Severity.CONSIDER,
    )


def _rows(rows: list[SourceRow]) -> str:
    return "row" if len(rows) == 1 else "rows"

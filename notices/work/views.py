"""What stands in the register as plain tables, to be printed, sorted and handed on."""

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from audiences.addresses import FAULTS
from audiences.guarding import Cell
from audiences.verdicts import Verdict
from notices.cases.case import Case
from notices.cases.due import CaseRow
from notices.cases.records import ContactRow, OwnerRow, UnitRow
from notices.work.counting import column_of, place_of
from notices.work.links import CHANNEL as LINK
from notices.work.looking import due
from notices.work.missing import missing
from notices.work.ports import Transaction, World
from notices.work.shop_standings import standings
from notices.work.stock import is_held
from notices.work.units import present
from notices.work.viewing import View


@dataclass(frozen=True, kw_only=True, slots=True)
class _Known:
    """What the tables of owners and units are made from."""

    owners: Mapping[str, OwnerRow]
    contacts: Mapping[str, list[ContactRow]]
    units: Mapping[str, UnitRow]
    cases: tuple[CaseRow, ...]
    came: Mapping[str, str]

    def ways(self, owner_id: str) -> tuple[str, str, str]:
        """Return the usable address, number and postal lines of an owner, "" where there is none."""
        usable: dict[str, str] = {}
        for row in self.contacts.get(owner_id, []):
            if row.fault is None:
                usable.setdefault(row.channel, row.value)
        return usable.get("email", ""), usable.get("phone", ""), usable.get("letter", "")

    def faults(self, owner_id: str) -> str:
        """Return why the ways to an owner that cannot be used cannot be."""
        return "; ".join(
            f"{row.channel}: {FAULTS.get(row.fault, row.fault)}"
            for row in self.contacts.get(owner_id, [])
            if row.fault is not None and row.channel != LINK
        )


def view(world: World, name: str) -> View:
    """Return the table called *name*, one of `VIEWS`, as the register has it now."""
    return VIEWS[name](world)


def _known(world: World) -> _Known:
    with world.register.look() as tx:
        return _Known(
            owners=tx.people.owners(),
            contacts=tx.people.contacts(),
            units=tx.units.units(),
            cases=tuple(tx.cases.all()),
            came=_came(tx),
        )


def _came(tx: Transaction) -> dict[str, str]:
    """Return in which lists and rows each unit stands."""
    found: dict[str, list[str]] = {}
    for source in tx.lists.sources():
        for row in tx.lists.rows(source.source_id):
            if row.unit_id:
                found.setdefault(row.unit_id, []).append(f"{source.source_id}:{row.row_no}")
    return {unit_id: ", ".join(places) for unit_id, places in found.items()}


def _owner(known: _Known, owner: OwnerRow, role: str, units: int) -> tuple[Cell, ...]:
    return (
        owner.owner_id,
        owner.name,
        owner.kind,
        role,
        units,
        *known.ways(owner.owner_id),
        owner.country or "",
        owner.language,
        owner.basis,
        known.faults(owner.owner_id),
    )


def _owners(world: World) -> View:
    """Return one row a person or firm and part in a unit: who they are, how they are reached, how many units."""
    known = _known(world)
    with world.register.look() as tx:
        held = Counter((one.owner_id, one.role) for one in present(tx.units.holdings()))
    rows = [_owner(known, known.owners[owner_id], role, units) for (owner_id, role), units in held.items()]
    headings = ("owner", "name", "kind", "role", "units", "email", "phone", "address", "country")
    return View(
        name="owners",
        headings=(*headings, "language", "language by", "not usable"),
        rows=tuple(sorted(rows, key=lambda row: (str(row[1]), str(row[0]), str(row[3])))),
    )


_UNIT = (
    "unit",
    "code",
    "sold on",
    "sold in",
    "verdict",
    "use",
    "stopped",
    "stage",
    "ending",
    "where",
    "list",
)
_KEEPER = ("name", "email", "phone", "address", "country", "language")


def _unit(known: _Known, row: CaseRow) -> tuple[Cell, ...]:
    case = row.case
    unit = known.units[case.unit_id]
    return (
        case.unit_id,
        unit.code or "",
        unit.sold_on.isoformat() if unit.sold_on else "",
        unit.sold_in or "",
        case.verdict or "not judged",
        case.segment.value,
        case.stopped.value,
        case.stage.key,
        case.ending or "",
        place_of(case),
        known.came.get(case.unit_id, ""),
        *_keeper(known, case.keeper_id),
    )


def _keeper(known: _Known, owner_id: str | None) -> tuple[str, ...]:
    owner = known.owners.get(owner_id or "")
    if owner is None:
        return ("",) * len(_KEEPER)
    return (owner.name, *known.ways(owner.owner_id), owner.country or "", owner.language)


def _units(world: World) -> View:
    """Return one row a unit: what is known of it, where it stands, which list named it, who keeps it."""
    known = _known(world)
    rows = tuple(_unit(known, row) for row in known.cases)
    return View(name="units", headings=(*_UNIT, *_KEEPER), rows=rows)


def _not_reached(world: World) -> View:
    """Return the units in owners' hands to whose owner no notice is out, and why no way there can be used."""
    known = _known(world)
    rows = tuple(
        (*_unit(known, row), _why(known, row))
        for row in known.cases
        if place_of(row.case) == "in_hands" and column_of(row.case) == "listed"
    )
    return View(name="not-reached", headings=(*_UNIT, *_KEEPER, "why"), rows=rows)


def _why(known: _Known, row: CaseRow) -> str:
    owner_id = row.case.keeper_id or ""
    if any(known.ways(owner_id)):
        return known.faults(owner_id) or "nothing has gone out yet"
    return known.faults(owner_id) or "no address or number is known"


def _due(world: World) -> View:
    """Return what is due by today, in the order of the work."""
    rows = tuple(
        (step.on.isoformat(), step.unit_id, step.step, step.channel, step.why, step.owner, "\n".join(step.to))
        for step in due(world).steps
    )
    return View(name="due", headings=("on", "unit", "step", "channel", "why", "name", "to"), rows=rows)


def _gaps(world: World) -> View:
    """Return what was sold and is on the lists by shop and month; an empty cell is not known."""
    rows = tuple(
        (gap.shop, gap.month, _number(gap.sold), gap.listed, _number(gap.unknown))
        for gap in missing(world).gaps.months
    )
    return View(name="gaps", headings=("sold by", "month", "sold", "listed", "unknown"), rows=rows)


def _stock(world: World) -> View:
    """Return the units put away in stock, those still to be reworked or destroyed first: the rework list."""
    known = _known(world)
    held = [row.case for row in known.cases if is_held(row.case.whereabouts, row.case.ending)]
    rows = [
        (
            _to_do(case),
            case.unit_id,
            known.units[case.unit_id].code or "",
            case.verdict or "not judged",
            case.why,
            case.judged_by,
            known.came.get(case.unit_id, ""),
        )
        for case in sorted(held, key=lambda case: (case.verdict == Verdict.CLEARED, case.unit_id))
    ]
    headings = ("what to do", "unit", "code", "verdict", "why", "judged by", "list")
    return View(name="stock", headings=headings, rows=tuple(rows))


def _to_do(case: Case) -> str:
    """Return what is to be done with a unit in stock; what clears it is said, and holds as known by that revision."""
    if case.verdict == Verdict.CLEARED:
        return f"cleared: {case.why}" if case.why else "cleared"
    return "hold back: look at the code" if case.verdict == Verdict.FOREIGN else "hold back"


def _shops(world: World) -> View:
    """Return one row a shop or lessor: what it said, what it was given, what we count ourselves, what is due."""
    rows = tuple(
        (
            one.owner.name,
            "shop" if one.lets is None else "lessor",
            {None: "no word", True: "yes", False: "no"}[one.case.stopped] if one.lets is None else "",
            _number(one.case.shelf),
            _number(one.case.sold),
            one.listed,
            one.case.names,
            one.case.packed,
            _number(one.case.forwarded),
            one.answered,
            one.due.step if one.due else "",
            one.due.on.isoformat() if one.due else "",
        )
        for one in standings(world)
    )
    headings = (
        "name",
        "role",
        "stopped",
        "on the shelf",
        "says it sold",
        "on the lists",
        "names",
        "addresses",
    )
    return View(name="shops", headings=(*headings, "forwarded", "answered", "due", "on"), rows=rows)


def _number(count: int | None) -> Cell:
    return "" if count is None else count


VIEWS: Mapping[str, Callable[[World], View]] = {
    "owners": _owners,
    "units": _units,
    "due": _due,
    "not-reached": _not_reached,
    "gaps": _gaps,
    "stock": _stock,
    "shops": _shops,
}

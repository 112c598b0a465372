"""Take a sales list in: owners, units, where each came from; the same list twice changes nothing."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import PurePosixPath

from audiences.columns import Columns, from_toml, guess, read_rows, to_toml
from audiences.findings import Finding, must_mend
from audiences.forms import NO_FORM
from audiences.list_faults import LARGEST_LIST, list_too_large
from audiences.needed_columns import is_read, lacking
from audiences.owners import Role
from audiences.sheets import table_of
from audiences.tables import Table, read_csv, refused
from audiences.workbooks import is_workbook
from notices.work.holders import roles_of, see, take_holders
from notices.work.links import prepare_secrets
from notices.work.lists import Imported, ListRead, with_took
from notices.work.ports import World
from notices.work.revisions import draft, signed
from notices.work.shops import take_sellers, take_shops
from notices.work.stock import sold_after_all, take_stock
from notices.work.taking import Taking
from notices.work.units import SHOP

# A row with one of these could not be told apart into cells: it counts as refused.
_LEFT_OUT_CODES = frozenset({"row-broken", "row-cells"})
_SUFFIXES = frozenset({".csv", ".tsv", ".txt", ".xlsx", ".xlsm", ".xlsb", ".xls", ".ods"})


def read_list(
    world: World, *, data: bytes, file: str, name: str, columns: Columns | None = None, sheet: str = ""
) -> ListRead:
    """Read a list and its columns: those given, else those remembered beside it, else guessed from the headings.

    *sheet* names the sheet of a workbook; without it the remembered one is read, else the first.
    """
    place = f"lists/{name}.columns.toml"
    remembered = world.folder.read(place)
    found: tuple[Finding, ...] = ()
    before: Columns | None = columns
    if columns is None and remembered is not None:
        before, found = from_toml(remembered.decode("utf-8", "replace"), place)
    table = _table(world, data, file, before, sheet)
    if columns is None:
        columns = guess(table.headings) if remembered is None else before
    lacks = tuple(lacking(columns, table)) if columns and table.headings else ()
    readable = columns is not None and is_read(columns, table)
    return ListRead(
        name=name,
        file=file,
        data=data,
        columns=replace(columns, form=table.form) if columns and readable else None,
        table=table,
        findings=(*table.findings, *found, *lacks),
    )


def _table(world: World, data: bytes, file: str, before: Columns | None, sheet: str) -> Table:
    form = before.form if before else NO_FORM
    if len(data) > LARGEST_LIST:
        return refused(list_too_large(file))
    if not is_workbook(data):
        return read_csv(data, file, remembered=form)
    known = {heading for headings in before.by_meaning.values() for heading in headings} if before else set()
    return table_of(world.sheet(data, sheet or form.sheet), file, known=known)


def import_list(world: World, read: ListRead, *, role: Role = "keeper", put_away: bool = False) -> Imported:
    """Copy the list into ``lists/``, remember its columns, and write its owners and units into the register.

    *role* is the part in a unit that rows speak of which do not say which. Everything is judged by the signed
    revision; before the first signature nothing is judged. *put_away* says that the list holds units which were not
    sold or not delivered.
    """
    if read.columns is None:
        return _nothing(read, ())
    with _nothing_to_collect():
        rows, found = read_rows(read.table, read.columns, default_country=_country(world))
    if not rows and must_mend((*read.findings, *found)):
        return _nothing(read, found)
    world.folder.write(f"lists/{read.name}{_suffix(read)}", read.data)
    world.folder.write(f"lists/{read.name}.columns.toml", to_toml(read.columns).encode())
    with _nothing_to_collect(), world.register.change() as tx:
        prepare_secrets(tx, world)
        keepers = [] if put_away else [row for row in rows if (row.role or role) == "keeper"]
        taking = Taking.begin(tx, world, read, keepers)
        stock = take_stock(tx, world, read, rows if put_away else (), taking.known, taking.seen)
        for row in keepers:
            taking.take(row)
        parts = [] if put_away else roles_of(rows, role)
        see(taking.known, taking.seen, read.name, parts)
        done = taking.end(refused=_unread(read) + len(read.table.rows) - len(rows), found=found)
        if put_away:
            return with_took(done, stock)
        if "shop" in read.columns.by_meaning:
            take_sellers(tx, world, read.name, rows)
        others = take_holders(tx, world, read, parts)
        sellers = take_shops(tx, world, read, [row for row in rows if (row.role or role) == SHOP])
        let_go = sold_after_all(tx, world, read.file, taking.seen.items())
        return with_took(_of_shops(done) if role == SHOP else done, others, sellers, let_go)


@contextmanager
def _nothing_to_collect() -> Iterator[None]:
    """Let the collector of cycles rest: all that a list brings is kept to its end, and would be walked over in vain."""
    rested = not gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if not rested:
            gc.enable()


def _of_shops(done: Imported) -> Imported:
    """Leave out that a list of shops has no column of codes: it names no units."""
    kept = (one for one in done.findings if (one.code, one.path) != ("column-wanted", "code"))
    return replace(done, findings=tuple(kept))


def _suffix(read: ListRead) -> str:
    """Return the suffix under which a list is kept: its own, where lists have it; never that of another file here."""
    suffix = PurePosixPath(read.file).suffix.lower()
    return suffix if suffix in _SUFFIXES else ".xlsx" if read.table.form.sheet else ".csv"


def _nothing(read: ListRead, found: tuple[Finding, ...]) -> Imported:
    rows = _unread(read) + len(read.table.rows)
    return Imported(new=0, changed=0, same=0, refused=rows, missing=0, findings=(*read.findings, *found))


def _unread(read: ListRead) -> int:
    """Count the rows, below the headings, that could not even be told apart into cells."""
    return len({one.line for one in read.table.findings if one.code in _LEFT_OUT_CODES})


def _country(world: World) -> str | None:
    """Return the issuer's country, for telephone numbers without one; a campaign that cannot be read has none."""
    with world.register.look() as tx:
        held = signed(tx)
    if held:
        return held.campaign.issuer.country
    revision = draft(world).revision
    return revision.campaign.issuer.country if revision else None

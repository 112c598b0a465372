"""Take a sales list in: owners, units, where each came from; the same list twice changes nothing."""

from audiences.columns import Columns, from_toml, guess, read_rows, to_toml
from audiences.findings import Finding, must_mend
from audiences.tables import read_csv
from notices.work.links import prepare_secrets
from notices.work.lists import Imported, ListRead
from notices.work.ports import World
from notices.work.revisions import draft, signed
from notices.work.taking import Taking


def read_list(world: World, *, data: bytes, file: str, name: str, columns: Columns | None = None) -> ListRead:
    """Read a list and its columns: those given, else those remembered beside it, else guessed from the headings."""
    table = read_csv(data, file)
    remembered = world.folder.read(f"lists/{name}.columns.toml")
    found: tuple[Finding, ...] = ()
    if columns is None and remembered is not None:
        columns, found = from_toml(remembered.decode("utf-8", "replace"), f"lists/{name}.columns.toml")
    elif columns is None:
        columns = guess(table.headings)
    return ListRead(
        name=name, file=file, data=data, columns=columns, table=table, findings=(*table.findings, *found)
    )


def import_list(world: World, read: ListRead, *, suffix: str = ".csv") -> Imported:
    """Copy the list into ``lists/``, remember its columns, and write its owners and units into the register.

    Everything is judged by the signed revision; before the first signature nothing is judged.
    """
    if read.columns is None:
        return _nothing(read, ())
    rows, found = read_rows(read.table, read.columns, default_country=_country(world))
    if not rows and must_mend(found):
        return _nothing(read, found)
    world.folder.write(f"lists/{read.name}{suffix}", read.data)
    world.folder.write(f"lists/{read.name}.columns.toml", to_toml(read.columns).encode())
    with world.register.change() as tx:
        prepare_secrets(tx, world)
        taking = Taking.begin(tx, world, read)
        for row in rows:
            taking.take(row)
        return taking.end(refused=_unread(read) + len(read.table.rows) - len(rows), found=found)


def _nothing(read: ListRead, found: tuple[Finding, ...]) -> Imported:
    rows = _unread(read) + len(read.table.rows)
    return Imported(new=0, changed=0, same=0, refused=rows, missing=0, findings=(*read.findings, *found))


def _unread(read: ListRead) -> int:
    """Count the rows, below the headings, that could not even be told apart into cells."""
    return len({one.line for one in must_mend(read.table.findings) if one.line and one.line > 1})


def _country(world: World) -> str | None:
    """Return the issuer's country, for telephone numbers without one; a campaign that cannot be read has none."""
    with world.register.look() as tx:
        held = signed(tx)
    if held:
        return held.campaign.issuer.country
    revision = draft(world).revision
    return revision.campaign.issuer.country if revision else None

"""Back up and restore: all of it or nothing, checked before it counts, across engines."""

import json
import random
import shutil
import zipfile
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import timedelta
from pathlib import Path

import pytest

from audiences import canonical
from notices import assembly
from notices.cases.outgoing import RegisterError
from notices.settings import Settings
from notices.store import open_register
from notices.work import keeping, marks
from notices.work.keeping import BackedUp, Restored
from notices.work.ports import World
from notices.work.shelves import Archive, Shelf
from notices.work.verifying import verify
from tests import folders
from tests.folders import Desk, a_desk
from tests.registers import ENGINES, an_address
from tests.tampering import tamper

SECRET = "opensesame"  # noqa: S105 - what must never turn up in a backup


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    with a_desk(tmp_path / "campaign") as made:
        (made.root / "mail.toml").write_text(f'host = "localhost"\nuser = "{SECRET}"\n', "utf-8")
        (made.root / "evidence").mkdir()
        (made.root / "evidence" / "ab12").write_bytes(b"\x89PNG\r\n\0")
        (made.root / "out").mkdir()
        (made.root / "out" / "page.html").write_text("made anew at will", "utf-8")
        made.take()
        made.sign()
        made.post()
        made.send()
        yield made


@pytest.fixture
def disk(tmp_path: Path) -> Path:
    place = tmp_path / "disk"
    place.mkdir()
    return place


def shelf(place: Path, root: Path) -> Shelf:
    return assembly.shelf(place, root, Settings())


def backed_up(desk: Desk, disk: Path) -> BackedUp:
    return keeping.backup(desk.world, shelf(disk, desk.root), by="Ines Hall")


@contextmanager
def elsewhere(root: Path, engine: str = "sqlite") -> Iterator[World]:
    root.mkdir(exist_ok=True)
    with an_address(engine, root) as address:
        register = open_register(address, now=folders.RECALLED)
        dice = random.Random(8)  # noqa: S311 - a test repeats
        try:
            yield assembly.world(root, register, now=lambda: folders.RECALLED, draw=dice.randrange)
        finally:
            register.close()


def restored(world: World, place: Path, root: Path) -> Restored:
    taken = shelf(place, root)
    return keeping.restore(world, taken, keeping.checked(taken))


def rows(world: World) -> dict[str, list[str]]:
    with world.register.look() as tx:
        found = {name: list(tx.whole.lines(name)) for name in tx.whole.tables()}
    kept = {"backup", "reconcile"}
    found["meta"] = [line for line in found["meta"] if json.loads(line)["name"] not in kept]
    return found


def test_a_backup_is_one_file_that_names_everything_it_holds(desk: Desk, disk: Path) -> None:
    done = backed_up(desk, disk)
    with zipfile.ZipFile(done.place) as file:
        names = set(file.namelist())
        whole = b"".join(file.read(name) for name in names)

    assert [each.name for each in disk.iterdir()] == ["notices-20260226T170000Z.zip"]
    assert done.findings == ()
    assert {
        "tables/events.jsonl",
        "tables/postings.jsonl",
        "folder/campaign.yaml",
        "folder/evidence/ab12",
    } <= names
    assert not any("mail.toml" in name or "out/" in name or "last-run" in name for name in names)
    assert SECRET.encode() not in whole
    assert Path(done.place).stat().st_mode & 0o077 == 0


def test_two_backups_at_one_moment_are_two_files(desk: Desk, disk: Path) -> None:
    backed_up(desk, disk)
    backed_up(desk, disk)

    assert sorted(each.name for each in disk.iterdir()) == [
        "notices-20260226T170000Z-2.zip",
        "notices-20260226T170000Z.zip",
    ]


@pytest.mark.parametrize("engine", ENGINES)
def test_a_register_comes_back_as_it_was_on_either_engine(
    engine: str, desk: Desk, disk: Path, tmp_path: Path
) -> None:
    backed_up(desk, disk)
    with elsewhere(tmp_path / "new", engine) as world:
        done = restored(world, disk, tmp_path / "new")

        assert (done.verified.findings, done.kept, done.made_at) == ((), (), folders.WARNED)
        assert done.verified.cases == 5
        assert rows(world) == rows(desk.world)
        assert (tmp_path / "new/evidence/ab12").read_bytes() == b"\x89PNG\r\n\0"
        assert not (tmp_path / "new/mail.toml").exists()
        assert not (tmp_path / "new/out").exists()


def test_a_backup_of_a_server_s_register_comes_back_as_a_file(desk: Desk, disk: Path, tmp_path: Path) -> None:
    backed_up(desk, disk)
    second = tmp_path / "second disk"
    second.mkdir()
    with elsewhere(tmp_path / "server", "postgresql") as world:
        restored(world, disk, tmp_path / "server")
        keeping.backup(world, shelf(second, tmp_path / "server"), by="Ines Hall")
        with elsewhere(tmp_path / "file") as third:
            done = restored(third, second, tmp_path / "file")

            assert done.verified.findings == ()
            assert rows(third) == rows(world)


def test_a_register_that_is_not_empty_is_left_as_it_is(desk: Desk, disk: Path, tmp_path: Path) -> None:
    backed_up(desk, disk)
    with a_desk(tmp_path / "other") as other:
        other.take("sale no,name\n1,Somebody Else\n")
        before = rows(other.world)

        with pytest.raises(RegisterError, match="the register is not empty"):
            restored(other.world, disk, other.root)
        assert rows(other.world) == before


def test_a_file_that_is_there_stays_and_is_named(desk: Desk, disk: Path, tmp_path: Path) -> None:
    backed_up(desk, disk)
    (tmp_path / "new").mkdir()
    (tmp_path / "new" / "campaign.yaml").write_text("a newer draft", "utf-8")
    with elsewhere(tmp_path / "new") as world:
        done = restored(world, disk, tmp_path / "new")

    assert done.kept == ("campaign.yaml",)
    assert (tmp_path / "new" / "campaign.yaml").read_text("utf-8") == "a newer draft"


def test_the_newest_backup_of_a_folder_is_taken(desk: Desk, disk: Path) -> None:
    backed_up(desk, disk)
    desk.now += timedelta(hours=3)
    second = backed_up(desk, disk)

    assert shelf(disk, desk.root).take().place == second.place


def damaged(path: Path, name: str, data: bytes | None, more: dict[str, bytes] | None = None) -> Path:
    """Write a copy of a backup in which one part is another, or none, or more lie in it."""
    changed = path.with_name("changed.zip")
    with zipfile.ZipFile(path) as before, zipfile.ZipFile(changed, "w") as after:
        for each in before.namelist():
            if each != name:
                after.writestr(each, before.read(each))
            elif data is not None:
                after.writestr(each, data)
        for each, extra in (more or {}).items():
            after.writestr(each, extra)
    return changed


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("tables/events.jsonl", b""),
        ("tables/events.jsonl", b'{"stream":"x"}\n'),
        ("folder/campaign.yaml", b"another"),
        ("folder/campaign.yaml", None),
        ("backup.json", None),
        ("backup.json", b"{"),
        ("backup.json", b'{"what":"notices backup"}'),
        ("backup.json", b'{"what":"shopping"}'),
    ],
)
def test_a_backup_that_is_not_what_was_written_is_refused(
    name: str, data: bytes | None, desk: Desk, disk: Path, tmp_path: Path
) -> None:
    file = damaged(Path(backed_up(desk, disk).place), name, data)
    with elsewhere(tmp_path / "new") as world:
        before = rows(world)

        with pytest.raises(RegisterError, match=r"changed\.zip: "):
            restored(world, file, tmp_path / "new")
        assert rows(world) == before
        assert [each.name for each in (tmp_path / "new").iterdir() if "register" not in each.name] == []


def test_a_backup_that_holds_more_than_its_list_is_refused(desk: Desk, disk: Path) -> None:
    file = damaged(Path(backed_up(desk, disk).place), "", None, {"folder/mail.toml": b"host = 'elsewhere'"})

    with pytest.raises(RegisterError, match="the backup is damaged; take another one"):
        keeping.checked(shelf(file, desk.root))


def test_a_backup_of_a_newer_form_names_the_way_out(desk: Desk, disk: Path) -> None:
    listed = {"what": "notices backup", "form": 2, "facts": {}, "parts": {}, "rows": {}}
    file = damaged(Path(backed_up(desk, disk).place), "backup.json", canonical.dump(listed).encode())

    with pytest.raises(RegisterError, match="this backup has form 2, this program knows form 1; install"):
        keeping.checked(shelf(file, desk.root))


@pytest.mark.parametrize("share", [0, 1, 50, 99])
def test_a_backup_that_was_cut_off_is_refused(share: int, desk: Desk, disk: Path) -> None:
    path = Path(backed_up(desk, disk).place)
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) * share // 100])

    with pytest.raises(RegisterError, match="the backup is damaged; take another one"):
        keeping.checked(shelf(path, desk.root))


def test_no_changed_byte_of_a_backup_goes_unseen(desk: Desk, disk: Path) -> None:
    path = Path(backed_up(desk, disk).place)
    whole = path.read_bytes()
    dice = random.Random(3)  # noqa: S311 - a test repeats
    with zipfile.ZipFile(path) as file:
        held = {info.filename: (info.header_offset, info.compress_size) for info in file.infolist()}
    for name in ("tables/events.jsonl", "tables/owners.jsonl", "folder/campaign.yaml", "backup.json"):
        start, size = held[name]
        place = start + 30 + len(name) + 20 + dice.randrange(size - 20)
        path.write_bytes(whole[:place] + bytes([whole[place] ^ 0x55]) + whole[place + 1 :])

        with pytest.raises(RegisterError):
            keeping.checked(shelf(path, desk.root))


def test_places_where_no_backup_lies_are_named(desk: Desk, disk: Path, tmp_path: Path) -> None:
    with pytest.raises(RegisterError, match="disk: no backup lies here"):
        shelf(disk, desk.root).take()
    with pytest.raises(RegisterError, match=r"none\.zip: the backup cannot be read \(No such file"):
        shelf(tmp_path / "none.zip", desk.root).take()
    with pytest.raises(
        RegisterError, match="nowhere is no folder; make it, or connect the disk that it lies on"
    ):
        backed_up(desk, tmp_path / "nowhere")


def forged(path: Path, table: str, lines: list[str]) -> Path:
    """Write a backup whose table holds *lines*, with digests that fit: only what they say can give it away."""
    with zipfile.ZipFile(path) as file:
        tables = [
            (each.removeprefix("tables/").removesuffix(".jsonl"), file.read(each).decode().splitlines())
            for each in file.namelist()
            if each.startswith("tables/")
        ]
        files = [
            (each.removeprefix("folder/"), file.read(each)) for each in file.namelist() if "folder/" in each
        ]
        facts = json.loads(file.read("backup.json"))["facts"]
    path.unlink()
    put = shelf(path.parent, path.parent).put
    changed = [(name, lines if name == table else rest) for name, rest in tables]
    return Path(put("forged", facts, changed, files).place)


@pytest.mark.parametrize("line", ["{", "7", '{"name":"schema"}'])
def test_a_forged_backup_ends_in_a_sentence(line: str, desk: Desk, disk: Path, tmp_path: Path) -> None:
    path = Path(backed_up(desk, disk).place)
    for table in ("events", "meta"):
        file = forged(path, table, [line])
        path = file
        with elsewhere(tmp_path / table) as world, pytest.raises(RegisterError, match="take another backup"):
            looked_into(world, file, tmp_path / table)


def looked_into(world: World, file: Path, root: Path) -> None:
    taken = shelf(file, root)
    archive = keeping.checked(taken)
    keeping.faults(archive)
    keeping.restore(world, taken, archive)


def test_a_register_of_another_form_is_not_restored(desk: Desk, disk: Path, tmp_path: Path) -> None:
    path = Path(backed_up(desk, disk).place)
    file = forged(path, "meta", [canonical.dump({"name": "schema", "value": "99"})])
    with (
        elsewhere(tmp_path / "new") as world,
        pytest.raises(
            RegisterError, match="the register in this backup has form 99, this program knows form"
        ),
    ):
        restored(world, file, tmp_path / "new")


@pytest.mark.parametrize("name", ["mail.toml", "../stray", "lists/../../stray", "/etc/stray"])
def test_a_backup_writes_no_other_file(name: str, desk: Desk, disk: Path, tmp_path: Path) -> None:
    backed_up(desk, disk)
    with desk.world.register.look() as tx:
        tables = [(each, list(tx.whole.lines(each))) for each in tx.whole.tables()]
    strange = shelf(disk, desk.root).put("strange", {}, tables, [(name, b"x")])
    with elsewhere(tmp_path / "new") as world, pytest.raises(RegisterError, match="take another backup"):
        restored(world, Path(strange.place), tmp_path / "new")

    assert list(tmp_path.rglob("stray")) == []
    assert not (tmp_path / "new" / "mail.toml").exists()


def test_a_record_that_was_broken_before_is_backed_up_and_said_so(
    desk: Desk, disk: Path, tmp_path: Path
) -> None:
    desk.world.register.close()
    register = open_register(str(desk.root / "register.db"), now=desk.now)
    tamper(register, "DELETE FROM events WHERE kind = 'notice_handed_over'")
    world = assembly.world(desk.root, register, now=lambda: desk.now)
    tamper(register, "UPDATE events SET actor = 'nobody' WHERE stream LIKE 'unit:%' AND seq = 1")
    done = keeping.backup(world, shelf(disk, desk.root), by="Ines Hall")
    register.close()
    with elsewhere(tmp_path / "new") as new:
        again = restored(new, disk, tmp_path / "new")

    assert {one.code for one in done.findings} == {"event-changed"}
    assert {"event-changed", "case-differs"} == {one.code for one in again.verified.findings}


def test_a_register_folded_by_other_steps_is_folded_anew(desk: Desk, disk: Path, tmp_path: Path) -> None:
    with desk.world.register.change() as tx:
        tx.safe.put_note("fold", "0")
    backed_up(desk, disk)
    with elsewhere(tmp_path / "new") as world:
        done = restored(world, disk, tmp_path / "new")
        with world.register.look() as tx:
            fold = tx.safe.note("fold")

    assert (done.verified.findings, fold != "0") == ((), True)


class Meanwhile:
    """A shelf at which somebody writes to the register between two tables."""

    def __init__(self, inner: Shelf, desk: Desk) -> None:
        self._inner = inner
        self._desk = desk
        self.take, self.same_disk = inner.take, inner.same_disk

    def put(
        self,
        name: str,
        facts: Mapping[str, object],
        tables: Iterable[tuple[str, Iterable[str]]],
        files: Iterable[tuple[str, bytes]],
    ) -> Archive:
        """Write a backup, slowly."""
        return self._inner.put(name, facts, self._slowly(tables), files)

    def _slowly(self, tables: Iterable[tuple[str, Iterable[str]]]) -> Iterator[tuple[str, Iterable[str]]]:
        for turn, table in enumerate(tables):
            self._desk.take(f"sale no,name\n{turn},Late Owner {turn}\n", name=f"late {turn}")
            yield table


def test_a_backup_may_be_made_while_others_write(desk: Desk, disk: Path, tmp_path: Path) -> None:
    keeping.backup(desk.world, Meanwhile(shelf(disk, desk.root), desk), by="Ines Hall")
    with elsewhere(tmp_path / "new") as world:
        done = restored(world, disk, tmp_path / "new")

    assert (done.verified.findings, done.verified.cases) == ((), 5)
    with desk.world.register.look() as tx:
        assert verify(tx).cases > 20


def codes(world: World) -> list[tuple[str, int | None]]:
    return [(one.code, one.line) for one in keeping.backup_findings(keeping.last_backup(world))]


def test_what_is_not_well_about_the_last_backup_is_said_and_nothing_else(desk: Desk, disk: Path) -> None:
    never = codes(desk.world)
    backed_up(desk, disk)
    same_disk = codes(desk.world)
    desk.now += timedelta(days=1)
    a_day = codes(desk.world)
    desk.now += timedelta(seconds=1)
    old = codes(desk.world)

    assert (never, same_disk) == ([("backup-missing", None)], [("backup-same-disk", None)])
    assert (a_day, old) == (same_disk, [("backup-old", None), *same_disk])


def test_nothing_is_said_of_a_fresh_backup_on_another_disk(desk: Desk, disk: Path) -> None:
    keeping.backup(
        desk.world,
        assembly.shelf(disk, desk.root, Settings(register="postgresql://elsewhere/x")),
        by="Ines Hall",
    )
    last = keeping.last_backup(desk.world)

    assert codes(desk.world) == []
    assert keeping.last_as_json(last) == {
        "at": "2026-02-26T17:00:00.000000Z",
        "same_disk": None,
        "old": False,
    }
    assert keeping.last_as_json(None) is None


def test_a_restored_register_waits_to_be_reconciled_unless_its_mark_is_there(
    desk: Desk, disk: Path, tmp_path: Path
) -> None:
    backed_up(desk, disk)
    with elsewhere(tmp_path / "new") as world:
        strange = restored(world, disk, tmp_path / "new")
        why = marks.why_not(world)
    (tmp_path / "same").mkdir()
    shutil.copy(desk.root / marks.MARK_FILE, tmp_path / "same")
    with elsewhere(tmp_path / "same") as world:
        known = restored(world, disk, tmp_path / "same")
        fine = marks.why_not(world)

    assert (strange.reconcile, known.reconcile, fine) == (True, False, None)
    assert why is not None
    assert why.startswith(
        "this register was put back from a backup and may not know of all that was sent; run "
    )

"""Taking a sales list in: read, judged and written into a register on SQLite, whole."""

import csv
import io
import json
import random
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from notices import assembly
from notices.settings import Settings
from notices.store import open_register
from notices.work import importing
from notices.work.lists import Imported
from notices.work.ports import World
from tests.benchmarks import yardsticks
from tests.benchmarks.timing import ROUNDS, Bound, Line, cpu, slowness
from tests.builders import DEMO_FOLDER
from tests.folders import RECALLED

_HEADINGS = ("sale no", "name", "email", "phone", "country", "language", "code", "sold on", "sold in")
_COUNTRIES = (("DE", "de", "0151 2{:07d}"), ("GB", "en", "07700 {:06d}"), ("IE", "en", "085 {:07d}"))
_GIVEN = ("Ada", "Jürgen", "Nora", "Bernd", "Zoë", "سمير")
_FAMILY = ("Quell", "Ölt", "Stamp", "Müller", "O'Neil", "Brook")
_FIELDS = ("stream", "seq", "kind", "version", "at", "recorded_at", "actor", "via", "payload", "once")
TABLES = ("owners", "contacts", "units", "holdings", "sources", "source_rows", "events", "cases")


def a_list(count: int) -> bytes:
    """Invent a list of *count* sales, some of several units, in three countries."""
    dice = random.Random(4)  # noqa: S311 - a benchmark repeats
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(_HEADINGS)
    for number in range(count):
        owner = number - (number % 10 == 0 and number > 0)  # each tenth sale goes to the buyer before
        country, language, phone = _COUNTRIES[owner % 3]
        name = f"{_GIVEN[owner % 6]} {_FAMILY[owner // 6 % 6]}"
        year = 25 - number // 100_000  # there are too few codes in one for a long list
        code = f"QM-{year:02d}{20 + number % 30:02d}-{'AB'[number % 2]}{dice.randrange(10_000):04d}"
        sold = f"2025-{1 + number % 12:02d}-{1 + number % 28:02d}"
        email = f"owner.{owner}@mail{owner % 50}.example"
        writer.writerow(
            (number + 1, name, email, phone.format(owner), country, language, code, sold, country)
        )
    return text.getvalue().encode()


@contextmanager
def a_world(folder: Path) -> Iterator[World]:
    """Yield a world on the demo's campaign at its recall, nothing imported or signed yet."""
    folder.mkdir(parents=True)
    shutil.copytree(DEMO_FOLDER / "pictures", folder / "pictures")
    shutil.copytree(DEMO_FOLDER / "translations-1", folder / "translations")
    shutil.copy(DEMO_FOLDER / "campaign-1.yaml", folder / "campaign.yaml")
    dice = random.Random(7)  # noqa: S311 - both ways are to write the same ids
    with assembly.opened(folder, Settings(), now=lambda: RECALLED, draw=dice.randrange) as world:
        yield world


def take(world: World, data: bytes) -> Imported:
    """Read and import a list."""
    read = importing.read_list(world, data=data, file="shop.csv", name="shop")
    return importing.import_list(world, read)


def importing_rows(*, quick: bool) -> Iterator[Line]:
    """Compare with the bare calls for the same values, and the same rows by bare executemany."""
    size = 300 if quick else 100_000
    data = a_list(size)
    with tempfile.TemporaryDirectory() as place:
        root = Path(place)
        with a_world(root / "first") as world:
            imported = take(world, data)
        assert imported.new == size, imported
        rows = yardsticks.rows_of(root / "first/register.db", TABLES)
        raws, told = _to_spell(rows)
        numbers = iter(range(1_000))

        def ours() -> Callable[[], object]:
            folder = root / f"ours-{next(numbers)}"

            def work() -> None:
                with a_world(folder) as world:
                    take(world, data)

            return work

        def bare() -> Callable[[], object]:
            path = root / f"bare-{next(numbers)}.db"
            open_register(str(path), now=RECALLED).close()

            def work() -> None:
                yardsticks.read_list(data)
                yardsticks.spelt(raws, told)
                yardsticks.write_rows(path, rows)

            return work

        assert yardsticks.spelt(raws, told) == (
            [row[4] for row in rows["source_rows"]],
            [(row[8], row[10]) for row in rows["events"]],
        )
        ours()()
        bare()()
        assert yardsticks.rows_of(root / "ours-0/register.db", TABLES) == rows
        assert yardsticks.rows_of(root / "bare-1.db", TABLES) == rows
        contacts = {(str(row[1]), str(row[3])) for row in rows["contacts"] if row[1] in {"email", "phone"}}
        assert contacts == {point for read in yardsticks.read_list(data) for point in read.points}
        ratio = slowness(ours, bare, clock=cpu, rounds=1 if quick else ROUNDS)
    yield Line(name="importing", ratio=ratio, bound=Bound(limit=1.5), size=size, clock="cpu")


def _to_spell(rows: yardsticks.Rows) -> tuple[list[dict[str, str]], list[yardsticks.Told]]:
    """Return the values that the rows of a list and its events were spelt from."""
    told, hashes = [], dict[str, str]()
    for row in rows["events"]:
        fields = dict(zip(_FIELDS, row[:10], strict=True))
        fields["payload"] = json.loads(row[8])
        told.append(yardsticks.Told(hashes.get(row[0], ""), fields))
        hashes[row[0]] = row[10]
    return [json.loads(row[4]) for row in rows["source_rows"]], told

"""The demo's whole story, told once a seed for all tests that look at it."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest

from notices import assembly
from notices.cli.entry.demonstration import SURFACES
from notices.demo import run
from notices.demo.days import Story
from notices.demo.people import Habit, Person
from notices.settings import Settings
from notices.work.ports import World
from notices.work.seeking import History, seek

# Numbers that a regulator keeps free for fiction, in E.164; the ranges from memory: Ofcom (GB), Bundesnetzagentur (DE),
# ARCEP (FR), North American Numbering Plan (US).
FICTION = re.compile(
    r"\+44808157\d{4}|\+4420794600?\d{3}|\+447700900\d{3}|\+493023125\d{3}|\+33(199|639)\d{6}|\+1\d{3}55501\d{2}"
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Told:
    """One run: its folder, what came of it, and the lines it printed."""

    folder: Path
    story: Story
    said: str

    @contextmanager
    def world(self) -> Iterator[World]:
        """Open the folder as a command does."""
        with assembly.opened(self.folder, Settings()) as world:
            yield world

    def with_habit(self, habit: Habit) -> list[Person]:
        """Return the people of one habit."""
        return [one for one in self.story.people if one.habit is habit]

    def history(self, person: Person, place: int = 0) -> History:
        """Return what the register holds of one of a person's units."""
        reference = self.story.references[person.owner.units[place].stamped]
        with self.world() as world:
            return seek(world, reference)[0]


def tell(folder: Path, seed: int, *, until: date = run.FIRST_END) -> Told:
    """Run the demo of a seed as the command does, up to the evening of a day."""
    lines: list[str] = []
    story = run.run(folder, seed, lines.append, SURFACES, until=until)
    return Told(folder=folder, story=story, said="\n".join(lines))


@pytest.fixture(scope="session")
def told(tmp_path_factory: pytest.TempPathFactory) -> Told:
    """Return the story of seed 1, up to 9 March."""
    return tell(tmp_path_factory.mktemp("demo") / "steering-link-demo", 1)


@pytest.fixture(scope="session")
def told_otherwise(tmp_path_factory: pytest.TempPathFactory) -> Told:
    """Return the story of another seed, up to 9 March."""
    return tell(tmp_path_factory.mktemp("demo") / "steering-link-demo", 20260309)


@pytest.fixture(scope="session")
def told_to_the_end(tmp_path_factory: pytest.TempPathFactory) -> Told:
    """Return the whole story of a third seed, up to 31 March."""
    return tell(tmp_path_factory.mktemp("demo") / "steering-link-demo", 3, until=run.END)

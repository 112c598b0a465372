"""The demo as a command runs it: the diary while it goes, the grid at its end, and what to try next."""

import errno
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from pathlib import Path

from notices.demo import days
from notices.demo.days import Story, Surfaces
from notices.demo.people import Habit
from notices.demo.turns import END, FIRST_END

__all__ = ["END", "FIRST_END", "run"]


def run(into: Path, seed: int, say: Callable[[str], None], surfaces: Surfaces, *, until: date) -> Story:
    """Tell the story of *seed* into *into* up to the evening of *until*, and say what to look at.

    Raises FileExistsError where *into* is not empty.
    """
    if into.exists() and (not into.is_dir() or any(into.iterdir())):
        raise FileExistsError(
            errno.EEXIST, "is there already and not empty; choose another with --into", str(into)
        )
    story = days.tell(into, seed, say, surfaces, until=until)
    say(f"\n{surfaces.status(story.last)}\n")
    say(_next(into, story, until.isoformat()))
    return story


def _next(into: Path, story: Story, day: str) -> str:
    reads, forwards = (
        next(one for one in story.people if one.habit is habit)
        for habit in (Habit.READS_B_AS_D, Habit.FORWARDS)
    )
    link = story.readers.link(forwards.owner).rsplit("/", 1)[-1]
    here = f"--campaign {into}"
    known = {story.references[unit.stamped] for one in story.people for unit in one.owner.units}
    told_safe = [step.unit_id for step in story.calls.get(4, ()) if step.unit_id in known]
    kits = [step.unit_id for step in story.calls.get(5, ())]
    steps = (
        (f"notices status {here} --on {day}", "where every unit stands"),
        (f"notices due {here} --on {day}", "what is due next, the most urgent first"),
        (
            f"notices case {story.references[reads.owner.units[0].stamped]} {here} --on {day}",
            "an owner who read B as D: not cleared",
        ),
        (
            f"notices case {story.references[forwards.owner.units[0].stamped]} {here} --on {day}",
            "a mail that was passed on to strangers",
        ),
        *_of_turns(here, told_safe, kits),
        (f"notices bulletin {here}", f"the public pages, in {into / 'out' / 'bulletin'}"),
        (f"notices serve {here} --port 8000", f"then open http://127.0.0.1:8000/{link} as an owner"),
        (f"notices proofs {here}", f"what somebody gets next, in {into / 'out' / 'proofs' / 'index.html'}"),
    )
    lines = [f"Everything lies in {into.absolute()}. Look at it:"]
    for command, what in steps:
        lines += [f"  {command}", f"      {what}"]
    return "\n".join(lines)


def _of_turns(here: str, told_safe: Sequence[str], kits: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Yield a case of each sort that worse knowledge has opened again."""
    if told_safe:
        yield f"notices case {told_safe[0]} {here} --words", "told safe on 3 March, and affected after all"
    if kits:
        yield f"notices case {kits[0]} {here}", "got a kit of the withdrawn lot"

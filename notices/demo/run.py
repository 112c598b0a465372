"""The demo as a command runs it: the diary while it goes, the grid at its end, and what to try next."""

import errno
from collections.abc import Callable
from pathlib import Path

from notices.demo import days
from notices.demo.days import Story, Surfaces
from notices.demo.people import Habit

_DAY = "2026-03-09"


def run(into: Path, seed: int, say: Callable[[str], None], surfaces: Surfaces) -> Story:
    """Tell the story of *seed* into *into*, say what to look at; FileExistsError where that is not empty."""
    if into.exists() and (not into.is_dir() or any(into.iterdir())):
        raise FileExistsError(
            errno.EEXIST, "is there already and not empty; choose another with --into", str(into)
        )
    story = days.tell(into, seed, say, surfaces)
    say(f"\n{surfaces.status(story.last)}\n")
    say(_next(into, story))
    return story


def _next(into: Path, story: Story) -> str:
    reads, forwards = (
        next(one for one in story.people if one.habit is habit)
        for habit in (Habit.READS_B_AS_D, Habit.FORWARDS)
    )
    link = story.readers.link(forwards.owner).rsplit("/", 1)[-1]
    here = f"--campaign {into}"
    steps = (
        (f"notices status {here} --on {_DAY}", "where every unit stands"),
        (f"notices due {here} --on {_DAY}", "what is due next, the most urgent first"),
        (
            f"notices case {story.references[reads.owner.units[0].stamped]} {here} --on {_DAY}",
            "an owner who read B as D: not cleared",
        ),
        (
            f"notices case {story.references[forwards.owner.units[0].stamped]} {here} --on {_DAY}",
            "a mail that was passed on to strangers",
        ),
        (f"notices bulletin {here}", f"the public pages, in {into / 'out' / 'bulletin'}"),
        (f"notices serve {here} --port 8000", f"then open http://127.0.0.1:8000/{link} as an owner"),
        (f"notices proofs {here}", f"what somebody gets next, in {into / 'out' / 'proofs' / 'index.html'}"),
    )
    lines = [f"Everything lies in {into.absolute()}. Look at it:"]
    for command, what in steps:
        lines += [f"  {command}", f"      {what}"]
    return "\n".join(lines)

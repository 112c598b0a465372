"""A view of the register, written as a file."""

from pathlib import Path

from notices import assembly
from notices.cli.saying import stop
from notices.work.ports import World
from notices.work.viewing import View


def write(world: World, file: Path, view: View) -> None:
    """Write *view* into *file*, as its suffix says; end with a sentence where it cannot hold it."""
    try:
        assembly.export(file, view.name, view.headings, view.rows, made_at=world.now())
    except ValueError as fault:
        stop(str(fault))

"""The campaign folder and its register, opened for one command."""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from notices import assembly, settings
from notices.cli.saying import stop, warn
from notices.work.ports import World
from notices.work.revisions import CAMPAIGN_FILE

SETTINGS = settings.from_environment(os.environ)


def by() -> str:
    """Return the name under which this person's commands stand in the record where none is given."""
    return SETTINGS.by


@contextmanager
def opened(folder: Path) -> Iterator[World]:
    """Yield the world of a campaign folder; end with a sentence where there is no campaign in it."""
    if not folder.is_dir():
        stop(f"{folder} is no folder; give the campaign's with --campaign DIR")
    if not (folder / CAMPAIGN_FILE).is_file() and not (folder / assembly.REGISTER_FILE).is_file():
        stop(
            f"{folder.absolute().name or folder} holds no {CAMPAIGN_FILE};"
            " give --campaign DIR, or begin with notices new"
        )
    doubt = assembly.doubtful_place(folder, SETTINGS)
    if doubt is not None:
        warn(f"notices: {doubt}")
    with assembly.opened(folder, SETTINGS) as world:
        yield world


@contextmanager
def made(folder: Path) -> Iterator[World]:
    """Make a campaign folder with the places for lists, pictures and translations, and yield its world.

    What fails or is ended in between takes away again what was made.
    """
    there = folder.exists()
    try:
        for name in ("lists", "pictures", "translations"):
            (folder / name).mkdir(parents=True, exist_ok=True)
        with assembly.opened(folder, SETTINGS) as world:
            yield world
    except BaseException:
        for made_now in list(folder.iterdir()) if there else [folder]:
            shutil.rmtree(made_now) if made_now.is_dir() else made_now.unlink()
        raise


def today() -> date:
    """Return the day by this machine's clock."""
    return assembly.clock().astimezone().date()

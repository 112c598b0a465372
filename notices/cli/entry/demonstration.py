"""The demo, run into a folder of its own."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

from notices.cli import grids
from notices.cli.entry import site
from notices.cli.saying import stop
from notices.demo import run as demo
from notices.demo.days import Surfaces

SURFACES = Surfaces(pages=site.pages, status=grids.status)


def run(into: Path, seed: int, say: Callable[[str], None], until: date | None) -> None:
    """Run the demo with the pages and the grid that the commands show, up to a day that it can stop on."""
    if until is not None and not demo.FIRST_END <= until <= demo.END:
        stop(f"--until is a day from {demo.FIRST_END} to {demo.END}")
    demo.run(into, seed, say, SURFACES, until=until or demo.FIRST_END)

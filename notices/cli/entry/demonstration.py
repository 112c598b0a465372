"""The demo, run into a folder of its own."""

from collections.abc import Callable
from pathlib import Path

from notices.cli import grids
from notices.cli.entry import site
from notices.demo import run as demo
from notices.demo.days import Surfaces

SURFACES = Surfaces(pages=site.pages, status=grids.status)


def run(into: Path, seed: int, say: Callable[[str], None]) -> None:
    """Run the demo with the pages and the grid that the commands show."""
    demo.run(into, seed, say, SURFACES)

"""The command ``notices``."""

import sys
from collections.abc import Sequence
from typing import Annotated

import typer

from audiences.findings import InvalidInputError
from notices import __version__
from notices.cases.outgoing import RegisterError, WayOutError
from notices.cli import (
    answering,
    deadlines,
    keeping,
    lists,
    markets,
    outgoing,
    overruling,
    publishing,
    releasing,
    risk,
    sending,
    signing,
    starting,
    translations,
    trouble,
    watching,
)
from notices.cli.saying import MEND, USAGE, say_findings, warn

app = typer.Typer(
    name="notices",
    help="Warn and serve the owners of a faulty product, until every unit is accounted for.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)
for group in (
    starting,
    risk,
    publishing,
    lists,
    translations,
    signing,
    overruling,
    markets,
    releasing,
    sending,
    outgoing,
    answering,
    deadlines,
    watching,
    keeping,
):
    group.add_to(app)


def _version(*, value: bool) -> None:
    if value:
        typer.echo(f"notices {__version__}")
        raise typer.Exit


@app.callback()
def _options(
    *,
    version: Annotated[
        bool,
        typer.Option(
            "--version",
            callback=lambda value: _version(value=value),
            is_eager=True,
            help="Print the version.",
        ),
    ] = False,
) -> None:
    """Warn and serve the owners of a faulty product, until every unit is accounted for."""


def run(arguments: Sequence[str]) -> int:
    """Run one command and return its exit status: 0 good, 1 something must be mended, 2 usage or environment.

    Faults of the user and of the world end in plain sentences, never in a traceback.
    """
    try:
        app(args=list(arguments), prog_name="notices")
    except SystemExit as left:
        return left.code if isinstance(left.code, int) else USAGE
    except InvalidInputError as fault:
        say_findings(fault.findings)
        return MEND
    except (RegisterError, WayOutError) as fault:
        warn(f"notices: {fault}")
        return USAGE
    except OSError as fault:
        warn(f"notices: {trouble.sentence(fault)}")
        return USAGE
    return 0


def main() -> None:
    """Run the command of this process."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
    sys.exit(run(sys.argv[1:]))


if __name__ == "__main__":
    main()

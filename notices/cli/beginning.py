"""Begin a campaign: fourteen questions, and what stands at their end."""

import inspect
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Any

import typer

from notices.campaign.asks import Ask
from notices.campaign.questions import ASKS
from notices.cli.options import Yes
from notices.cli.saying import MEND, say, say_findings, stop

_LARGEST = 1_000_000  # bytes; forty lines an answer are far less


def add_to(app: typer.Typer) -> None:
    """Add this group's command."""
    app.command("new")(_New())


class _New:
    """The command ``new``: its options are those of the table of questions, one for each thing asked."""

    def __init__(self) -> None:
        fixed: dict[str, tuple[Any, Any]] = {
            "folder": (
                Annotated[Path, typer.Argument(metavar="DIR", help="The folder to make.")],
                inspect.Parameter.empty,
            ),
            "answers": (
                Annotated[
                    Path | None,
                    typer.Option(
                        "--answers",
                        metavar="FILE",
                        help="Ask nothing; answer as in this file, as answers.toml of a folder.",
                    ),
                ],
                None,
            ),
            "yes": (Yes, False),
        }
        options = {_attribute(ask): (_option(ask), None) for ask in ASKS}
        self.__name__ = "new"
        self.__doc__ = """Begin a campaign folder: fourteen questions, ? where the answer is not yet known.

        It writes the note that stops all sales and a stop warning that is ready to be signed. What an option or
        --answers says is not asked; --yes takes ? or the default for all the rest.
        """
        self.__annotations__ = {key: kind for key, (kind, _) in (fixed | options).items()} | {"return": None}
        self.__signature__ = inspect.Signature(
            [
                inspect.Parameter(key, inspect.Parameter.KEYWORD_ONLY, default=default, annotation=kind)
                for key, (kind, default) in (fixed | options).items()
            ]
        )

    def __call__(self, *, folder: Path, answers: Path | None, yes: bool, **given: list[str] | None) -> None:
        if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
            stop(f"{folder} is there already and not empty; choose another name")
        lines = {ask.key: tuple(said) for ask in ASKS if (said := given[_attribute(ask)])}
        _begin(folder, answers, lines, ask=not yes and answers is None)


def _attribute(ask: Ask) -> str:
    return ask.key.replace("-", "_")


def _option(ask: Ask) -> object:
    again = " Again for each." if ask.several else ""
    return Annotated[
        list[str] | None, typer.Option(f"--{ask.key}", metavar=_metavar(ask), help=f"{ask.short}{again}")
    ]


def _metavar(ask: Ask) -> str:
    days = {"day": "DAY", "next_word": "DAY", "month": "MONTH", "number": "N", "email": "ADDRESS"}
    return "|".join(ask.choices) or days.get(ask.kind, "TEXT")


def _begin(folder: Path, file: Path | None, given: dict[str, tuple[str, ...]], *, ask: bool) -> None:
    from notices.campaign.answers import fill
    from notices.campaign.answers_file import from_toml
    from notices.cli import founded, interview
    from notices.cli.entry.world import made, today
    from notices.work import founding

    day = today()
    said: Mapping[str, tuple[str, ...]] = given
    lines: Mapping[str, int] = {}
    if file is not None:
        kept = from_toml(_text(file))
        if say_findings(kept.findings):
            say("Nothing was made.")
            raise typer.Exit(MEND)
        said, lines = {**kept.given, **given}, kept.lines
    if ask:
        said = interview.asked(given, day)
    filled = fill(said, day, lines)
    if filled.answers is None:
        say_findings(filled.findings)
        say("Nothing was made.")
        raise typer.Exit(MEND)
    with made(folder) as world:
        done = founding.found(world, filled.answers, said, day)
    founded.show(folder, done, filled.answers)


def _text(file: Path) -> str:
    if not file.is_file():
        stop(f"{file} is no file")
    if file.stat().st_size > _LARGEST:
        stop(f"{file} is larger than any file of answers")
    try:
        return file.read_text("utf-8-sig")
    except UnicodeDecodeError:
        stop(f"{file} is not UTF-8; save it as UTF-8 and try again")

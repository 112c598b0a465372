"""The command reference of the README: ``python -m tests.reference`` writes it between its two marks."""

import sys
from collections.abc import Iterator
from pathlib import Path

import typer

from notices.cli.__main__ import app

README = Path(__file__).resolve().parent.parent / "README.md"
BEGIN = "<!-- commands: written by python -m tests.reference -->"
END = "<!-- end of commands -->"


Command = typer.core.TyperCommand | typer.core.TyperGroup


def commands() -> Iterator[tuple[str, Command]]:
    """Yield each command's full name and itself, groups opened, in the order of --help."""
    yield from _below("notices", typer.main.get_command(app))


def _below(name: str, command: object) -> Iterator[tuple[str, Command]]:
    if isinstance(command, typer.core.TyperGroup):
        if command.invoke_without_command:
            yield name, command
        for key, inner in command.commands.items():
            yield from _below(f"{name} {key}", inner)
    elif isinstance(command, typer.core.TyperCommand):
        yield name, command


def reference() -> str:
    """Return the whole reference as Markdown."""
    return "\n".join(_entry(name, command) for name, command in commands())


def _entry(name: str, command: Command) -> str:
    arguments = [one for one in command.params if isinstance(one, typer.core.TyperArgument)]
    options = [
        one for one in command.params if isinstance(one, typer.core.TyperOption) and one.name != "help"
    ]
    words = [one.metavar or one.name or "" for one in arguments]
    lines = [f"#### `{' '.join([name, *words])}`", "", " ".join((command.help or "").split()), ""]
    lines += [f"- `{one.metavar or one.name}`: {one.help}" for one in arguments]
    lines += [f"- `{_spelling(one)}`: {one.help}" for one in options]
    return "\n".join([*lines, ""])


def _spelling(option: typer.core.TyperOption) -> str:
    value = "" if option.is_flag else f" {option.metavar or 'N'}"
    return f"{option.opts[0]}{value}"


def written(text: str) -> str:
    """Return the README's text with the reference as it is now."""
    before, _, rest = text.partition(BEGIN)
    _, _, after = rest.partition(END)
    return f"{before}{BEGIN}\n\n{reference()}\n{END}{after}"


if __name__ == "__main__":
    README.write_text(written(README.read_text("utf-8")), "utf-8")
    sys.stdout.write("README.md is up to date.\n")

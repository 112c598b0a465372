"""Ask the fourteen questions, one at a time, of whoever sits at the terminal or writes into the pipe."""

import sys
from collections.abc import Mapping, Sequence
from datetime import date

import typer

from audiences.proposing import propose
from notices.campaign.answers import Answers, UnfitError, Value, is_asked, plain, read
from notices.campaign.asks import UNKNOWN, Ask
from notices.campaign.questions import ASKS, QUESTIONS
from notices.cli.saying import say, shown, stop


def asked(given: Mapping[str, Sequence[str]], today: date) -> dict[str, tuple[str, ...]]:
    """Return the lines typed to every question, those *given* among them; end where nobody answers any more.

    Nothing is made meanwhile, so that what is broken off leaves nothing behind.
    """
    typed: dict[str, tuple[str, ...]] = {}
    answers = Answers(dict.fromkeys(ask.key for ask in ASKS))
    say(
        f"{len(QUESTIONS)} questions. Answer ? where it is not yet known; Enter alone takes what stands in brackets."
    )
    try:
        for number, question in enumerate(QUESTIONS, 1):
            for ask in question:
                if is_asked(ask, answers):
                    said = given.get(ask.key)
                    lines, answers[ask.key] = _answer(ask, said, answers, number, today)
                    if lines:
                        typed[ask.key] = lines
    except KeyboardInterrupt:
        say()
        stop("broken off; nothing was made")
    return typed


def _answer(
    ask: Ask, said: Sequence[str] | None, answers: Answers, number: int, today: date
) -> tuple[tuple[str, ...], Value]:
    """Return what was typed and what it is read as; what cannot be read is asked again."""
    lines = tuple(said) if said is not None else _typed(ask, answers, number)
    while True:
        try:
            value = read(ask, lines, today)
        except UnfitError as fault:
            say(f"  {fault}")
            lines = _typed(ask, answers, number)
            continue
        lines = tuple(map(plain, lines)) if lines else _default(ask, value)
        if ask.kind == "incidents" and value is None and lines != (UNKNOWN,):
            say("  Not known is not the same as none: it stands as not yet known.")
        return lines, value


def _default(ask: Ask, value: Value) -> tuple[str, ...]:
    """Return a default as a line that says the same another day."""
    if ask.kind == "next_word":
        return ()
    return (str(value),) if isinstance(value, str) else ("nothing",)


def _typed(ask: Ask, answers: Answers, number: int) -> tuple[str, ...]:
    if ask.key == "layout":
        return (_layout(answers, number),)
    default = f" [{ask.default}]" if ask.default is not None else ""
    several = " One a line; an empty line ends." if ask.several else ""
    say(f"\n{number} of {len(QUESTIONS)}. {ask.words}{several}{default}")
    if not ask.several:
        line = _line(number)
        return (line,) if line.strip() else ()
    lines: list[str] = []
    while line := _line(number).strip():
        lines.append(line)
        if lines == [UNKNOWN]:
            break
    return tuple(lines)


def _layout(answers: Answers, number: int) -> str:
    """Ask back what the codes seem to say, question by question; only yes to each makes it a layout."""
    proposed = propose(answers.lines("codes"))
    say(
        f"\n{number} of {len(QUESTIONS)}. What these codes seem to say. Answer yes or no; ? if you are not sure."
    )
    if proposed.layout is None:
        for question in proposed.questions:
            say(f"  {question}")
        return UNKNOWN
    for question in proposed.questions:
        say(f"  {question}")
        answer = ""
        while not answer or not any(word.startswith(answer) for word in ("yes", "no", UNKNOWN)):
            answer = _line(number).strip().casefold()
        if not "yes".startswith(answer):
            say("  Then the layout is left out, and every unit counts as affected until you know it.")
            return UNKNOWN if answer == UNKNOWN else "no"
    return "yes"


def _line(number: int) -> str:
    typer.echo("> ", nl=False)
    line = sys.stdin.readline()
    if not line:
        say()
        stop(f"the answers end at question {number}, and nothing was made; --yes takes ? for all the rest")
    return shown(line.rstrip("\r\n"))

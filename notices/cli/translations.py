"""Translate: the campaign's wording as a file for a PO editor, and back."""

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from audiences.cleaning import one_line
from audiences.findings import Finding, must_mend
from notices.cli.options import HERE, Campaign, Format, Print, Yes, command
from notices.cli.saying import MEND, ask, end, finding_as_json, number, say, say_findings, say_json, stop

if TYPE_CHECKING:  # heavy imports wait until their command runs
    from notices.work.translating import Standing

_translations = typer.Typer(
    name="translations",
    help="Hand the campaign's wording to translators, and take in what comes back.",
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


def add_to(app: typer.Typer) -> None:
    """Add this group's commands."""
    _translations.command("export")(export)
    _translations.command("import")(import_)
    app.add_typer(_translations)


def export(
    *,
    language: Annotated[
        str, typer.Argument(metavar="LANGUAGE", help="Its tag (BCP 47): de, pt-BR, zh-Hant.")
    ],
    xliff: Annotated[
        bool, typer.Option("--xliff", help="Write XLIFF 2.1 instead, to out/translations/LANGUAGE.xlf.")
    ] = False,
    campaign: Campaign = HERE,
    output: Print = Format.TEXT,
) -> None:
    """Write the campaign's texts in a language as translations/LANGUAGE.po, to be filled in.

    What is translated stays. A reworded text is marked fuzzy beside its earlier wording; what is gone is kept at the
    end. Each text bears a note: what it is, how long it may be, its placeholders, the terms of the trade.
    """
    from notices.cli.entry.world import opened
    from notices.work import translating

    with opened(campaign) as world:
        try:
            done = translating.export(world, language, xliff=xliff)
        except translating.TranslatingError as fault:
            stop(str(fault))
    if done.standing is None:
        _refused(done.findings, output)
    if output is Format.JSON:
        say_json(_as_json(done.standing))
        return
    say(_stands(done.standing))
    if done.standing.translated < done.standing.texts:
        back = f"translations import {done.standing.file}" if xliff else "check"
        say(f"When it is filled in: {command(back, campaign)}")


def import_(
    *,
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The file that came back: PO or XLIFF.")],
    language: Annotated[
        str, typer.Option("--language", metavar="TAG", help="Its language, where the file does not say.")
    ] = "",
    campaign: Campaign = HERE,
    yes: Yes = False,
    output: Print = Format.TEXT,
) -> None:
    """Take a translation in that came back.

    Each text is held against its source first: placeholders, codes, numbers, units, telephone numbers, tags, length
    and words. One with a fault stays as it was; the others are taken in.
    """
    from notices.cli.entry.world import opened
    from notices.work import translating

    with opened(campaign) as world:
        data = _bytes(file, translating.LARGEST)
        try:
            incoming = translating.read(
                world, data=data, file=one_line(file.name) or "file", language=language
            )
        except translating.TranslatingError as fault:
            stop(str(fault))
        if not incoming.texts:
            _refused(incoming.findings, output, nothing=True)
        if output is Format.TEXT:
            say_findings(incoming.findings)
            say(f"{incoming.new} new, {incoming.changed} changed, {incoming.refused} refused.")
        ask(f"Take them into translations/{incoming.tag}.po?", yes=yes)
        standing = translating.take_in(world, incoming)
    counts = {"new": incoming.new, "changed": incoming.changed, "refused": incoming.refused}
    wrong = bool(incoming.refused) or bool(must_mend(incoming.findings))
    if output is Format.JSON:
        found = [finding_as_json(one) for one in incoming.findings]
        say_json({**_as_json(standing), **counts, "findings": found})
        end(mend=wrong)
        return
    say(_stands(standing))
    if not incoming.listed:
        say(f"Owners get it once languages.written in campaign.yaml lists {incoming.tag}.")
    end(mend=wrong)


def _bytes(file: Path, largest: int) -> bytes:
    if not file.is_file():
        stop(f"{file} is no file")
    with file.open("rb") as opened:
        data = opened.read(largest + 1)
    if len(data) > largest:
        stop(f"{file} has more than {largest // 1_000_000} MB, which no campaign's wording has")
    return data


def _refused(findings: Iterable[Finding], output: Format, *, nothing: bool = False) -> NoReturn:
    """Say why nothing is done, and end."""
    if output is Format.JSON:
        say_json({"findings": [finding_as_json(one) for one in findings]})
    else:
        say_findings(findings)
        say("Nothing of it was taken in." if nothing else "Nothing was written; mend that first.")
    raise typer.Exit(MEND)


def _stands(standing: "Standing") -> str:
    rest = [
        f"{count} {word}"
        for count, word in ((standing.fuzzy, "to be looked at again"), (standing.missing, "to be written"))
        if count
    ]
    done = f"{standing.translated} of {number(standing.texts, 'text')} translated"
    return f"{standing.file}: {', '.join([done, *rest])}."


def _as_json(standing: "Standing") -> dict[str, object]:
    return {
        "file": standing.file,
        "texts": standing.texts,
        "translated": standing.translated,
        "fuzzy": standing.fuzzy,
        "missing": standing.missing,
    }

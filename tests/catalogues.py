"""Compare what the source says to its readers with what the catalogues hold: ``python -m tests.catalogues [--add]``.

``--add`` appends an empty entry for each sentence that a catalogue lacks, in English with the sentence itself.
Sentences are the texts given to ``_``, ``gettext``, ``ngettext``, ``ours``, ``counted`` and ``msgid`` in templates/
(found by Babel) and notices/ (found in the syntax tree, so that both texts of a conditional expression, and those of a
name that stands for a text in the same module, are found too).
"""

import ast
import sys
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

from babel.messages.extract import extract
from jinja2 import Environment, TemplateSyntaxError

from notices.wording import po
from notices.wording.catalogues import plural_count
from tests.source import ROOT

Sentence = tuple[str, str]  # msgid, and its plural where it is counted

LOCALES = ROOT / "locales"
DOMAINS = ("notices", "bureau")
_COUNTED = frozenset({"ngettext", "counted"})
_KEYWORDS = frozenset({"_", "gettext", "msgid", "ours"}) | _COUNTED
# A template is read before a variant is compiled, or by the variant itself; one of the two syntaxes fits.
_SYNTAXES: tuple[Mapping[str, Any], ...] = (
    {},
    {
        "block_start_string": "[%",
        "block_end_string": "%]",
        "variable_start_string": "[[",
        "variable_end_string": "]]",
        "comment_start_string": "[#",
        "comment_end_string": "#]",
    },
)


def said(domain: str) -> tuple[Sentence, ...]:
    """Return every sentence that the source says to the readers of *domain*, each once, in the order of the files."""
    found: dict[Sentence, None] = {}
    for file in _files():
        if _domain_of(file) == domain:
            found.update(dict.fromkeys(sentences(file)))
    return tuple(found)


def _files() -> Iterator[Path]:
    yield from sorted(file for file in (ROOT / "templates").rglob("*") if file.is_file())
    yield from sorted((ROOT / "notices").rglob("*.py"))


def _domain_of(file: Path) -> str:
    return "bureau" if "bureau" in file.relative_to(ROOT).parts else "notices"


def sentences(file: Path) -> Iterator[Sentence]:
    """Yield the sentences of one file; raise TemplateSyntaxError where a template fits neither syntax."""
    source = file.read_bytes()
    if file.suffix == ".py":
        yield from _in_code(ast.parse(source, filename=str(file)))
        return
    for syntax in _fitting(source.decode()):
        yield from _in_template(source, {**syntax, "silent": "false"})


def _fitting(text: str) -> Iterator[Mapping[str, Any]]:
    """Yield the syntaxes that can read a template; text of the other one is no more than text to it."""
    for place, syntax in enumerate(_SYNTAXES):
        try:
            Environment(autoescape=True, **syntax).parse(text)
        except TemplateSyntaxError:
            if place == 0:
                raise
        else:
            yield syntax


def _in_template(source: bytes, options: Mapping[str, Any]) -> Iterator[Sentence]:
    keywords = {name: (1, 2) if name in _COUNTED else None for name in sorted(_KEYWORDS)}
    for _, found, _, _ in extract("jinja2", BytesIO(source), keywords=keywords, options=dict(options)):
        if isinstance(found, str):
            yield found, ""
        else:
            yield found[0], found[1]


def _in_code(tree: ast.Module) -> Iterator[Sentence]:
    named = {
        target.id: node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Assign)
        for target in node.targets
        if isinstance(target, ast.Name)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            name = getattr(node.func, "id", getattr(node.func, "attr", ""))
            texts = [list(_texts(argument, named)) for argument in node.args]
            if name in _COUNTED and len(texts) > 1:
                yield from zip(texts[0], texts[1], strict=True)
            elif name in _KEYWORDS and texts:
                yield from ((text, "") for text in texts[0])


def _texts(node: ast.expr, named: Mapping[str, ast.expr]) -> Iterator[str]:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from (*_texts(node.body, named), *_texts(node.orelse, named))
    elif isinstance(node, ast.Name) and node.id in named:
        yield from _texts(named[node.id], {})


def tags(domain: str) -> tuple[str, ...]:
    """Return the languages that *domain* is shipped in."""
    return tuple(sorted(file.parent.name for file in LOCALES.glob(f"*/{domain}.po")))


def held(domain: str, tag: str) -> po.PoText:
    """Read one catalogue."""
    return po.read((LOCALES / tag / f"{domain}.po").read_text("utf-8"))


def lacking(domain: str, tag: str) -> list[Sentence]:
    """Return the sentences that a catalogue does not hold, or holds empty or fuzzy."""
    whole = {(entry.msgid, entry.plural) for entry in held(domain, tag).entries if entry.complete}
    return [sentence for sentence in said(domain) if sentence not in whole]


def unused(domain: str, tag: str) -> list[Sentence]:
    """Return the sentences that a catalogue holds and nothing says."""
    wanted = set(said(domain))
    entries = held(domain, tag).entries
    return [key for entry in entries if (key := (entry.msgid, entry.plural)) not in wanted]


def add(domain: str, tag: str) -> int:
    """Append an entry for each sentence without one; return how many."""
    there = {(entry.msgid, entry.plural) for entry in held(domain, tag).entries}
    new = [sentence for sentence in said(domain) if sentence not in there]
    with (LOCALES / tag / f"{domain}.po").open("a", encoding="utf-8") as file:
        file.writelines(f"\n{po.render(_entry(sentence, tag))}" for sentence in new)
    return len(new)


def _entry(sentence: Sentence, tag: str) -> po.Entry:
    msgid, plural = sentence
    entry = po.Entry(msgid=msgid, plural=plural)
    if tag.partition("-")[0] == "en":
        return replace(entry, translations=(msgid, plural) if plural else (msgid,))
    return replace(entry, translations=("",) * (plural_count(tag) if plural else 1))


def _report(title: str, found: Iterable[Sentence]) -> Iterator[str]:
    for msgid, plural in found:
        yield f"{title}: {msgid}" + (f" | {plural}" if plural else "")


def main(arguments: list[str]) -> int:
    """Print what each catalogue lacks and what nothing says any more; return 1 where one lacks something."""
    status = 0
    for domain in DOMAINS:
        for tag in tags(domain):
            name = f"{tag}/{domain}.po"
            if "--add" in arguments:
                sys.stdout.write(f"{name}: {add(domain, tag)} added\n")
            missing = lacking(domain, tag)
            lines = [*_report("missing", missing), *_report("unused", unused(domain, tag))]
            sys.stdout.writelines(f"{name}: {line}\n" for line in lines)
            status = status or int(bool(missing))
    return status


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

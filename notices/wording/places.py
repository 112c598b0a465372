"""What each text of a campaign is, for whoever translates it: where it stands, and how long it may be."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from notices.wording import placeholders


@dataclass(frozen=True, kw_only=True, slots=True)
class Term:
    """A term of the trade: in English, as the language says it, what it never says, and a remark."""

    english: str
    term: str
    avoid: str = ""
    note: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class _What:
    says: str
    limit: int | None = None


# The longest first part of a path counts. Limits are signs: common practice, no source. Mail programs cut a subject and
# the line beside it, and a button on a telephone runs over three lines beyond sixty.
_WHAT: Mapping[str, _What] = {
    "revision.why": _What(says="why this revision was made, on the public page"),
    "product": _What(says="what the product is"),
    "product.pictures": _What(says="what a picture shows, for readers who do not see it"),
    "code": _What(says="the marking on the unit, and where it is found"),
    "code.label": _What(says="what the marking is called, inside a sentence", limit=40),
    "hazard": _What(says="what can happen, and to whom; never played down"),
    "hazard.signs": _What(says="a sign of the fault, in a list"),
    "subjects": _What(says="the subject line of a mail", limit=120),
    "preheaders": _What(says="the line that mail programs show beside the subject", limit=150),
    "now": _What(says="what an owner does now"),
    "now.headline": _What(says="the first line of the notice: stop", limit=120),
    "now.steps": _What(says="one step, as an order: what to do now"),
    "now.stopped_button": _What(says="the label of a button that says: I have stopped", limit=60),
    "now.stopped_page_button": _What(says="the label of a button that says: I have stopped", limit=60),
    "now.in_use_button": _What(says="the label of a button that says: I cannot stop yet", limit=60),
    "now.reply_word": _What(says="a word that owners type in a message", limit=20),
    "use": _What(says="how the unit has been used"),
    "meanwhile": _What(says="what helps an owner until the remedy comes"),
    "remedies": _What(says="the remedy that is promised"),
    "cautions": _What(says="a caution for whoever does the work"),
    "ledger": _What(says="a dated statement on the public page"),
    "markets": _What(says="the headline that the law of a market asks for, word for word", limit=120),
    "warning_headline": _What(says="the headline of a stop warning", limit=120),
    "parts": _What(says="the name of a part"),
    "confirm": _What(says="the owner's own word that the work is done"),
    "corrections": _What(says="what has changed, at the top of a correction"),
}


def _what(path: str) -> _What:
    steps = path.split(".")
    parts = (".".join(steps[:length]) for length in range(len(steps), 0, -1))
    return next((_WHAT[part] for part in parts if part in _WHAT), _What(says="a text that owners read"))


def limit(path: str) -> int | None:
    """Return how many signs the text at *path* (without list places) may have, None where that is free."""
    return _what(path).limit


def notes(
    path: str, source: str, terms: Sequence[Term], placeholder_values: Mapping[str, str]
) -> Iterator[str]:
    """Yield the lines that help to translate the text at *path*: what it is, its limit, placeholders and terms."""
    found = _what(path)
    yield f"{path}: {found.says}"
    if found.limit is not None:
        yield f"at most {found.limit} signs"
    for name in placeholders.names(source):
        yield f"%({name})s: {placeholder_values.get(name, 'filled in for each owner')}; keep it as it is"
    yield from (_of(term) for term in terms if _holds(source, term.english))


def _holds(source: str, english: str) -> bool:
    words = f" {''.join(sign if sign.isalnum() else ' ' for sign in source.casefold())} "
    return f" {english.casefold()} " in " ".join(words.split()).join("  ")


def _of(term: Term) -> str:
    avoid = f"; not: {term.avoid}" if term.avoid else ""
    note = f" ({term.note})" if term.note else ""
    return f"term: {term.english} = {term.term}{avoid}{note}"

"""What owners read of the lead's own words: each text in each language, with its place in the lead's files."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from notices.campaign.loading import is_aside
from notices.campaign.looking import FILE, Where, line_of
from notices.campaign.models import Campaign
from notices.campaign.revisions import Translation
from notices.campaign.shape import lies_in, path_of, texts
from notices.campaign.texts import context_of, localise
from notices.wording import po

# A warning that promises no remedy yet says none of these, beside what is set aside in reading one.
_NOT_IN_A_WARNING = (
    "corrections",
    "markets",
    "now.cleared",
    "now.near",
    "preheaders.first",
    "remedies",
    "subjects.cleared",
    "subjects.first",
    "use",
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Passage:
    """One text in one language; *path* is ``a.b[2].c`` in campaign.yaml, *line* that of *file*, from 1."""

    path: str
    text: str
    language: str
    file: str = FILE
    line: int | None = None

    @property
    def where(self) -> Where:
        """Return the place of a finding about it."""
        return Where(file=self.file, line=self.line, path=self.path)


@dataclass(frozen=True, kw_only=True, slots=True)
class Reading:
    """A campaign as its owners will read it: in its source language, and in each that it is translated into.

    *lines* has the line of every key of campaign.yaml, *lines_of* that of every entry of each translation;
    *expressions* the tables of what no notice says, ``rules`` and each language's, *laws* those of what a market's law
    asks for, as TOML.
    """

    campaign: Campaign
    lines: Mapping[str, int] = field(default_factory=dict)
    translations: Mapping[str, Translation] = field(default_factory=dict)
    lines_of: Mapping[str, Mapping[tuple[str, str], int]] = field(default_factory=dict)
    expressions: Mapping[str, str] = field(default_factory=dict)
    laws: Mapping[str, str] = field(default_factory=dict)
    _held: dict[str, tuple[Passage, ...]] = field(default_factory=dict, init=False, repr=False, compare=False)

    @property
    def languages(self) -> tuple[str, ...]:
        """Return the languages, the source language first."""
        return (self.campaign.language, *self.translations)

    @property
    def warning(self) -> bool:
        """Say whether it promises no remedy yet."""
        return self.campaign.remedies is None

    def speaking(self, tag: str) -> Campaign:
        """Return the campaign in one of its languages; what is not translated stands in the source language."""
        return localise(self.campaign, self.translations.get(tag, {}))

    def at(self, path: str, tag: str | None = None) -> Where:
        """Return the place of the text at *path* in campaign.yaml, or in the translation *tag*."""
        for passage in self.passages(tag) if tag else ():
            if passage.path == path:
                return passage.where
        return Where(file=FILE, line=line_of(path, self.lines), path=path)

    def passages(self, tag: str | None = None) -> Iterator[Passage]:
        """Yield every text that owners read, in every language or in *tag*, in the order of the file.

        A text that is not translated is not there in that language; nor, before a remedy is promised, what no stop
        warning says.
        """
        for language in self.languages if tag is None else (tag,):
            if language not in self._held:  # every check asks for them, and a campaign is walked slowly
                self._held[language] = tuple(self._in(language))
            yield from self._held[language]

    def _in(self, tag: str) -> Iterator[Passage]:
        inside = {("ledger", at, "text") for at, fact in enumerate(self.campaign.ledger) if fact.inside}
        for place, text in texts(self.campaign):
            path = path_of(place)
            if place in inside or (self.warning and (is_aside(path) or lies_in(path, *_NOT_IN_A_WARNING))):
                continue
            if tag == self.campaign.language:
                yield Passage(path=path, text=text, language=tag, line=line_of(path, self.lines))
                continue
            key = context_of(place), text
            spoken = self.translations.get(tag, {}).get(key)
            if spoken is not None:
                yield Passage(
                    path=path,
                    text=spoken,
                    language=tag,
                    file=f"translations/{tag}.po",
                    line=self.lines_of.get(tag, {}).get(key),
                )


def lines_of(po_text: str) -> dict[tuple[str, str], int]:
    """Return the line of each living entry of a PO file, by path without list places, and source text."""
    return {
        (entry.context, entry.msgid): entry.line for entry in po.read(po_text).entries if not entry.obsolete
    }

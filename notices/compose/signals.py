"""The signal panel: its word and colours (ANSI Z535.6 and ISO 3864-2, colours as on screen; from memory)."""

from collections.abc import Mapping
from dataclasses import dataclass

from notices.compose.phrases import Phrase
from notices.compose.speaking import Speaker
from notices.wording.terms import SIGNALS

# background, ink. Z535: DANGER red, WARNING orange, CAUTION yellow, NOTICE blue.
_COLOURS: Mapping[str, tuple[str, str]] = {
    "DANGER": ("#c8102e", "#ffffff"),
    "WARNING": ("#ff8200", "#000000"),
    "CAUTION": ("#ffd100", "#000000"),
    "NOTICE": ("#0047a0", "#ffffff"),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Signal:
    """A signal word; *alert*: with the safety alert symbol, which NOTICE does not bear."""

    word: Phrase
    key: str
    background: str
    ink: str
    alert: bool


def signal(speaker: Speaker) -> Signal | None:
    """Return the campaign's signal panel, None where no signal word is chosen."""
    word = speaker.campaign.hazard.signal
    if word is None:
        return None
    background, ink = _COLOURS[word]
    return Signal(
        word=speaker.gettext(SIGNALS[word]),
        key=word.lower(),
        background=background,
        ink=ink,
        alert=word != "NOTICE",
    )

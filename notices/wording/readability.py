"""What published formulas say of a text whose words, sentences and syllables have been counted.

A formula takes counts, so that it can be held against its paper without any counter. Each was fitted to whole
passages: nothing is said of fewer than 30 words, and under 100 a score is indicative (house rule).
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import sqrt

LEAST_WORDS = 30
FIRM_WORDS = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Counts:
    """What was counted in one text; raises `ValueError` where nothing can be divided by."""

    words: int
    sentences: int
    syllables: int = 0
    letters: int = 0  # without punctuation
    one_syllable: int = 0  # words of one syllable
    three_syllables: int = 0  # words of three syllables or more
    four_syllables: int = 0  # words of four syllables or more
    long_words: int = 0  # words of more than six letters

    def __post_init__(self) -> None:
        """Refuse counts of no text at all."""
        if self.words < 1 or self.sentences < 1:
            raise ValueError("readability needs at least one word and one sentence")

    @property
    def asl(self) -> float:
        """Words a sentence."""
        return self.words / self.sentences

    @property
    def asw(self) -> float:
        """Syllables a word."""
        return self.syllables / self.words

    def share(self, some: int) -> float:
        """Return how many of a hundred words these are."""
        return 100 * some / self.words


@dataclass(frozen=True, slots=True)
class Formula:
    """One published formula; *unsure* says what of it was not seen in its first print, or is disputed."""

    source: str
    reckon: Callable[[Counts], float]
    unsure: str = ""


@dataclass(frozen=True, slots=True)
class Score:
    """What one formula says of one text."""

    name: str
    value: float
    indicative: bool
    formula: Formula


def _pisarek_linear(c: Counts) -> float:
    return c.asl / 3 + c.share(c.four_syllables) / 3 + 1


def _pisarek_bent(c: Counts) -> float:
    return sqrt(c.asl**2 + c.share(c.four_syllables) ** 2) / 2


def _first_vienna(c: Counts) -> float:
    hard, long, short = c.share(c.three_syllables), c.share(c.long_words), c.share(c.one_syllable)
    return 0.1935 * hard + 0.1672 * c.asl + 0.1297 * long - 0.0327 * short - 0.875


_SECONDARY = "read in a second source only"
_BAMBERGER = "Bamberger and Vanecek 1984"
FORMULAS: dict[str, dict[str, Formula]] = {
    "en": {
        "Flesch": Formula(
            "Flesch 1948, J. Appl. Psych. 32(3)", lambda c: 206.835 - 1.015 * c.asl - 84.6 * c.asw
        ),
        "Flesch-Kincaid": Formula(
            "Kincaid et al. 1975, RBR 8-75", lambda c: 0.39 * c.asl + 11.8 * c.asw - 15.59
        ),
    },
    "de": {
        "Amstad": Formula("Amstad 1978, Zürich", lambda c: 180 - c.asl - 58.5 * c.asw),
        "Wiener 1": Formula(_BAMBERGER, _first_vienna),
    },
    "fr": {
        "Kandel-Moles": Formula(
            "Kandel and Moles 1958",
            lambda c: 207 - 1.015 * c.asl - 73.6 * c.asw,
            "disputed: another source has 209 - 1.15 - 68; the first print was not seen",
        ),
    },
    "es": {
        "Fernández Huerta": Formula(
            "Fernández Huerta 1959, Consigna 214, with words a sentence (Law 2011)",
            lambda c: 206.84 - 60 * c.asw - 1.02 * c.asl,
        ),
        "Szigriszt": Formula("Szigriszt 1993", lambda c: 206.835 - 62.3 * c.asw - c.asl),
    },
    "it": {
        # A very short sentence runs over the scale, which ends at 100.
        "Gulpease": Formula(
            "Lucisano and Piemontese 1988, Scuola e Città 39(3)",
            lambda c: min(100.0, 89 + (300 * c.sentences - 10 * c.letters) / c.words),
        ),
        "Flesch-Vacca": Formula("Franchina and Vacca 1986", lambda c: 217 - 1.3 * c.asl - 60 * c.asw),
    },
    "nl": {
        "Douma": Formula("Douma 1960", lambda c: 206.84 - 0.93 * c.asl - 77 * c.asw),
        "Brouwer": Formula("Brouwer 1963, Paed. Studiën 40", lambda c: 195 - 2 * c.asl - 200 / 3 * c.asw),
    },
    "pl": {
        "Fog, Polish": Formula("after Gunning 1952", lambda c: 0.4 * (c.asl + c.share(c.four_syllables))),
        "Pisarek, linear": Formula("Pisarek 1969", _pisarek_linear, "coefficients from memory"),
        "Pisarek, non-linear": Formula("Pisarek 1969", _pisarek_bent, "coefficients from memory"),
    },
    "pt": {
        "Martins": Formula(
            "Martins et al. 1996", lambda c: 248.835 - 1.015 * c.asl - 84.6 * c.asw, _SECONDARY
        ),
    },
    "cs": {
        "Bendová": Formula(
            "Bendová and Cinková 2021", lambda c: 206.835 - 1.672 * c.asl - 62.18 * c.asw, _SECONDARY
        ),
    },
}
ANY: dict[str, Formula] = {
    "LIX": Formula("Björnsson 1968, Läsbarhet", lambda c: c.asl + c.share(c.long_words)),
    "RIX": Formula("Anderson 1983, J. Reading 26(6)", lambda c: c.long_words / c.sentences),
}


def scores(language: str, counts: Counts) -> tuple[Score, ...]:
    """Return what the formulas of this language say, with those made for any; none under 30 words.

    *language* is a tag (RFC 5646), whose first part decides. Arabic, where a word's letters do not tell its
    syllables, gets none yet: OSMAN, made for it, needs counts of its own.
    """
    first = language.partition("-")[0].lower()
    if counts.words < LEAST_WORDS or first == "ar":
        return ()
    fitting = FORMULAS.get(first, {}) | ANY
    return tuple(
        Score(name, formula.reckon(counts), counts.words < FIRM_WORDS, formula)
        for name, formula in fitting.items()
    )

"""The risk matrix as data: the level that a probability and a severity give, where it comes from, and its mark."""

from dataclasses import dataclass
from enum import IntEnum
from fractions import Fraction


class Level(IntEnum):
    """How serious a risk is, the higher the worse."""

    LOW = 1
    MEDIUM = 2
    HIGH = 3
    SERIOUS = 4

    @property
    def word(self) -> str:
        """Return the level's word in a sentence."""
        return self.name.lower()


@dataclass(frozen=True, kw_only=True, slots=True)
class Band:
    """A row: what is more probable than *above*, and up to the row above; *levels* are those of severity 1 to 4."""

    above: Fraction
    levels: tuple[Level, Level, Level, Level]


@dataclass(frozen=True, kw_only=True, slots=True)
class Matrix:
    """Bands from the most probable down; the last is above 0. *severities* says 1 to 4 in our own words.

    *source* is the legal instrument, *version* changes with the cells, *mark* says how sure the cells are.
    """

    version: str
    source: str
    mark: str
    severities: tuple[str, str, str, str]
    bands: tuple[Band, ...]

    def row(self, probability: Fraction) -> int:
        """Return the place of the band that *probability* (above 0, up to 1) falls into; an edge falls below itself."""
        return next(place for place, band in enumerate(self.bands) if probability > band.above)

    def level(self, probability: Fraction, severity: int) -> Level:
        """Return the level of a *probability* (above 0, up to 1) and a *severity* from 1 to 4."""
        return self.bands[self.row(probability)].levels[severity - 1]

    def band_words(self, row: int) -> str:
        """Return a band as its table names it: ``more than 1/100``; the last ``1/1000000 or less``."""
        above = self.bands[row].above
        return f"more than {above}" if above else f"{self.bands[row - 1].above} or less"


_L, _M, _H, _S = Level.LOW, Level.MEDIUM, Level.HIGH, Level.SERIOUS
LOWEST_SEVERITY, HIGHEST_SEVERITY = 1, 4

MATRIX = Matrix(
    version="EU 2019",
    source=(
        "Implementing Decision (EU) 2019/417, Annex, table 4, as in Decision 2010/15/EU; "
        "the criteria are now Annex II of Delegated Regulation (EU) 2024/3173, under Regulation (EU) 2023/988"
    ),
    mark=(
        "The cells are from memory: have a person hold them against the Official Journal before relying on them."
    ),
    severities=(
        "basic treatment, heals without a trace",
        "a visit to emergency care, harm for up to about six months",
        "usually hospital, harm for more than six months or a lasting loss",
        "can kill, or disables for more than about a tenth",
    ),
    bands=(
        Band(above=Fraction(1, 2), levels=(_H, _S, _S, _S)),
        Band(above=Fraction(1, 10), levels=(_M, _S, _S, _S)),
        Band(above=Fraction(1, 100), levels=(_M, _S, _S, _S)),
        Band(above=Fraction(1, 1_000), levels=(_L, _H, _S, _S)),
        Band(above=Fraction(1, 10_000), levels=(_L, _M, _H, _S)),
        Band(above=Fraction(1, 100_000), levels=(_L, _L, _M, _H)),
        Band(above=Fraction(1, 1_000_000), levels=(_L, _L, _L, _M)),
        # The source's last row is what is under 1/1 000 000; exactly that falls here, for no other row takes it.
        Band(above=Fraction(0), levels=(_L, _L, _L, _L)),
    ),
)

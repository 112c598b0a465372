"""What the formulas of a language say of counted text: their scores, the band of each, and what a notice aims at.

Each was fitted to whole passages: nothing is said of fewer than 30 words, and under 100 a score is indicative (house
rule). A score tells of short words and short sentences, never whether anybody understood.
"""

from dataclasses import dataclass

from notices.wording.formulas import ANY, FORMULAS, Counts, Formula

LEAST_WORDS = 30
FIRM_WORDS = 100

# Each band ends before its number; the last has no end. None of these is law.
_FLESCH = (
    (30, "very hard, graduate"),
    (50, "hard, college"),
    (60, "fairly hard, school year 10 to 12"),
    (70, "standard, school year 8 and 9"),
    (80, "fairly easy, school year 7"),
    (90, "easy, school year 6"),
    (None, "very easy, school year 5"),
)
_VIENNA = (*((year + 1, f"school year {year}") for year in range(4, 13)), (None, "very hard"))
BANDS: dict[str, tuple[tuple[float | None, str], ...]] = {
    "Flesch": _FLESCH,
    "Amstad": _FLESCH,
    "Wiener 1": _VIENNA,
    "Wiener 2": _VIENNA,
    "Wiener 3": _VIENNA,
    "Wiener 4": _VIENNA,
    "LIX": (
        (30, "very easy"),
        (40, "easy"),
        (50, "medium, as a newspaper"),
        (60, "hard, as an office"),
        (None, "very hard"),
    ),
    "RIX": (
        (0.2, "US grade 1"),
        (0.5, "US grade 2"),
        (0.8, "US grade 3"),
        (1.3, "US grade 4"),
        (1.8, "US grade 5"),
        (2.4, "US grade 6"),
        (3.0, "US grade 7"),
        (3.7, "US grade 8"),
        (4.5, "US grade 9"),
        (5.3, "US grade 10"),
        (6.2, "US grade 11"),
        (7.2, "US grade 12"),
        (None, "college"),
    ),
    "Szigriszt": (
        (40, "very hard"),
        (55, "rather hard"),
        (65, "normal"),
        (80, "fairly easy"),
        (None, "very easy"),
    ),
    "Gulpease": (
        (40, "hard after upper secondary school"),
        (60, "hard after lower secondary school"),
        (80, "hard after primary school"),
        (None, "easy after primary school"),
    ),
    "Douma": (
        (30, "very hard"),
        (45, "hard"),
        (60, "fairly hard"),
        (70, "normal"),
        (80, "fairly easy"),
        (90, "easy"),
        (None, "very easy"),
    ),
    "Fog, Polish": (
        (7, "very plain"),
        (10, "plain"),
        (13, "fairly plain"),
        (16, "fairly hard"),
        (18, "hard"),
        (None, "very hard"),
    ),
    "Martins": ((25, "very hard"), (50, "hard"), (75, "easy"), (None, "very easy")),  # from memory
}


@dataclass(frozen=True, slots=True)
class Aim:
    """What a notice to everybody aims at by one formula: a house rule near lower secondary school, never a law."""

    formula: str
    limit: float
    easier_up: bool = True

    def met(self, value: float) -> bool:
        """Say whether *value* is as easy as the aim or easier."""
        return value >= self.limit if self.easier_up else value <= self.limit

    def __str__(self) -> str:
        """Render as the aim is said."""
        return f"{self.limit:g} or {'more' if self.easier_up else 'less'}"


_LIX = (Aim("LIX", 40, easier_up=False),)
AIMS: dict[str, tuple[Aim, ...]] = {
    "cs": (Aim("Bendová", 60),),
    "da": _LIX,
    "de": (Aim("Amstad", 60), Aim("Wiener 1", 7, easier_up=False)),
    "en": (Aim("Flesch", 65), Aim("Flesch-Kincaid", 7, easier_up=False)),
    "es": (Aim("Szigriszt", 65),),
    "fr": (Aim("Kandel-Moles", 65),),
    "it": (Aim("Gulpease", 60),),
    "nl": (Aim("Douma", 65),),
    "pl": (Aim("Fog, Polish", 9, easier_up=False),),
    "pt": (Aim("Martins", 60),),
    "sv": _LIX,
}


@dataclass(frozen=True, slots=True)
class Score:
    """What one formula says of one text; *band* is empty where none was published, *aim* None where none is set."""

    name: str
    value: float
    indicative: bool
    formula: Formula
    band: str = ""
    aim: Aim | None = None


def scores(language: str, counts: Counts) -> tuple[Score, ...]:
    """Return what the formulas of this language say, the one with an aim first; none under 30 words.

    *language* is a tag (RFC 5646), whose first part decides. A formula whose counts are not all there says nothing:
    so it is with OSMAN for Arabic, whose syllables stand in vowels that nobody writes, and with those of Dale and
    Chall, which ask for a list of words. The formulas for any language were never tried on Arabic and leave it out.
    """
    first = language.partition("-")[0].lower()
    if counts.words < LEAST_WORDS:
        return ()
    aims = {aim.formula: aim for aim in AIMS.get(first, ())}
    fitting = FORMULAS.get(first, {}) | ({} if first == "ar" else ANY)
    found = [
        Score(
            name,
            value := formula.reckon(counts),
            counts.words < FIRM_WORDS or counts.sentences < formula.firm_sentences,
            formula,
            band(name, value),
            aims.get(name),
        )
        for name, formula in fitting.items()
        if all(getattr(counts, need) is not None for need in formula.needs)
    ]
    return tuple(sorted(found, key=lambda score: score.aim is None))


def band(name: str, value: float) -> str:
    """Return the band that *value* falls into by the formula *name*, empty where no bands were published."""
    return next((words for end, words in BANDS.get(name, ()) if end is None or value < end), "")

"""The fourteen questions that a campaign begins with, in the order in which they are asked.

Nothing else may be imported here, so that the commands' help stays quick.
"""

from dataclasses import dataclass
from typing import Literal

Kind = Literal[
    "text", "lines", "incidents", "signs", "choice", "country", "countries", "day", "month", "number",
    "codes", "email", "phones", "next_word",
]  # fmt: skip

UNKNOWN = "?"
"""The answer that is allowed everywhere: not yet known."""

NEXT_WORD_DAYS = 5
LATEST_NEXT_WORD = 7


@dataclass(frozen=True, kw_only=True, slots=True)
class Ask:
    """One thing asked: *words* in the terminal, *short* for the option's help, *default* where Enter alone is enough.

    A *?* becomes the fact *unknown*, in words that the public may read, about the part *about* of the campaign file.
    It is asked only where the answer to the key of *only_if* is the value beside it.
    """

    key: str
    words: str
    short: str
    kind: Kind = "text"
    default: str | None = None
    choices: tuple[str, ...] = ()
    about: str
    unknown: str
    only_if: tuple[str, str] | None = None

    @property
    def several(self) -> bool:
        """Tell whether the answer is a list, one a line."""
        return self.kind in {"lines", "incidents", "signs", "countries", "codes", "phones"}


_YES_NO = ("yes", "no")
_STOPPED = ("yes", "no", "none")

QUESTIONS: tuple[tuple[Ask, ...], ...] = (
    (
        Ask(
            key="product",
            words="What do owners call the product?",
            short="What owners call the product.",
            about="product.name",
            unknown="what exactly the product is called",
        ),
    ),
    (
        Ask(
            key="issuer",
            words="Which firm speaks to the owners?",
            short="The firm that speaks to the owners.",
            about="issuer.name",
            unknown="which firm answers for this notice",
        ),
        Ask(
            key="town",
            words="In which town, with the street if you like?",
            short="The firm's town.",
            about="issuer.address",
            unknown="where owners can write to us by post",
        ),
        Ask(
            key="country",
            words="In which country? Two letters, as GB or DE.",
            short="The firm's country, two letters.",
            kind="country",
            about="issuer.country",
            unknown="in which country the firm is that answers for this notice",
        ),
        Ask(
            key="role",
            words="Is the firm maker, importer or dealer of the product?",
            short="maker, importer or dealer.",
            kind="choice",
            choices=("maker", "importer", "dealer"),
            about="issuer.role",
            unknown="whether we are its maker, importer or dealer",
        ),
    ),
    (
        Ask(
            key="learned",
            words="On which day did anyone in the firm first learn of it?",
            short="The day on which anyone in the firm first learned of it.",
            kind="day",
            about="ledger",
            unknown="on which day we first learned of it",
        ),
    ),
    (
        Ask(
            key="fails",
            words="What goes wrong? One plain sentence.",
            short="What goes wrong, in one sentence.",
            about="hazard.what",
            unknown="what exactly goes wrong",
        ),
        Ask(
            key="happens",
            words="What happens to a person then? One plain sentence.",
            short="What happens to a person then, in one sentence.",
            about="hazard.who",
            unknown="what can happen to a person then",
        ),
    ),
    (
        Ask(
            key="worst",
            words="How bad can it get for a person: killed, badly hurt, or slightly hurt?",
            short="killed, badly or slightly.",
            kind="choice",
            choices=("killed", "badly", "slightly"),
            about="hazard.signal",
            unknown="how badly somebody can be hurt",
        ),
        Ask(
            key="happened",
            words="What has happened so far? Each time that it failed or hurt somebody. ? if you know of none.",
            short="What has happened so far.",
            kind="incidents",
            about="hazard.who",
            unknown="whether anybody has been hurt",
        ),
    ),
    (
        Ask(
            key="now",
            words="What must everyone do this minute? The most important first.",
            short="What everyone must do this minute.",
            kind="lines",
            about="now.steps",
            unknown="what else everyone should do at once",
        ),
    ),
    (
        Ask(
            key="signs",
            words="What may an owner notice before?",
            short="What an owner may notice before.",
            kind="signs",
            default="nothing, it can fail with no sign",
            about="hazard.signs",
            unknown="whether there is a sign beforehand",
        ),
    ),
    (
        Ask(
            key="units",
            words="Which units: all, those with certain codes, or those sold on certain days?",
            short="all, code or day; all holds until units are cleared.",
            kind="choice",
            choices=("all", "code", "day"),
            default="all",
            about="affected",
            unknown="which units are affected",
        ),
        Ask(
            key="sold-first",
            words="Sold from which day on?",
            short="With day: the first day of sale.",
            kind="day",
            about="affected",
            unknown="from which day on affected units were sold",
            only_if=("units", "day"),
        ),
        Ask(
            key="sold-last",
            words="And up to which day?",
            short="With day: the last day of sale.",
            kind="day",
            about="affected",
            unknown="up to which day affected units were sold",
            only_if=("units", "day"),
        ),
    ),
    (
        Ask(
            key="codes",
            words="Three to twenty codes, copied from real units.",
            short="Codes copied from real units, three to twenty.",
            kind="codes",
            about="code.layout",
            unknown="how the code on a unit is built up",
        ),
        Ask(
            key="layout",
            words="Does this layout read the codes rightly?",
            short="yes where the layout that is proposed from the codes is right.",
            kind="choice",
            choices=_YES_NO,
            about="code.layout",
            unknown="how the code on a unit is built up",
        ),
        Ask(
            key="affected",
            words="Which codes are affected? Field and values, as: week 2514-2533, line B C. Each line is one rule.",
            short="With code: field and values, as week 2514-2533, line B C.",
            kind="lines",
            about="affected",
            unknown="which codes are affected",
            only_if=("units", "code"),
        ),
        Ask(
            key="code-where",
            words="Where does the code stand on the unit?",
            short="Where the code stands on a unit.",
            about="code.where",
            unknown="where the code stands on a unit",
        ),
    ),
    (
        Ask(
            key="sold",
            words="How many were sold?",
            short="How many were sold.",
            kind="number",
            about="product.sold",
            unknown="how many were sold",
        ),
        Ask(
            key="sold-from",
            words="Sold since which month? As 2025-03.",
            short="The first month of sale, as 2025-03.",
            kind="month",
            about="product.sold",
            unknown="since which month it was sold",
        ),
        Ask(
            key="sold-to",
            words="And up to which month?",
            short="The last month of sale.",
            kind="month",
            about="product.sold",
            unknown="up to which month it was sold",
        ),
        Ask(
            key="countries",
            words="In which countries? Two letters each.",
            short="The countries it was sold in, two letters each.",
            kind="countries",
            about="markets",
            unknown="in which countries it was sold",
        ),
        Ask(
            key="shops",
            words="Through which shops?",
            short="The shops that sold it.",
            kind="lines",
            about="sale_stop.places",
            unknown="which shops have sold it",
        ),
    ),
    (
        Ask(
            key="lists",
            words="Which lists hold buyers? Their file names, or whose they are.",
            short="The lists that hold buyers.",
            kind="lines",
            about="owners",
            unknown="which of our lists name those who bought it",
        ),
        Ask(
            key="unsubscribed",
            words="Are those who unsubscribed from your mails in these lists? They must be warned too.",
            short="yes where the unsubscribed are in the lists.",
            kind="choice",
            choices=_YES_NO,
            about="owners",
            unknown="whether our lists name everyone who bought it",
        ),
    ),
    (
        Ask(
            key="promise",
            words="What can be promised today? One plain sentence.",
            short="What can be promised today.",
            default="We are working on a remedy.",
            about="before_remedy",
            unknown="what we will do for owners",
        ),
        Ask(
            key="next-word",
            words=f"On which day do owners hear again, even if nothing is new? At most {LATEST_NEXT_WORD} days on.",
            short=f"The day of the next word; else in {NEXT_WORD_DAYS} days.",
            kind="next_word",
            default=f"in {NEXT_WORD_DAYS} days",
            about="next_word",
            unknown="on which day we write again",
        ),
    ),
    (
        Ask(
            key="email",
            words="To which address can owners write?",
            short="The address that owners write to.",
            kind="email",
            about="contacts",
            unknown="to which address owners can write",
        ),
        Ask(
            key="phones",
            words="On which number do they reach a person, country by country? As GB +442079460123; GB alone: you call back.",
            short="Country and number, as GB +442079460123; GB alone: you call back.",
            kind="phones",
            about="contacts",
            unknown="on which number owners reach a person",
        ),
        Ask(
            key="sunday",
            words="Who reads the mailbox on Sunday?",
            short="Who reads the mailbox on Sunday.",
            about="contacts",
            unknown="who reads what owners write on a Sunday",
        ),
    ),
    (
        Ask(
            key="signer",
            words="Who signs what goes out?",
            short="Who signs what goes out.",
            about="sign",
            unknown="who signs for the firm",
        ),
        Ask(
            key="deputy",
            words="Who signs when that person is away?",
            short="Who signs when that person is away.",
            about="sign",
            unknown="who signs for the firm when that person is away",
        ),
        Ask(
            key="shelf",
            words="Has everything on the shelf been stopped? none if there is no shelf.",
            short="yes where the shelf is stopped, none where there is none.",
            kind="choice",
            choices=_STOPPED,
            about="sale_stop",
            unknown="whether sales from the shelf have stopped",
        ),
        Ask(
            key="web-shop",
            words="Is the web shop stopped? none if there is none.",
            short="yes where the web shop is stopped, none where there is none.",
            kind="choice",
            choices=_STOPPED,
            about="sale_stop",
            unknown="whether sales on the web have stopped",
        ),
        Ask(
            key="hire",
            words="Are hire units stopped? none if nobody hires them out.",
            short="yes where hire units are stopped, none where there are none.",
            kind="choice",
            choices=_STOPPED,
            about="sale_stop",
            unknown="whether units for hire have been stopped",
        ),
    ),
)

ASKS: tuple[Ask, ...] = tuple(ask for question in QUESTIONS for ask in question)

"""Questions 1 to 8: the product, who speaks, what goes wrong, what everyone must do, which units."""

from notices.campaign.asks import Ask

FAULT: tuple[tuple[Ask, ...], ...] = (
    (
        Ask(
            key="product",
            words="What do owners call the product?",
            short="What owners call the product.",
            about="product.name",
            unknown="what exactly the product is called",
            inside=True,
        ),
    ),
    (
        Ask(
            key="issuer",
            words="Which firm speaks to the owners?",
            short="The firm that speaks to the owners.",
            about="issuer.name",
            unknown="which firm answers for this notice",
            inside=True,
        ),
        Ask(
            key="town",
            words="In which town, with the street if you like?",
            short="The firm's town.",
            about="issuer.address",
            unknown="where owners can write to us by post",
            inside=True,
        ),
        Ask(
            key="country",
            words="In which country? Two letters, as GB or DE.",
            short="The firm's country, two letters.",
            kind="country",
            about="issuer.country",
            unknown="in which country the firm is that answers for this notice",
            inside=True,
        ),
        Ask(
            key="role",
            words="Is the firm maker, importer or dealer of the product?",
            short="maker, importer or dealer.",
            kind="choice",
            choices=("maker", "importer", "dealer"),
            about="issuer.role",
            unknown="whether we are its maker, importer or dealer",
            inside=True,
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
)

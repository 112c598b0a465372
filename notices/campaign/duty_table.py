"""The duties to authorities, a table a market; each with its source and how that was read. No legal advice.

Add a line where a market is wanted; its key is how the line is named when the report is made. Weekends and holidays are
those of the market's country. Two markets of the US stand apart, for they are other products than the commission's.
"""

from notices.campaign.duties import Duty

OTHER_PRODUCTS = {"US-vehicles": "US", "US-FDA": "US"}
"""Markets that no country names by itself, with the country whose holidays they keep."""

_EU = (
    Duty(
        key="eu-defect",
        market="EU",
        to="authorities, by the Safety Business Gateway",
        what="correct, warn consumers, and notify through the Safety Business Gateway, with the units in each country",
        days=0,
        counted="knowledge",
        source="Regulation (EU) 2023/988, article 9(8); importers and dealers: articles 10 to 12",
        mark="read",
    ),
    Duty(
        key="eu-accident",
        market="EU",
        to="the authority of the country where it happened, by the Safety Business Gateway",
        what="after an accident with harm: notify the authority of its country; importer and dealer tell the maker",
        days=0,
        counted="knowledge",
        about="incident",
        least="injury",
        source="Regulation (EU) 2023/988, article 20",
        mark="read",
    ),
)
_GB = (
    Duty(
        key="gb-defect",
        market="GB",
        to="the authority",
        what="notify the authority in writing; in Northern Ireland the EU's regulation holds (second-hand)",
        days=0,
        counted="knowledge",
        source="General Product Safety Regulations 2005, regulation 9",
        mark="from memory",
    ),
)
_US = (
    Duty(
        key="us-report",
        market="US",
        to="the commission",
        what="report to the commission within 24 hours of information that supports it; an investigation stops no clock"
        " once it does",
        days=1,
        working=True,
        counted="knowledge",
        source="15 USC 2064(b); 16 CFR 1115.14(a), (e)",
        mark="read",
    ),
    Duty(
        key="us-officer",
        market="US",
        to="the officer responsible in your firm",
        what="what anybody in the firm knows has reached whoever reports",
        days=5,
        working=True,
        counted="knowledge",
        source="16 CFR 1115.14(a), (b)",
        mark="read",
    ),
    Duty(
        key="us-investigation",
        market="US",
        to="the commission",
        what="end of an investigation, where one was needed to know; a longer one must be shown to be reasonable",
        days=10,
        working=True,
        counted="knowledge",
        source="16 CFR 1115.14(a), (d)",
        mark="read",
    ),
    Duty(
        key="us-progress",
        market="US",
        to="the commission's compliance officer",
        what="monthly progress report of the corrective action, by the first of each month",
        days=0,
        counted="action",
        series="month",
        source="the commission's form of the monthly progress report, 10/2015",
        mark="read",
    ),
)
_US_VEHICLES = (
    Duty(
        key="us-vehicles-report",
        market="US-vehicles",
        to="the vehicle safety administration",
        what="defect report after the firm has decided that there is a defect",
        days=5,
        working=True,
        counted="determination",
        source="49 CFR 573.6",
        mark="read",
    ),
    Duty(
        key="us-vehicles-owners",
        market="US-vehicles",
        to="owners, by first-class mail",
        what="owner letter after the report; a second one once the remedy is there",
        days=60,
        counted="report",
        source="49 CFR 577.7(a)(1)",
        mark="read",
    ),
    Duty(
        key="us-vehicles-lessees",
        market="US-vehicles",
        to="lessees, by their lessors",
        what="each lessor sends the letter on after it came",
        days=10,
        counted="notification",
        source="49 CFR 577.7(a)(2)",
        mark="read",
    ),
    Duty(
        key="us-vehicles-quarter",
        market="US-vehicles",
        to="the vehicle safety administration",
        what="quarterly report, eight of them, then one a year for three years",
        days=0,
        counted="notification",
        series="quarter",
        times=11,
        source="49 CFR 573.7(d); 49 USC 30118(f)",
        mark="read",
    ),
)
_US_FDA = (
    Duty(
        key="us-fda-status",
        market="US-FDA",
        to="the food and drug administration",
        what="status report of the recall, every two to four weeks; two are counted here",
        days=14,
        counted="action",
        series="fortnight",
        source="21 CFR 7.53(b)",
        mark="read",
    ),
)
_CA = (
    Duty(
        key="ca-incident",
        market="CA",
        to="the minister, and your supplier",
        what="send all information on the incident to the minister and to your supplier",
        days=2,
        counted="knowledge",
        about="both",
        source="Canada Consumer Product Safety Act, section 14(2)",
        mark="read",
    ),
    Duty(
        key="ca-report",
        market="CA",
        to="the minister",
        what="maker or importer: send the written report with the measures proposed",
        days=10,
        counted="knowledge",
        about="both",
        source="Canada Consumer Product Safety Act, section 14(3)",
        mark="read",
    ),
)
_AU = (
    Duty(
        key="au-harm",
        market="AU",
        to="the minister",
        what="report a death or a serious injury",
        days=2,
        counted="knowledge",
        about="incident",
        least="serious-injury",
        source="Australian Consumer Law, section 131",
        mark="read",
    ),
    Duty(
        key="au-recall",
        market="AU",
        to="the minister",
        what="notify within 2 days of taking recall action",
        days=2,
        rolls=True,
        counted="action",
        source="Australian Consumer Law, section 128",
        mark="read",
    ),
    Duty(
        key="au-abroad",
        market="AU",
        to="the regulator",
        what="where units went abroad: copy of the notice to those who got them there",
        days=10,
        counted="action",
        source="Australian Consumer Law, section 128, by the regulator's page",
        mark="read",
    ),
)
_NZ = (
    Duty(
        key="nz-recall",
        market="NZ",
        to="the chief executive",
        what="notify within 2 working days of recalling",
        days=2,
        working=True,
        counted="action",
        source="Fair Trading Act 1986, section 31A",
        mark="read",
    ),
)
_JP = (
    Duty(
        key="jp-accident",
        market="JP",
        to="the agency",
        what="report a serious accident within 10 days, the day of knowledge counted in",
        days=10,
        first_counts=True,
        counted="knowledge",
        about="incident",
        least="serious-injury",
        source="Consumer Product Safety Act of Japan, article 35",
        mark="second-hand",
    ),
)

DUTIES: tuple[Duty, ...] = (*_EU, *_GB, *_US, *_US_VEHICLES, *_US_FDA, *_CA, *_AU, *_NZ, *_JP)

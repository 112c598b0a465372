"""A campaign as its owners read it, from what a lead would write: the file, and translations in PO form."""

from notices.campaign.loading import load
from notices.wording.passages import Reading, lines_of
from notices.wording.translations import read_po

BRIEF = "issuer: {name: Fellbrook}\nproduct: {name: Emberling}\n"
"""The first two lines of a file; what is tested begins on line 3."""


def reading(text: str, **translations: str) -> Reading:
    """Return the reading of a file that stands below `BRIEF`, with the entries of PO files by language."""
    written = f"languages: {{written: [en, {', '.join(translations)}]}}\n" if translations else ""
    loaded = load(BRIEF + text + written)
    assert loaded.campaign is not None, "\n".join(map(str, loaded.findings))
    files = {
        tag: f'msgid ""\nmsgstr "Language: {tag}\\n"\n{entries}' for tag, entries in translations.items()
    }
    return Reading(
        campaign=loaded.campaign,
        lines=loaded.lines,
        translations={
            tag: read_po(file, tag, loaded.campaign, f"translations/{tag}.po")[0]
            for tag, file in files.items()
        },
        lines_of={tag: lines_of(file) for tag, file in files.items()},
    )

"""The page that takes photographs of a code, for a person to read; none of them clears anything."""

from collections.abc import Mapping
from dataclasses import replace

from notices.respond import steps, verbs
from notices.respond.forms import has_digits
from notices.respond.scenes import Page, Scene
from notices.wording.catalogues import msgid
from notices.work import claiming, helping, photos
from notices.work.photos import Unfit

_CHOOSE = msgid("Please choose a photo first.")
_FULL = msgid("We have enough photos of this one now. Please contact us.")
_OF_UNFIT: Mapping[Unfit, str] = {
    Unfit.TOO_LARGE: msgid("This photo is too large. Please take a smaller one, or send it by e-mail."),
    Unfit.TOO_MANY: msgid("Please send at most two photos at a time."),
    Unfit.OTHER_KIND: msgid(
        "We cannot read this kind of file. Please send a JPEG, PNG or WebP photo, or send it by e-mail."
    ),
    Unfit.BROKEN: msgid("This photo did not arrive whole. Please send it once more, or send it by e-mail."),
}


def fault(scene: Scene, unfit: Unfit) -> str:
    """Return what to tell somebody whose file cannot be kept."""
    return scene.ours(_OF_UNFIT[unfit])


def take(scene: Scene) -> Page:
    """Take photographs of a code; asked to *show* the page, show it, in another language perhaps."""
    form, asked = scene.form, steps.photo(scene)
    if form.token("do") == "show":
        return asked
    typed = {"name": form.line("name"), "phone": form.line("phone")}
    asked = replace(asked, values={**asked.values, "kept": typed, "photo_again": bool(form.photos)})
    lack = _lack(scene)
    if lack:
        return asked.saying(scene.ours(lack))
    kept = _keep(scene, asked)
    if kept is None:
        return asked
    if kept.full:
        return asked.saying(scene.ours(_FULL))
    return Page(template="thanks", values={"kind": steps.PHOTO, "reference": kept.unit_id})


def _lack(scene: Scene) -> str:
    """Return what to say of a form that is not yet whole, empty where it is."""
    form = scene.form
    if form.unfit is not None:
        return _OF_UNFIT[form.unfit]
    if not form.kept:
        return _CHOOSE
    if scene.served:
        return ""
    number = "" if has_digits(form.line("phone")) else verbs.NUMBER_NEEDED
    return number if form.line("name") else verbs.NEEDED


def _keep(scene: Scene, asked: Page) -> photos.Kept | None:
    """Keep the photographs with the link's unit, or as a case of its own whose owner asks for help."""
    if scene.link is not None and scene.served:
        return photos.show_code(scene.world, scene.link, scene.proof, scene.said, scene.form.kept)
    if asked.claim is None:
        return None
    taken = claiming.take_claim(
        scene.world,
        scene.said,
        asked.claim,
        verbs.claimant(scene),
        ask=helping.NO_CODE,
        photos=scene.form.kept,
    )
    return photos.Kept(unit_id=taken.proof.unit_id, full=taken.full) if taken.proof else None

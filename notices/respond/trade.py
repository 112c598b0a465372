"""The page of a shop, which confirms on one form, and that of a lessor, who says how many were forwarded."""

from audiences.cleaning import narrow
from notices.cases.shops import HANDED_OVER, NAMES
from notices.respond import verbs
from notices.respond.scenes import Page, Scene
from notices.wording.catalogues import msgid
from notices.work import shop_words
from notices.work.shop_words import Confirmation

_MOST = 1_000_000
WHOLE_NUMBER = msgid("Please type a whole number, 0 if there is none.")


def show(scene: Scene) -> Page:
    """Return the page of a shop or lessor, with what it said last; showing it changes nothing."""
    visit = scene.visit
    assert visit is not None and visit.trades  # noqa: PT018, S101 - the caller has looked
    case = shop_words.shop_of(scene.world, visit.owner.owner_id)
    values = {
        "show_ways": False,
        "shop": not visit.lets,
        "name": visit.owner.name,
        "lets": visit.lets,
        "packed": case.packed,
        "said": case,
        "kept": {},
    }
    return Page(template="trade", step="first", values=values)


def take(scene: Scene) -> Page:
    """Record what a shop or lessor sends; what is missing is asked for once more."""
    form = scene.form
    do = form.token("do")
    if do == "shop":
        return _confirmed(scene)
    return _forwarded(scene) if do == "forwarded" else show(scene)


def _confirmed(scene: Scene) -> Page:
    form = scene.form
    kept = {name: form.line(name) for name in ("stopped", "shelf", "sold", "names", "by")}
    asked = _kept(scene, kept)
    if not all(kept.values()) or kept["stopped"] not in {"yes", "no"} or kept["names"] not in NAMES:
        return asked.saying(scene.ours(verbs.NEEDED))
    shelf, sold = _number(kept["shelf"]), _number(kept["sold"])
    if shelf is None or sold is None:
        return asked.saying(scene.ours(WHOLE_NUMBER))
    word = Confirmation(
        by=kept["by"], stopped=kept["stopped"] == "yes", shelf=shelf, sold=sold, names=kept["names"]
    )
    shop_words.confirm_on_page(scene.world, scene.link or "", scene.said, word)
    return _thanks(names=word.names if word.stopped else "", call=not word.stopped)


def _forwarded(scene: Scene) -> Page:
    kept = {name: scene.form.line(name) for name in ("units", "by")}
    asked = _kept(scene, kept)
    if not all(kept.values()):
        return asked.saying(scene.ours(verbs.NEEDED))
    count = _number(kept["units"])
    if count is None:
        return asked.saying(scene.ours(WHOLE_NUMBER))
    shop_words.forwarded_on_page(scene.world, scene.link or "", scene.said, count=count, by=kept["by"])
    return _thanks(names="", call=False)


def _kept(scene: Scene, kept: dict[str, str]) -> Page:
    page = show(scene)
    return Page(template=page.template, step=page.step, values={**page.values, "kept": kept})


def _thanks(*, names: str, call: bool) -> Page:
    values = {"show_ways": False, "hand_over": names == HANDED_OVER, "forward": bool(names), "call": call}
    return Page(template="trade_thanks", values=values)


def _number(text: str) -> int | None:
    """Return the whole number that was typed, in whatever digits; None where it is none, or beyond any shop."""
    digits = narrow(text).replace(" ", "")
    if not (digits.isascii() and digits.isdecimal()) or len(digits) > len(str(_MOST)):
        return None
    return min(int(digits), _MOST)

"""A code written by its layout: the inverse of reading."""

from collections.abc import Mapping, Sequence

from audiences import gs1
from audiences.builds import Build, build_of
from audiences.check_characters import check_signs
from audiences.parts import Part, written


def printed(parts: Sequence[Part], fields: Mapping[str, str | int]) -> str:
    """Return the code of a build with these *fields*, which must be such as the layout reads."""
    build = build_of(parts)
    return assembled(build, [written(step.part, fields.get(step.part.name, "")) for step in build.steps])


def assembled(build: Build, cut: Sequence[str]) -> str:
    """Return the code made of the signs of each step; text, separators and check characters are the build's own.

    A check that cannot count its signs is left out.
    """
    own = {"text", "separator"}
    folded = [
        step.texts[0] if step.part.kind in own else signs
        for step, signs in zip(build.steps, cut, strict=True)
    ]
    shown = [
        step.part.text if step.part.kind in own else signs
        for step, signs in zip(build.steps, cut, strict=True)
    ]
    for at in build.checks:
        shown[at] = check_signs(build.steps[at].part.scheme, build.counted(at, folded)) or ""
    if not build.marked:
        return "".join(shown)
    found: dict[str, str] = {}
    for step, signs in zip(build.steps, shown, strict=True):
        found[step.part.element] = found.get(step.part.element, "") + signs
    return gs1.bracketed(found)

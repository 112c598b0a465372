"""What a revision changed is said value by value; what a list gained shifts nothing else."""

from notices.campaign.comparing import Change, changed
from tests.stove import a_stove, without


def test_equal_campaigns_have_no_changes() -> None:
    assert changed(a_stove(), a_stove()) == ()


def test_a_changed_value_is_one_change() -> None:
    after = a_stove(("units: 620", "units: 640"), ("free: false,", "free: true,"))

    assert changed(a_stove(), after) == (
        Change(path="contacts[0].free", before=False, after=True),
        Change(path="product.sold.units", before=620, after=640),
    )


def test_a_new_first_step_is_the_only_change() -> None:
    after = a_stove(("    all:\n      - Put the", "    all:\n      - Go outside.\n      - Put the"))

    assert changed(a_stove(), after) == (Change(path="now.steps.all[0]", before=None, after="Go outside."),)


def test_a_step_that_is_gone_is_the_only_change() -> None:
    after = a_stove(("      - Tell us that you have stopped.\n", ""))

    assert changed(a_stove(), after) == (
        Change(path="now.steps.all[3]", before="Tell us that you have stopped.", after=None),
    )


def test_a_changed_item_of_a_list_is_compared_from_within() -> None:
    after = a_stove(("{step: letter, after_days: 7", "{step: letter, after_days: 8"))

    assert changed(a_stove(), after) == (Change(path="follow_up[2].after_days", before=7, after=8),)


def test_a_part_that_comes_brings_each_of_its_values() -> None:
    assert changed(a_stove(text=without("meanwhile")), a_stove()) == (
        Change(path="meanwhile.kind", before=None, after="hire"),
        Change(path="meanwhile.text", before=None, after="Until then we lend you another stove: call us."),
        Change(path="meanwhile.saying", before=None, after=1),
    )


def test_a_list_that_comes_brings_each_of_its_values() -> None:
    after = a_stove(('works: F, week: ["2514", "2533"]', "number: [1, 9]"))

    assert changed(a_stove(), after) == (
        Change(path="affected[0].works", before="F", after=None),
        Change(path="affected[0].week[0]", before="2514", after=None),
        Change(path="affected[0].week[1]", before="2533", after=None),
        Change(path="affected[0].number[0]", before=None, after=1),
        Change(path="affected[0].number[1]", before=None, after=9),
    )


def test_another_first_remedy_is_a_change() -> None:
    before = a_stove()
    after = before.model_copy(update={"remedies": dict(reversed((before.remedies or {}).items()))})

    assert changed(before, after) == (
        Change(path="remedies", before="new-valve, refund", after="refund, new-valve"),
    )

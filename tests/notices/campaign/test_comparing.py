"""What a revision changed is said value by value; what a list gained shifts nothing else."""

from audiences.code_lists import CodeList
from notices.campaign.comparing import Change, ListChange, changed, lists_changed
from notices.campaign.revisions import Revision
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


def test_a_list_of_codes_says_how_many_it_gained_and_lost() -> None:
    before = {"lists/a.txt": ["A1", "A2", "A3"], "lists/b.txt": ["B1"], "lists/c.txt": ["C1"]}
    after = {"lists/a.txt": ["A3", "a-4", "A5", "A6"], "lists/b.txt": ["b 1"], "lists/d.txt": ["D1", "D2"]}
    was, now = (
        Revision(campaign=a_stove(), lists={file: CodeList.of(codes) for file, codes in lists.items()})
        for lists in (before, after)
    )

    assert lists_changed(was, now) == (
        ListChange(file="lists/a.txt", gained=3, lost=2),
        ListChange(file="lists/c.txt", gained=0, lost=1),
        ListChange(file="lists/d.txt", gained=2, lost=0),
    )

from __future__ import annotations

import pytest

from jambset.engine.promises import Promises
from jambset.engine.share import Choice, share

ONE, TWO, THREE, FOUR = 12_700, 25_400, 38_100, 50_800
"""Block sizes on a 1/16 in grid [ticks]."""
MINUTE = 10**12


def test_nothing_to_choose() -> None:
    assert share([], price=5).places == ()


def test_a_door_that_needs_no_block_takes_its_cheapest_choice() -> None:
    assert share([[Choice(3), Choice(1), Choice(2)]], price=5).places == (1,)


def test_of_choices_alike_in_everything_the_first() -> None:
    assert share([[Choice(4), Choice(1, (ONE,)), Choice(1, (ONE,))]], price=2).places == (1,)


def test_a_size_for_one_door_is_worth_its_price_or_not() -> None:
    door = [Choice(0, (ONE,)), Choice(6)]
    assert share([door], price=5).places == (0,)
    assert share([door], price=7).places == (1,)


def test_two_doors_together_are_worth_a_size_that_one_is_not() -> None:
    door = [Choice(0, (ONE,)), Choice(3)]
    assert share([door], price=5).places == (1,)
    assert share([door, door], price=5).places == (0, 0)
    assert share([door, [Choice(0, (ONE,)), Choice(3), Choice(9)]], price=5).places == (0, 0)


def test_a_door_leaves_its_own_best_height_for_a_size_that_another_needs_anyway() -> None:
    bound = [Choice(0, (TWO,))]
    free = [Choice(0, (ONE,)), Choice(4, (TWO,))]
    assert share([free, bound], price=5).places == (1, 0)
    assert share([free, bound], price=3).places == (0, 0)


def test_a_head_line_pays_each_of_its_sizes_once() -> None:
    line = [Choice(40), Choice(0, (ONE, TWO, THREE, FOUR))]
    assert share([line], price=11).places == (0,)
    assert share([line, [Choice(0, (THREE,)), Choice(3)]], price=11).places == (0, 1)
    assert share([line, [Choice(0, (THREE,)), Choice(5)]], price=11).places == (1, 0)


def test_doors_that_share_no_size_do_not_concern_each_other() -> None:
    low, high = [Choice(0, (ONE,)), Choice(2, (TWO,))], [Choice(0, (FOUR,)), Choice(1, (THREE,))]
    assert share([low, high], price=5).places == (0, 0)
    assert share([low, high, [Choice(0, (TWO,))], [Choice(0, (THREE,))]], price=5).places == (1, 1, 0, 0)


def test_three_doors_of_which_each_two_share_a_size_need_two_sizes() -> None:
    """No payments prove it, they come to one and a half: a size has to be bought and left out."""
    doors = [[Choice(0, (ONE,)), Choice(0, (TWO,))], [Choice(0, (TWO,)), Choice(0, (THREE,))]]
    doors.append([Choice(0, (ONE,)), Choice(0, (THREE,))])
    assert share(doors, price=5).places == (0, 0, 0)


def test_free_blocks_leave_each_door_its_cheapest_choice() -> None:
    doors = [[Choice(1), Choice(0, (ONE, TWO))], [Choice(2, (ONE,)), Choice(1, (THREE,))]]
    assert share(doors, price=0).places == (1, 1)


@pytest.mark.parametrize("price", [0, 5])
def test_of_equal_totals_the_fewest_sizes(price: int) -> None:
    assert share([[Choice(0, (ONE,)), Choice(price)]], price=price).places == (1,)
    assert share([[Choice(price, (ONE,)), Choice(0, (TWO, THREE))]], price=price).places == (0,)


@pytest.mark.parametrize("price", [0, 5])
def test_of_as_many_sizes_those_that_come_first_in_rising_order(price: int) -> None:
    assert share([[Choice(0, (TWO,)), Choice(0, (ONE,))]], price=price).places == (1,)
    assert share([[Choice(0, (TWO, THREE)), Choice(0, (ONE, FOUR))]], price=price).places == (1,)


def test_of_as_many_sizes_those_that_come_first_also_where_parts_are_settled_apart() -> None:
    """3 + 5 and 3 + 6 come to 1 + 2 alike; 6 + 8 and 6 + 7 to 1 + 10, and what has 2 or 3 in it to more."""
    doors = [[Choice(1, (6,)), Choice(1, (3,))], [Choice(0, (6,)), Choice(0, (5,))]]
    assert share([*doors, [Choice(0, (3,)), Choice(1, (1, 2))]], price=1).places == (1, 1, 0)
    doors = [[Choice(1, (6,)), Choice(0, (3,))], [Choice(0, (2, 8)), Choice(0, (6,))]]
    assert share([*doors, [Choice(0, (8,)), Choice(1, (2, 6)), Choice(0, (6, 7))]], price=5).places == (0, 1, 2)


def test_within_the_sizes_bought_the_fewest_then_the_first() -> None:
    both = [Choice(0, (ONE, TWO))]
    assert share([both, [Choice(0, (ONE, TWO)), Choice(0, (TWO,)), Choice(0, (ONE,))]], price=5).places == (0, 2)


def test_costs_are_exact_at_any_size() -> None:
    door = [Choice(10**40 + 5 * MINUTE, ()), Choice(10**40, (ONE,))]
    assert share([door], price=5 * MINUTE - 1).places == (1,)
    assert share([door], price=5 * MINUTE + 1).places == (0,)


def test_a_unit_without_a_choice_is_refused() -> None:
    with pytest.raises(ValueError, match="unit 1 has no choice; give each unit at least one"):
        share([[Choice(0)], []], price=5)


def test_a_negative_price_is_refused() -> None:
    with pytest.raises(ValueError, match="a block size can't cost -1; give a price of at least 0"):
        share([[Choice(0)]], price=-1)


# --- promises


def test_a_unit_promises_no_more_than_makes_its_next_choice_as_cheap() -> None:
    # size 10: the first leaves it for 3 more, the second for 8, so it pays the 7 that are left. Both with the size
    # come to 2 + 0 + 10 = 12, both without to 13: the bound is the answer
    promises = Promises([[(2, 1), (5, 0)], [(0, 1), (8, 0)]], prices=[10])
    assert (promises.paid, promises.bound) == ([{0: 3}, {0: 7}], 12)


def test_the_size_most_was_promised_to_in_vain_is_settled_first() -> None:
    # three units stand on no block; two had promised 5 each to the first size, one 6 to the second
    promises = Promises([[(0, 0), (1, 1)], [(0, 0), (1, 1)], [(0, 0), (1, 2)]], prices=[20, 20])
    promises.paid = [{0: 5}, {0: 5}, {1: 6}]
    assert promises.contested(0b11) == 0
    promises.paid = [{0: 2}, {0: 2}, {1: 6}]
    assert promises.contested(0b11) == 1


def test_a_unit_that_goes_last_raises_the_bound_by_what_the_others_then_promise() -> None:
    # a size of 1 and one of 5: the second unit needs both, 4 + 6 = 10, and the first then has either for nothing
    promises = Promises([[(0, 1), (0, 2)], [(4, 3)]], prices=[1, 5])
    assert promises.bound == sum(promises.level) == 9
    assert promises.rearrange(0b11, below=10)
    assert promises.bound == sum(promises.level) == 10


def test_where_nothing_is_gained_by_going_last_the_bound_is_said_to_stand() -> None:
    promises = Promises([[(2, 1), (5, 0)], [(0, 1), (8, 0)]], prices=[10])
    assert not promises.rearrange(0b1, below=100)
    assert promises.bound == 12


def test_what_a_unit_promises_to_a_size_adds_up_from_level_to_level() -> None:
    # raised to 3 it pays 3 to the first size; raised to 7, 4 more to that one and 4 to the second
    promises = Promises([[(0, 1), (3, 2), (7, 0)]], prices=[10, 10])
    assert (promises.paid, promises.bound) == ([{0: 7, 1: 4}], 7)


def test_a_size_that_costs_as_much_as_it_saves_is_left_out_of_an_answer() -> None:
    # two units pay 3 each for a size of 6, which without it is what they cost more
    promises = Promises([[(0, 1), (3, 0)], [(0, 1), (3, 0)]], prices=[6])
    assert promises.slack == [0]
    assert promises.answer(prices=[6]) == (6, 0)

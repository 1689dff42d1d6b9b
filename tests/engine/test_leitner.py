"""The learning box against a schedule worked out by hand.

Source of the rules: Sebastian Leitner, "So lernt man lernen. Der Weg zum Erfolg", 1972, as the Wikipedia article
"Leitner system" tells them: five compartments of 1, 2, 5, 8 and 14 cm, one on when right, back to the first when wrong.
"""

from datetime import date, timedelta

from tilewitness.engine.leitner import WAITS, Box, Review, boxes, next_up

START = date(2030, 1, 1)


def day(number: int) -> date:
    return START + timedelta(days=number)


def test_the_compartments_are_those_of_the_book() -> None:
    assert (1, 2, 5, 8, 14) == WAITS


def test_always_right_moves_one_on_each_time_and_stays_in_the_last() -> None:
    # Compartment 2 after the first day, and so due after 2 days, then 5, 8 and 14; from there 14 again and again.
    expected = [(0, 2, 2), (2, 3, 7), (7, 4, 15), (15, 5, 29), (29, 5, 43), (43, 5, 57)]

    reviews = []
    for on, number, due in expected:
        reviews.append(Review("hand", day(on), True))

        assert {"hand": Box(number, day(due))} == boxes(reviews)


def test_wrong_goes_back_to_the_first_from_wherever_it_stood() -> None:
    known = [Review("hand", day(on), True) for on in (0, 2, 7)]
    forgotten = [*known, Review("hand", day(15), False)]

    assert Box(4, day(15)) == boxes(known)["hand"]
    assert Box(1, day(16)) == boxes(forgotten)["hand"]
    assert Box(2, day(18)) == boxes([*forgotten, Review("hand", day(16), True)])["hand"]


def test_right_before_it_is_due_changes_nothing() -> None:
    once = [Review("hand", day(0), True)]

    assert boxes(once) == boxes([*once, Review("hand", day(0), True), Review("hand", day(1), True)])


def test_wrong_before_it_is_due_goes_back_all_the_same() -> None:
    assert Box(1, day(2)) == boxes([Review("hand", day(0), True), Review("hand", day(1), False)])["hand"]


def test_what_is_due_comes_first_then_what_is_new_then_what_is_not_due() -> None:
    reviews = [
        Review("known well", day(0), True), Review("known well", day(2), True),  # compartment 3, due on day 7
        Review("known", day(5), True),  # compartment 2, due on day 7
        Review("wrong", day(6), False),  # compartment 1, due on day 7
        Review("fresh", day(7), True),  # compartment 2, due on day 9
        Review("fresher", day(7), False),  # compartment 1, due on day 8
    ]  # fmt: skip
    items = ["new", "known well", "known", "wrong", "fresh", "fresher", "newer"]

    assert ["wrong", "known", "known well", "new", "newer", "fresher", "fresh"] == next_up(items, reviews, day(7))

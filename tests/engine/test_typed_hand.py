"""A hand while it is being typed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewitness.engine.typed_hand import read_typed


def test_a_whole_hand_is_described() -> None:
    typed = read_typed("pair of flowers, kongs of 2, 4 and 6 in one suit; worth 25")

    assert () == typed.faults
    assert typed.description is not None
    assert 3 == typed.description.forms


def test_every_fault_marks_its_word() -> None:
    wording = "Kogn of 4 in bam, pair of flowers, pung of the 6 in one siut; wroth 25"
    typed = read_typed(wording)

    assert typed.description is None
    assert ["Kogn", "siut", "wroth"] == [wording[one.start : one.end] for one in typed.faults]
    assert [1, 15, 16] == [one.place for one in typed.faults]


@pytest.mark.parametrize("wording", ["", "pair of", "pair of flowers"])
def test_what_is_not_finished_is_at_fault_at_its_end(wording: str) -> None:
    faults = read_typed(wording).faults

    assert {(len(wording), len(wording), 0)} == {(fault.start, fault.end, fault.place) for fault in faults}
    assert "it has no worth" in faults[-1].problem


def test_every_group_without_a_suit_is_marked() -> None:
    wording = "kong of 4, either pair of east or pung of 2, kong of 6 in bam, pung of 3; worth 25"
    faults = read_typed(wording.replace(" in bam", "")).faults

    assert [0, 34, 45, 56] == [fault.start for fault in faults]
    assert [wording[0:4], "pung", "kong", "pung"] == [wording.replace(" in bam", "")[one.start : one.end] for one in faults]


def test_too_many_forms_are_a_fault_too() -> None:
    (fault,) = read_typed("single of the first number in any suit, " * 9 + "quint of the sum in one suit; worth 25").faults

    assert "ways to choose" in fault.problem


@given(st.text(alphabet=st.sampled_from("kong of pair 4,;inbam worth25\u0130é"), max_size=60))
def test_no_text_stops_the_reading_and_marks_lie_within_it(wording: str) -> None:
    typed = read_typed(wording)

    assert (typed.description is None) == bool(typed.faults)
    assert all(0 <= one.start <= one.end <= len(wording) for one in typed.faults)

"""Label codes against ISO/IEC 7064, Mod 37-2."""

from __future__ import annotations

import itertools

import pytest
from stdnum.iso7064 import mod_37_2

from sporeline.kernel.code import ALPHABET, check_character, code_of, verify

# Published example: python-stdnum's documentation of Mod 37-2 (G1234 89 654321 is a donation
# number as ISBT 128 writes them, whose check character is Mod 37-2 too).
PUBLISHED = ("G123489654321", "Y")


def test_the_published_example() -> None:
    number, check = PUBLISHED
    assert check_character(number) == check
    assert mod_37_2.calc_check_digit(number) == check


# All pairs at the ends and every fifth character in the middle: 30 x 30 x 6 codes.
SAMPLE = [
    f"{first}{middle}3{middle}{last}"
    for first, last, middle in itertools.product(ALPHABET, ALPHABET, ALPHABET[::5])
]


def test_check_characters_are_those_of_python_stdnum() -> None:
    assert len(SAMPLE) == 5400
    assert [check_character(five) for five in SAMPLE] == [
        mod_37_2.calc_check_digit(five) for five in SAMPLE
    ]


def test_good_and_bad_codes_are_those_of_python_stdnum() -> None:
    for five in SAMPLE[::50]:
        for check in ALPHABET:
            assert verify(five + check) == mod_37_2.is_valid(five + check)


@pytest.mark.parametrize("five", SAMPLE[::500])
def test_a_code_whose_check_character_cannot_be_written_is_not_made(five: str) -> None:
    expected = mod_37_2.calc_check_digit(five)
    assert code_of(five) == (five + expected if expected in ALPHABET else None)

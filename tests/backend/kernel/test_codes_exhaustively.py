"""Label codes: every single wrong character and every swap of neighbours is found."""

from hypothesis import given, settings
from hypothesis import strategies as st

from sporeline.kernel.code import ALPHABET, check_character, code_of, suggestions, verify

FIVES = st.text(ALPHABET, min_size=5, max_size=5)
CODES = FIVES.map(code_of).filter(lambda code: code is not None).map(str)


def changed(code: str) -> list[str]:
    return [code[:i] + c + code[i + 1 :] for i in range(6) for c in ALPHABET if c != code[i]]


def swapped(code: str) -> list[str]:
    pairs = [(i, code[i], code[i + 1]) for i in range(5) if code[i] != code[i + 1]]
    return [code[:i] + second + first + code[i + 2 :] for i, first, second in pairs]


@given(CODES)
@settings(max_examples=50)
def test_every_slip_is_found(code: str) -> None:
    assert verify(code)
    assert len(changed(code)) == 6 * 29
    for slip in [*changed(code), *swapped(code)]:
        assert not verify(slip), slip


@given(CODES, st.data())
@settings(max_examples=50)
def test_the_code_is_among_what_is_offered_after_a_slip(code: str, data: st.DataObject) -> None:
    assert code in suggestions(data.draw(st.sampled_from([*changed(code), *swapped(code)])))


def test_no_difference_of_two_characters_vanishes_at_any_place() -> None:
    """For all codes at once: a slip changes the sum by (difference times a power of two), a swap by
    (difference times a power of two); neither is a multiple of 37."""
    values = {c: next(v for v in range(37) if _sum_of_one(c, v)) for c in ALPHABET}
    differences = {values[a] - values[b] for a in ALPHABET for b in ALPHABET if a != b}
    assert all(d * 2**place % 37 for d in differences for place in range(6))


def _sum_of_one(character: str, value: int) -> bool:
    """The value of a character, from the check of "0000" and it: (1 - 2 * value) mod 37."""
    iso = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"
    return iso.index(check_character("0000" + character)) == (1 - 2 * value) % 37


def test_about_one_draw_in_five_is_thrown_away() -> None:
    """30 of the 37 check characters are in the alphabet."""
    fives = [a + b + c for a in ALPHABET for b in ALPHABET for c in ALPHABET]
    kept = sum(code_of(five + "22") is not None for five in fives)
    assert 0.78 < kept / len(fives) < 0.84

"""Label codes: five characters drawn at random and a check character (ISO 7064 Mod 37-2).

The check finds every single wrong character and every swap of two neighbours. The alphabet leaves
out what is misread on a wet label (0 O, 1 I L, U V), so a draw whose check character would fall
outside it is thrown away.
"""

from collections.abc import Callable

ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
_ISO_7064 = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"
_VALUES = {character: value for value, character in enumerate(_ISO_7064)}
_READ = {**{c: c for c in ALPHABET}, **{c.lower(): c for c in ALPHABET}}
LENGTH = 6


def check_character(five: str) -> str:
    """The Mod 37-2 check character, one of 37; may fall outside the alphabet of codes."""
    return _ISO_7064[(1 - 2 * _sum(five)) % 37]


def code_of(five: str) -> str | None:
    """The whole code, or None when its check character falls outside the alphabet."""
    check = check_character(five)
    return five + check if check in ALPHABET else None


def draw_code(draw: Callable[[int], int]) -> str:
    """A code drawn with `draw(n)`, which gives a random whole number from 0 to n - 1."""
    while True:
        code = code_of("".join(ALPHABET[draw(len(ALPHABET))] for _ in range(LENGTH - 1)))
        if code is not None:
            return code


def verify(code: str) -> bool:
    """Whether this is a good code; small letters, spaces and hyphens are as good."""
    six = plain(code)
    return len(six) == LENGTH and all(c in ALPHABET for c in six) and _sum(six) % 37 == 1


def plain(code: str) -> str:
    """The code as it is kept: capitals, without spaces and hyphens; what else it holds stays."""
    return "".join(_READ.get(c, c) for c in code if c not in " -")


def suggestions(code: str) -> list[str]:
    """Good codes that differ from this by one wrong character or two swapped neighbours."""
    six = plain(code)
    if len(six) != LENGTH or verify(six):
        return []
    changed = [six[:i] + c + six[i + 1 :] for i in range(LENGTH) for c in ALPHABET]
    swapped = [six[:i] + six[i + 1] + six[i] + six[i + 2 :] for i in range(LENGTH - 1)]
    return sorted({each for each in changed + swapped if verify(each)})


def _sum(characters: str) -> int:
    """Horner's rule: each character doubled once for each that follows it."""
    total = 0
    for character in characters:
        total = total * 2 + _VALUES[character]
    return total

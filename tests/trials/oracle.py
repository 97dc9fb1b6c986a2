"""What must be true after healing, judged from outside: promises 1, 2 and 3."""

from __future__ import annotations

from .phone import SERVERS_WORDS, Phone


def judge(phones: list[Phone], fresh: Phone) -> int:
    """All phones exchange until quiet; a fresh phone pulls all; then everything is compared.

    Returns the number of entries that were called saved.
    """
    for phone in [*phones, *phones]:
        phone.exchange()
    lines = _pull_all(fresh)
    ids = [line["id"] for line in lines]
    assert len(ids) == len(set(ids)), "an entry is on the server twice"
    on_server = {line["id"]: _plain(line) for line in lines}
    called_saved = {key: entry for phone in phones for key, entry in phone.saved.items()}
    lost = [key for key in called_saved if key not in on_server]
    assert not lost, f"{len(lost)} entries that were called saved are not on the server: {lost[:3]}"
    assert on_server == called_saved, "an entry was altered, or one came from nowhere"
    for phone in phones:
        unheard = phone.acknowledged - on_server.keys()
        assert not unheard, f"acknowledged to {phone.name} and not there: {sorted(unheard)[:3]}"
        assert phone.saved == on_server, f"{phone.name} does not have the same entries"
    return len(called_saved)


def _pull_all(fresh: Phone) -> list[dict[str, object]]:
    lines: list[dict[str, object]] = []
    cursor, more = None, True
    while more:
        body = {**fresh.request(), "cursor": cursor, "high": None, "entries": []}
        answer = fresh.call("POST", fresh.path("exchange"), body)
        lines += answer["entries"]
        cursor, more = answer["cursor"], answer["more"]
    return lines


def _plain(line: dict[str, object]) -> dict[str, object]:
    return {key: value for key, value in line.items() if key not in SERVERS_WORDS}

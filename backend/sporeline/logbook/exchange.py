"""One round trip between a phone and the logbook, safe to repeat."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection

from sporeline.clocks import Clocks, instant
from sporeline.contract.judging import is_hash
from sporeline.database import Database, get_state, put_state
from sporeline.ids import Ids
from sporeline.logbook import digest, numbers, outlooks, records, rejudge
from sporeline.logbook.append import Appended, Bringer, Kept, append
from sporeline.logbook.heads import Head, Place, check_place, head_row, lock_head
from sporeline.logbook.pages import MOST_LINES, Page, Reader, since
from sporeline.logbook.recent import Recent
from sporeline.people import Membership
from sporeline.people.roles import may, require

MOST_ENTRIES = 500


@dataclass(frozen=True)
class Asked:
    """What a phone asks. `cursor`: where it stands; `high`: the highest number it was ever told."""

    cursor: Place | None = None
    high: Place | None = None
    entries: Sequence[Any] = ()
    limit: int = MOST_LINES
    numbers: Mapping[str, numbers.Left] = field(default_factory=dict)
    outlooks: int = 0
    """The highest `n` of an outlook that it has."""


@dataclass(frozen=True)
class _Taken:
    """What became of a batch, and the phone's running numbers afterwards."""

    done: Appended
    blocks: Sequence[numbers.Block]


class Logbooks:
    """The room's front: each method is one or two transactions, with the clocks it was given."""

    type_of_photo = staticmethod(records.type_of_photo)

    def __init__(self, database: Database, clocks: Clocks, ids: Ids) -> None:
        self._database = database
        self._clocks = clocks
        self._ids = ids
        self._recent = Recent()

    def catch_up(self) -> None:
        """Once after an update: judge and fold anew if the rules are others than last time."""
        rules = rejudge.rules_known()
        with self._database.write() as c:
            if get_state(c, "rules") != rules:
                rejudge.catch_up(c)
                put_state(c, "rules", rules)

    def exchange(self, here: Membership, asked: Asked) -> str:
        """Take up what the phone brings, commit, and answer with what it lacks; JSON text.

        :raise Diverged: its place is not in this history; nothing was stored.
        """
        taken = self._take_up(here, asked) if asked.entries else None
        answer = self._answer(here, asked, taken)
        if answer is None:
            answer = self._answer(here, asked, self._take_up(here, asked))
        assert answer is not None
        return answer

    def digest(
        self, here: Membership, ids: Sequence[str], photos: Sequence[str], photo_store: Any
    ) -> digest.Digest:
        """What of these the logbook lacks."""
        require(here.role, "see")

        def has_photo(sha256: str) -> bool:
            return is_hash(sha256) and photo_store.path(here.logbook, sha256) is not None

        with self._database.read() as c:
            return digest.digest(c, here.logbook, ids, photos, has_photo)

    def _take_up(self, here: Membership, asked: Asked) -> _Taken:
        session, clocks = here.session, self._clocks
        bringer = Bringer(session, here.role, clocks.calendar_today(), clocks.wall())
        with self._database.write() as c:
            head = lock_head(c, here.logbook, self._ids.new())
            _check_places(c, head, asked)
            recent = self._recent.take(head)
            done = append(c, head, bringer, asked.entries, recent)
            blocks = numbers.present(c, head.key, session.device)
            if series := self._wanting(here, asked, blocks):
                numbers.grant(c, head.key, session.device, series)
                blocks = numbers.present(c, head.key, session.device)
        self._recent.keep(head, done.seq, recent)
        return _Taken(done, blocks)

    def _answer(self, here: Membership, asked: Asked, taken: _Taken | None) -> str | None:
        """The answer; None when something must be written for it first."""
        done = taken.done if taken else Appended()
        with self._database.read() as c:
            head = head_row(c, here.logbook)
            if head is None:
                return None
            if taken:
                blocks = taken.blocks
            else:
                blocks = numbers.present(c, head.key, here.session.device)
                if self._wanting(here, asked, blocks):
                    return None
                _check_places(c, head, asked)
            reader = Reader(here.session, here.role, {id for id, _ in done.stored})
            page = since(c, head, asked.cursor, reader, asked.limit)
            likely = [] if page.more else outlooks.read_outlooks(c, head.key, asked.outlooks)
        return self._written(head, done, page, blocks, likely)

    def _wanting(
        self, here: Membership, asked: Asked, blocks: Iterable[numbers.Block]
    ) -> list[str]:
        if not may(here.role, "write"):
            return []
        return numbers.wanting(blocks, here.session, asked.numbers)

    def _written(
        self,
        head: Head,
        done: Appended,
        page: Page,
        blocks: Sequence[numbers.Block],
        likely: Sequence[str],
    ) -> str:
        beside = {
            "cursor": {"epoch": page.place.epoch, "seq": page.place.seq, "entry": page.place.entry},
            "more": page.more,
            "server_now": self._clocks.now(),
            "today": self._clocks.calendar_today(),
            "shift_days": self._clocks.shift_days,
            "backed_up": _told_backup(head),
            "numbers": [{"series": b.series, "from": b.first, "to": b.last} for b in blocks],
        }
        return (
            f'{{"stored":[{",".join(_verdict(id, kept) for id, kept in done.stored)}],'
            f'"refused":{_json([each.on_the_wire() for each in done.refused])},'
            f'"entries":[{",".join(page.lines)}],'
            f'"outlooks":[{",".join(likely)}],'
            f"{_json(beside)[1:]}"
        )


def _check_places(c: Connection, head: Head, asked: Asked) -> None:
    check_place(c, head, asked.cursor)
    if asked.high != asked.cursor:
        check_place(c, head, asked.high)


def _verdict(id: str, kept: Kept) -> str:
    state = "held" if kept.held else "stored"
    again = ',"again":true' if kept.again else ""
    return (
        f'{{"id":"{id}","seq":{kept.seq},"state":"{state}","received":{kept.received},'
        f'"errors":{kept.errors or "[]"}{again}}}'
    )


def _told_backup(head: Head) -> dict[str, Any] | None:
    mark = head.backed_up
    return None if mark is None else {**mark, "at": instant(mark["at"])}


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))

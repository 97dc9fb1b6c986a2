"""A server that has learned something judges anew what it held, and folds anew what it has."""

from __future__ import annotations

import hashlib
import json

from sqlalchemy import Connection, select

from sporeline.contract.faults import Fault
from sporeline.contract.judging import faults_of, half_characters
from sporeline.contract.kinds import KERNEL_KINDS
from sporeline.logbook.filing import Refold, refold, renumber
from sporeline.logbook.heads import Head, lock_head, raise_head
from sporeline.logbook.records import rebuild
from sporeline.logbook.tables import entry, head
from sporeline.logbook.verdicts import AT_RECEIPT

FOLD_RULES = 1
"""Raised whenever the fold itself gives other records for the same entries."""


def rules_known() -> str:
    """A fingerprint of the kinds and rules by which records are folded here."""
    rules = json.dumps([FOLD_RULES, KERNEL_KINDS], sort_keys=True)
    return hashlib.sha256(rules.encode()).hexdigest()


def catch_up(c: Connection) -> None:
    """After the rules have changed: held entries judged anew, all records folded anew."""
    for logbook in c.scalars(select(head.c.logbook).order_by(head.c.key)).all():
        rejudge(c, lock_head(c, logbook, ""))
        rebuild(c, logbook)


def rejudge(c: Connection, locked: Head) -> int:
    """Held entries that are fit by now count from now on, delivered again under new numbers.

    What was found by the day or the role at first receipt stays. Gives how many there were.
    """
    query = select(entry.c.seq, entry.c.text, entry.c.errors)
    held = query.where(entry.c.key == locked.key, entry.c.held).order_by(entry.c.seq)
    seq, touched = locked.seq, set()
    for row in c.execute(held).all():
        if _unfit(json.loads(row.text), json.loads(row.errors or "[]")):
            continue
        seq += 1
        touched.update(renumber(c, locked.key, row.seq, seq))
        here = (entry.c.key == locked.key) & (entry.c.seq == seq)
        c.execute(entry.update().where(here).values(held=False, errors=None))
    raise_head(c, locked, seq)
    refold(c, locked.key, Refold(touched, seq))
    return seq - locked.seq


def _unfit(content: dict[str, object], before: list[Fault]) -> bool:
    half = half_characters()["code"]
    lasting = any(each["code"] in AT_RECEIPT or each["code"] == half for each in before)
    return lasting or bool(faults_of(content))

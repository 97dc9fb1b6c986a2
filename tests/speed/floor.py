"""The floor: the least that a durable exchange over HTTP can do. No check, no session, no fold."""

from __future__ import annotations

import gzip
import json
import os
import sqlite3
import threading

from flask import Flask, Response, request

app = Flask("floor")
lock = threading.Lock()
store = sqlite3.connect(os.environ["FLOOR_DB"], check_same_thread=False, isolation_level=None)
for pragma in ("journal_mode=WAL", "synchronous=FULL"):
    store.execute(f"PRAGMA {pragma}")
store.execute(
    "CREATE TABLE IF NOT EXISTS entry(seq INTEGER PRIMARY KEY, id TEXT UNIQUE, body TEXT)"
)


@app.post("/exchange")
def exchange() -> Response:
    """Take all entries, commit, and give those after the cursor."""
    asked = json.loads(gzip.decompress(request.data))
    rows = [(entry["id"], json.dumps(entry, separators=(",", ":"))) for entry in asked["entries"]]
    with lock:
        store.execute("BEGIN IMMEDIATE")
        head = store.execute("SELECT coalesce(max(seq), 0) FROM entry").fetchone()[0]
        store.executemany("INSERT OR IGNORE INTO entry(id, body) VALUES (?, ?)", rows)
        store.execute("COMMIT")
        stored = [{"id": row[0], "seq": head + n} for n, row in enumerate(rows, 1)]
        after = (asked["cursor"] or {"seq": 0})["seq"] if not rows else head + len(rows)
        page = store.execute(
            "SELECT seq, body FROM entry WHERE seq > ? ORDER BY seq LIMIT ?",
            (after, asked["limit"]),
        ).fetchall()
        head = store.execute("SELECT coalesce(max(seq), 0) FROM entry").fetchone()[0]
    cursor = {"seq": page[-1][0] if page else after}
    answer = (
        f'{{"stored":{json.dumps(stored)},"entries":[{",".join(body for _, body in page)}],'
        f'"cursor":{json.dumps(cursor)},"more":{json.dumps(head > cursor["seq"])}}}'
    )
    packed = gzip.compress(answer.encode(), 6)
    return Response(packed, headers={"Content-Encoding": "gzip"}, content_type="application/json")

"""One phone's connection, kept alive as a browser keeps it, with every byte counted."""

from __future__ import annotations

import gzip
import http.client
import json
import time
import urllib.parse
from typing import Any, Self

Json = dict[str, Any]
BATCH = 500


class Wire:
    """Requests to one address; `sent` and `heard` count bytes, headers included."""

    def __init__(self, url: str, path: str, token: str = "") -> None:
        self._connection = http.client.HTTPConnection(urllib.parse.urlsplit(url).netloc, timeout=60)
        self._path, self._token = path, token
        self.sent = self.heard = 0
        self.cursor: Json | None = None

    def exchange(self, texts: list[str], limit: int = 2000) -> Json:
        """One exchange of entries given as JSON texts."""
        place = json.dumps(self.cursor)
        body = (
            f'{{"cursor":{place},"high":{place},"now":"2026-05-02T12:00:00Z",'
            f'"entries":[{",".join(texts)}],"limit":{limit}}}'
        )
        answer = self._post(gzip.compress(body.encode(), 6))
        self.cursor = answer["cursor"]
        return answer

    def push(self, texts: list[str]) -> list[Json]:
        """All texts in batches of 500; the verdicts."""
        verdicts: list[Json] = []
        for start in range(0, len(texts), BATCH):
            verdicts += self.exchange(texts[start : start + BATCH])["stored"]
        return verdicts

    def pull(self) -> int:
        """Everything after the cursor; the number of entries."""
        count, more = 0, True
        while more:
            answer = self.exchange([])
            count, more = count + len(answer["entries"]), answer["more"]
        return count

    def _post(self, packed: bytes) -> Json:
        headers = {"Content-Type": "application/json", "Content-Encoding": "gzip"}
        headers |= {"Accept-Encoding": "gzip"}
        if self._token:
            headers["Authorization"] = f"Bearer {self._token}"
        answer = self._answer(packed, headers)
        content = answer.read()
        self.sent += len(packed) + len(self._path) + 60 + _size(headers)
        self.heard += len(content) + 20 + _size(dict(answer.getheaders()))
        if answer.headers.get("Content-Encoding") == "gzip":
            content = gzip.decompress(content)
        assert answer.status == 200, content[:300]
        return json.loads(content)  # type: ignore[no-any-return]

    def _answer(self, packed: bytes, headers: dict[str, str]) -> http.client.HTTPResponse:
        """Once more where the server has closed an idle connection meanwhile."""
        for last in (False, True):
            try:
                self._connection.request("POST", self._path, packed, headers)
                return self._connection.getresponse()
            except (BrokenPipeError, ConnectionResetError, http.client.RemoteDisconnected):
                self._connection.close()
                if last:
                    raise
        raise AssertionError("unreachable")


def _size(headers: dict[str, str]) -> int:
    return sum(len(name) + len(value) + 4 for name, value in headers.items())


class Timed:
    """`with Timed() as t:` … `t.seconds`."""

    def __enter__(self) -> Self:
        self._began = time.perf_counter()
        return self

    def __exit__(self, *_: object) -> None:
        self.seconds = time.perf_counter() - self._began

"""The phone's types of the calls are as OpenAPI describes them."""

from __future__ import annotations

import json
from pathlib import Path

from phones import services_of

from sporeline.app import create_app
from sporeline.contract import generate
from sporeline.settings import Settings


def test_the_committed_types_are_up_to_date(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path}/sporeline.db"
    app = create_app(Settings(tmp_path, url, "https://ferns.example", demo=True))
    described = app.test_client().get("/api/v1/openapi.json").json
    services_of(app).database.close()
    openapi = tmp_path / "openapi.json"
    openapi.write_text(json.dumps(described), "utf-8")
    assert described["paths"]["/api/v1/logbooks/{logbook}/exchange"]["post"]["requestBody"]
    assert generate.main(["--check", "--openapi", str(openapi)]) == 0

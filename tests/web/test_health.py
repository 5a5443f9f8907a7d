"""What a proxy is told about this process."""

from dataclasses import replace

from flask import Flask

from monreq.services.ports import ShowEntry, StorageFailed
from monreq.services.shows import Shows
from monreq.web import health
from monreq.web.context import install, web
from tests.support.memory_log import InlineWriter, MemoryLog
from tests.support.web_app import Site


class LostDatabase(MemoryLog):
    def shows(self) -> list[ShowEntry]:
        raise StorageFailed("The connection to the database was lost.")


def with_health(app: Flask) -> Flask:
    app.register_blueprint(health.blueprint)
    return app


def test_health_of_a_working_process_is_ok(site: Site) -> None:
    app = with_health(site.app)

    answer = app.test_client().get("/healthz")

    assert (answer.status_code, answer.json) == (200, {"status": "ok"})


def test_health_without_a_database_is_503(site: Site) -> None:
    app = with_health(site.app)
    with app.app_context():
        parts = web()
    lost = Shows(LostDatabase(), InlineWriter(), lambda: 0, tell=lambda _: None)
    install(app, replace(parts, shows=lost))

    answer = app.test_client().get("/healthz")

    assert (answer.status_code, answer.json) == (503, {"status": "trouble", "troubles": ["storage"]})

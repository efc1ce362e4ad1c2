"""Who may ask, and what is said to those who may not."""

import asyncio
import json
from typing import Any

import pytest
from django.test import Client

from silverwright.web.asgi import application

pytestmark = pytest.mark.django_db

OWN = "http://testserver"
FOREIGN_ORIGINS = [
    "http://testserver:8017",  # another port of this machine is another program
    "https://testserver",
    "http://localhost",
    "http://evil.example",
    "http://testserver.evil.example",
    "null",
    "",
]
FOREIGN_HOSTS = [
    "evil.example",
    "127.0.0.1.evil.example",
    "localhost.evil.example",
    "169.254.1.1",
    "0.0.0.0",
    "[::2]",
    "2130706433",
    "127.1",
    "localhost@evil.example",
    "evil.example:8017",
    "",
    "local host",
]


def theme(**headers: str) -> Any:
    return Client().post("/theme", {"theme": "dark"}, headers=headers)


@pytest.mark.parametrize("origin", FOREIGN_ORIGINS)
def test_a_form_of_another_origin_is_refused(origin: str) -> None:
    told = theme(Origin=origin, **{"Sec-Fetch-Site": "same-origin"})
    assert told.status_code == 403
    assert "theme" not in told.cookies
    assert "sent by another site" in told.content.decode()


@pytest.mark.parametrize("site", ["same-site", "cross-site", "none", ""])
def test_without_an_origin_the_browser_must_say_same_origin(site: str) -> None:
    assert theme(**{"Sec-Fetch-Site": site}).status_code == 403


def test_who_says_neither_is_refused() -> None:
    assert theme().status_code == 403


def test_our_own_form_is_taken() -> None:
    assert theme(Origin=OWN).cookies["theme"].value == "dark"
    assert theme(**{"Sec-Fetch-Site": "same-origin"}).cookies["theme"].value == "dark"


def test_the_theme_leads_back_to_the_page_and_nowhere_else() -> None:
    assert theme(Origin=OWN, Referer=f"{OWN}/ask?x=1")["Location"] == "/ask?x=1"
    assert theme(Origin=OWN, Referer="http://evil.example/x")["Location"] == "/"
    assert theme(Origin=OWN, Referer=f"{OWN}//evil.example/x")["Location"] == "/evil.example/x"


@pytest.mark.parametrize("method", ["put", "patch", "delete", "trace"])
def test_other_methods_are_refused(method: str) -> None:
    assert getattr(Client(), method)("/ask", headers={"Origin": OWN}).status_code == 405


@pytest.mark.parametrize("host", FOREIGN_HOSTS)
@pytest.mark.parametrize("address", ["/ask", "/static/house.css", "/api/openapi.json"])
def test_other_names_are_refused(host: str, address: str) -> None:
    told = Client().get(address, headers={"Host": host}) if host else Client(SERVER_NAME="").get(address, headers={"Host": " "})
    assert told.status_code == 403


@pytest.mark.parametrize("host", ["localhost", "127.0.0.1:8017", "[::1]:8017", "LOCALHOST"])
def test_own_names_are_answered(host: str) -> None:
    assert Client().get("/ask", headers={"Host": host}).status_code == 200


def test_a_program_may_post_json_without_a_browser() -> None:
    told = Client().post("/api/ask/exposure.bellows", json.dumps({"focal_mm": 210, "extension_mm": 315}), content_type="application/json")
    assert told.status_code == 200


@pytest.mark.parametrize("sent", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x"])
def test_what_a_foreign_form_can_send_is_no_json(sent: str) -> None:
    told = Client().post("/api/ask/exposure.bellows", "{}", content_type=sent)
    assert (told.status_code, told.headers["Content-Type"]) == (415, "application/json")


def test_a_browser_of_another_origin_gets_nothing_from_the_json_address() -> None:
    told = Client().post("/api/ask/exposure.bellows", "{}", content_type="application/json", headers={"Origin": "http://evil.example"})
    assert told.status_code == 403
    assert "Access-Control-Allow-Origin" not in told.headers


def test_a_long_body_is_refused() -> None:
    told = Client().post("/api/ask/exposure.bellows", "x" * ((1 << 20) + 1), content_type="application/json")
    assert told.status_code == 413
    assert told.json()["problems"][0]["problem"].startswith("At most 1.0 MB")


def served(method: bytes, headers: list[tuple[bytes, bytes]]) -> tuple[int, int]:
    """What the server itself does with a request whose body never ends: the status, and how often the body was asked for."""
    asked, status = 0, 0

    async def receive() -> dict[str, Any]:
        nonlocal asked
        asked += 1
        if asked > 50:
            await asyncio.sleep(3600)
        return {"type": "http.request", "body": b"x" * 1024, "more_body": True}

    async def send(message: Any) -> None:
        nonlocal status
        status = message.get("status", status)

    scope = {
        "type": "http",
        "asgi": {"version": "3.0"},
        "http_version": "1.1",
        "method": method.decode(),
        "scheme": "http",
        "path": "/api/ask/exposure.bellows",
        "raw_path": b"/api/ask/exposure.bellows",
        "query_string": b"",
        "headers": [(b"host", b"localhost"), (b"content-type", b"application/json"), *headers],
        "client": ("127.0.0.1", 1),
        "server": ("127.0.0.1", 80),
    }
    asyncio.run(asyncio.wait_for(application(scope, receive, send), timeout=30))
    return status, asked


def test_a_body_without_an_end_is_not_even_read() -> None:
    assert served(b"POST", [(b"transfer-encoding", b"chunked")]) == (411, 0)
    assert served(b"POST", [(b"content-length", b"99999999")]) == (413, 0)
    assert served(b"POST", [(b"content-length", b"-1")])[0] == 411


@pytest.mark.parametrize("address", ["/", "/ask", "/ask/exposure.bellows?focal_mm=x", "/nothing", "/static/house.css"])
def test_every_answer_carries_the_policy(address: str) -> None:
    told = Client().get(address)
    policy = dict(part.strip().split(" ", 1) for part in told.headers["Content-Security-Policy"].split(";"))
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == policy["form-action"] == "'self'"
    assert policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    assert "unsafe" not in told.headers["Content-Security-Policy"]
    assert told.headers["X-Content-Type-Options"] == "nosniff"
    assert told.headers["Referrer-Policy"] == "same-origin"
    assert told.headers["Cross-Origin-Opener-Policy"] == told.headers["Cross-Origin-Resource-Policy"] == "same-origin"

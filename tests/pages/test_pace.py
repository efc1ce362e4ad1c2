"""How long the Camera's answer takes while one types, beside a page that asks nothing."""

import http.client
import sys
from collections.abc import Sequence
from urllib.parse import urlencode

import pytest
from tests.loop.still_life import LENS, PAPER
from tests.pages.served import Served

ROUNDS = 60
TARGET_MS = 30
BUSY_FACTOR = 1.5  # a machine that does much else beside spends more work on the same
SCENE = {"by": "ev", "paper": PAPER, "lens": LENS, "extension_mm": "315", "aperture_f": "f/22"}


def mean_work_ms(server: Served, paths: Sequence[str], headers: dict[str, str]) -> float:
    """The server's own work for each of these pages."""
    connection = http.client.HTTPConnection(server.address.removeprefix("http://"))
    before_ms = server.worked_ms()
    for path in paths:
        connection.request("GET", path, headers=headers)
        response = connection.getresponse()
        assert response.read()
        assert response.status in {200, 404}
    connection.close()
    return (server.worked_ms() - before_ms) / len(paths)


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="processor time is read from /proc")
def test_an_answer_while_typing_is_near_an_empty_page(boatyard: Served) -> None:
    answers = [f"/camera?{urlencode({**SCENE, 'reading_ev': 8 + place / 20})}" for place in range(ROUNDS)]  # each is a new one
    live, nothing = {"HX-Request": "true"}, ["/no-such-page"] * ROUNDS
    mean_work_ms(boatyard, answers[:2], live)  # the first ones import what the others have
    mean_work_ms(boatyard, nothing[:2], {})
    camera_ms, empty_ms = mean_work_ms(boatyard, answers, live), mean_work_ms(boatyard, nothing, {})
    assert camera_ms - empty_ms <= TARGET_MS * BUSY_FACTOR, (
        f"{camera_ms:.1f} ms of work for an answer, {empty_ms:.1f} ms for a page that asks nothing"
    )

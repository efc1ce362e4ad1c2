"""The loop in Python."""

import pytest
from tests.loop import still_life

from silverwright import api


@pytest.mark.django_db
def test_the_loop_in_python() -> None:
    for deed, given in still_life.BEFORE:
        api.do(deed, **given)
    planned = api.plan(**still_life.SCENE, **still_life.TYPED_EI)
    still_life.check_plan(still_life.document(planned.answer))
    done = api.do("expose", **still_life.EXPOSE)
    for deed, given in still_life.afterwards(done.name):
        learnt = api.do(deed, **given).values
    still_life.check_learnt(learnt)
    still_life.check_next(still_life.document(api.plan(**still_life.SCENE)), learnt)
    story = api.story(done.name)
    assert [one.density for one in story.readings] == list(still_life.DENSITIES)
    assert [line.sheet.number for line in api.sheets()] == [done.name]

"""Whatever is sent to an act or a plan is done, or refused in our words; the book is never half written and nothing else is ever raised."""

from datetime import timedelta
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.workshop.boatyard import LENS, PAPER, exposed, gear

from silverwright.asking.fields import fields_of
from silverwright.book.models import Act
from silverwright.errors import BadQuestion, SilverwrightError
from silverwright.workshop.act import AnyDeed
from silverwright.workshop.deeds import DEEDS, do
from silverwright.workshop.plan import plan
from silverwright.workshop.scene import PlanForm

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]
KNOWN = [PAPER, LENS, "box A", "holder 1", "hand meter", "north window", "box camera", "26-001", "26-001/1", "lens", "sheet", "1", "yes"]
SCALARS = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=30)
    | st.sampled_from(KNOWN)
    | st.sampled_from(["1/4", "2m30s", "f/22", "1:37", "12 in", "-0", "1e999", "NaN", "٣", "\ud800", "\x00", "x" * 5000, "9" * 400, "= 1 + 1"])
)
JUNK = st.recursive(SCALARS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3), max_leaves=6)
QUICKLY = settings(max_examples=40, deadline=timedelta(seconds=20), suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])


def junk_for(names: list[str], examples: list[dict[str, object]]) -> st.SearchStrategy[dict[str, Any]]:
    """An example with some of its fields, some others and some strangers changed to junk."""
    changed = st.dictionaries(st.sampled_from(names) | st.text(max_size=12), JUNK, max_size=5)
    return st.tuples(st.sampled_from([{}, *examples]), changed).map(lambda pair: {**pair[0], **pair[1]})


@pytest.mark.parametrize("deed", DEEDS, ids=lambda deed: deed.name)
@QUICKLY
@given(data=st.data())
def test_acts(deed: AnyDeed, data: st.DataObject) -> None:
    if not Act.objects.exists():
        gear()
        exposed()
    sent = data.draw(junk_for(list(fields_of(deed.form)), [dict(one) for one in deed.examples.values()]))
    before = Act.objects.count()
    try:
        done = do(deed.name, sent, key=data.draw(st.text(max_size=4)), who=data.draw(st.text(max_size=4)))
    except BadQuestion as bad:
        assert bad.faults
        assert all(fault.problem.strip() for fault in bad.faults)
        assert Act.objects.count() == before
    except SilverwrightError:
        assert Act.objects.count() == before
    else:
        assert done.says
        lines = len(done.values["recorded"]) if deed.name == "field-log" else 0  # each line of a log is an act of its own
        assert Act.objects.count() in {before, before + lines + 1}


@QUICKLY
@given(sent=junk_for(list(fields_of(PlanForm)), [{"lens": LENS, "paper": PAPER, "reading_ev": 10, "extension_mm": 315, "aperture_f": "f/22"}]))
def test_plans(sent: dict[str, Any]) -> None:
    if not Act.objects.exists():
        gear()
    try:
        assert plan(sent).answer.time_s.value
    except BadQuestion as bad:
        assert bad.faults

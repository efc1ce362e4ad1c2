"""Values as a page shows them, and a record's fields as a form shows them."""

import json
from typing import Annotated, Literal

import pytest

from silverwright.asking.fields import Choice, Flag, Thing, Words
from silverwright.asking.operation import Estimate, Line, Typed
from silverwright.errors import Fault
from silverwright.vocabulary import APERTURE_F, DENSITY, PAPER_EI, TIME_S
from silverwright.web.fields import fields, written
from silverwright.web.figures import big_time, figure, ledger, stops


def shown(estimate: Estimate, mark: object = PAPER_EI) -> tuple[str, str, str]:
    found = figure("x", mark, estimate)  # type: ignore[arg-type]
    assert Estimate.model_validate_json(found.exact) == estimate
    return found.value, found.low, found.high


def test_limits_stand_beside_the_value_without_its_unit() -> None:
    assert shown(Estimate(value=2.5, low=2.1, high=3, percent=80)) == ("2.5\N{NO-BREAK SPACE}EI", "2.1", "3")


def test_an_open_end_reads_at_least_or_at_most() -> None:
    assert shown(Estimate(value=2.5, low=2.1, percent=80))[1:] == ("at least 2.1", "")
    assert shown(Estimate(value=2.5, high=3, percent=80))[1:] == ("", "at most 3")
    assert shown(Estimate(low=2.1, percent=80)) == ("at least 2.1", "", "")
    assert shown(Estimate(high=3, percent=80)) == ("at most 3", "", "")
    assert shown(Estimate()) == ("unknown", "", "")
    assert shown(Estimate(value=2.5)) == ("2.5\N{NO-BREAK SPACE}EI", "", "")


def test_times_are_read_as_a_clock_from_a_minute_on() -> None:
    assert shown(Estimate(value=97.4, low=50, high=190, percent=80), TIME_S) == ("1:37", "50\N{NO-BREAK SPACE}s", "3:10")
    assert [big_time(one).replace("\N{NO-BREAK SPACE}", " ") for one in (0.125, 6.6, 59.6, 3725)] == ["1/8 s", "6.6 s", "1:00", "1:02:05"]


def test_stops_carry_their_sign() -> None:
    assert [stops(one) for one in (1.174, -0.25, 0.0, -0.001)] == ["+1.17", "\N{MINUS SIGN}0.25", "0.00", "0.00"]


def line(amount: float, doubt: float, what: str = "x") -> Line:
    return Line(what=what, amount=amount, doubt=doubt, unit="stops", source="s", rests="own")


def test_small_lines_are_folded_and_still_counted() -> None:
    found = ledger([line(1, 0.3, "a"), line(0.04, 0.04, "b"), line(0.04, 0.05, "c"), line(-0.05, 0, "d")], caption="", total="all")
    assert found
    assert [one.what for one in found.lines] == ["a", "c", "d"]
    assert [one.what for one in found.folded] == ["b"]
    assert (found.total.amount, found.total.doubt) == ("+1.03", "0.31")  # 1 + 0.04 + 0.04 - 0.05; root of 0.09 + 0.0016 + 0.0025


def test_no_lines_are_no_ledger() -> None:
    assert ledger([], caption="", total="") is None


class Form(Typed):
    """Some of everything."""

    aperture_f: Annotated[float, APERTURE_F]
    density: Annotated[tuple[float, ...], DENSITY] = ()
    turned: Annotated[Literal["no", "mirror"], Choice(help="Turned?", example="no")] = "no"
    how: Annotated[Literal["a", "b"] | None, Choice(help="How?", example="a")] = None
    sure: Annotated[bool, Flag(help="Sure?", example="yes")] = True
    lens: Annotated[str | None, Thing(kind="lens", help="Which?", example="210 mm")] = None
    remarks: Annotated[str, Words(help="Words.", example="x", lines=True)] = ""


def chosen(name: str, typed: dict[str, str] | None = None, **options: object) -> tuple[list[str], str]:
    found = fields(Form, typed or {}, {}, only=[name], **options)[0]  # type: ignore[arg-type]
    return [one.value for one in found.choices], next((one.value for one in found.choices if one.chosen), "?")


def test_each_kind_of_field() -> None:
    kinds = {one.name: one.kind for one in fields(Form, {}, {})}
    assert [name for name, kind in kinds.items() if kind == "choice"] == ["turned", "how", "sure"]
    assert [name for name, kind in kinds.items() if kind == "lines"] == ["density", "remarks"]


def test_choices_begin_where_the_record_begins() -> None:
    assert chosen("turned") == (["no", "mirror"], "no")
    assert chosen("how") == (["", "a", "b"], "")
    assert chosen("sure") == (["yes", "no"], "yes")
    assert chosen("how", {"how": "b"}) == (["", "a", "b"], "b")


def test_a_choice_that_something_else_fills_in_may_stay_unsaid() -> None:
    assert chosen("turned", unsaid={"turned": "as the camera has it"}) == (["", "no", "mirror"], "")
    assert chosen("turned", {"turned": "no"}, unsaid={"turned": "as the camera has it"}) == (["", "no", "mirror"], "no")


def test_things_are_chosen_from_the_book_and_what_was_typed_stays() -> None:
    assert chosen("lens", things=lambda kind: [f"{kind} 1"]) == (["", "lens 1"], "")
    assert chosen("lens", {"lens": "other"}, things=lambda kind: [f"{kind} 1"]) == (["", "other", "lens 1"], "other")
    assert chosen("lens", things=lambda _: []) == ([], "?")


def test_a_problem_stands_at_its_field() -> None:
    found = {one.name: one.problem for one in fields(Form, {}, {"how": Fault("how", "c", "Choose a or b.")})}
    assert found == {**dict.fromkeys(Form.model_fields, ""), "how": "Choose a or b."}


@pytest.mark.parametrize("value", [0.1, 1e-5, 123456789.25, 22, 1 / 3])
def test_what_was_recorded_can_be_typed_again_exactly(value: float) -> None:
    text = written(Form, {"aperture_f": value, "stranger": 1})
    assert list(text) == ["aperture_f"]
    assert json.loads(text["aperture_f"]) == value

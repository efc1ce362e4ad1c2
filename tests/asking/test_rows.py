"""Tables as people paste them."""

from typing import Annotated, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.asking.fields import Words
from silverwright.asking.operation import Question, Record
from silverwright.asking.rows import MOST_ROWS, Rows, as_lines, read_rows, write_rows
from silverwright.errors import BadQuestion
from silverwright.vocabulary import DENSITY, METERED_S, NEEDED_S


class Pair(Record):
    metered_s: Annotated[float, METERED_S]
    needed_s: Annotated[float, NEEDED_S]


class Patch(Record):
    density: Annotated[float, DENSITY]
    needed_s: Annotated[float | None, NEEDED_S] = None


class Pasted(Question):
    pairs: Annotated[tuple[Pair, ...], Rows(row=Pair, help="Pairs.", example="60 90")] = ()
    patches: Annotated[tuple[Patch, ...], Rows(row=Patch, help="Patches.", example="1.88 1.87")] = ()


def pairs(text: object) -> list[tuple[float, float]]:
    return [(row.metered_s, row.needed_s) for row in Pasted.model_validate({"pairs": text}).pairs]


def patches(text: object) -> list[tuple[float, float | None]]:
    return [(row.density, row.needed_s) for row in Pasted.model_validate({"patches": text}).patches]


def faults(**given: Any) -> list[tuple[str, str, str]]:
    with pytest.raises(BadQuestion) as caught:
        Pasted.model_validate(given)
    return [(fault.field, fault.given, fault.problem) for fault in caught.value.faults]


@pytest.mark.parametrize(
    "text",
    [
        "60 90\n120 200",
        "60,90\n120,200",
        "60, 90\r\n120, 200\r\n",
        "60;90\n120;200\n\n",
        "60\t90\n120\t200",
        "\ufeff60,90\n120,200",
        "1:00 1:30\n2m 3m20s",
        "metered_s,needed_s\n60,90\n120,200",
        "needed time;metered time\n90;60\n200;120",
        "Metered time,Needed time\n60 s,90 s\n2 min,3 min 20 s",
        '"60","90"\n"120","200"',
        [{"metered_s": 60, "needed_s": 90}, {"metered_s": "2m", "needed_s": 200}],
    ],
)
def test_two_needed_columns(text: object) -> None:
    assert pairs(text) == [(60, 90), (120, 200)]


@pytest.mark.parametrize("text", ["1,5 2,5", "1,5;2,5", "1.5,2.5", "1.5 2.5", "1,5\t2,5"])
def test_commas_between_or_within(text: str) -> None:
    assert pairs(text) == [(1.5, 2.5)]


@pytest.mark.parametrize(
    "text", ["1.88 1.87 1.85", "1,88 1,87 1,85", "1.88, 1.87, 1.85", "1.88\n1.87\n1.85", "1,88\n1,87\n1,85", "density\n1.88\n1.87\n1.85"]
)
def test_one_needed_number_makes_a_column(text: str) -> None:
    assert [density for density, _ in patches(text)] == [1.88, 1.87, 1.85]


def test_a_cell_that_may_stay_empty() -> None:
    assert patches("1.88;\n1.87;3") == [(1.88, None), (1.87, 3)]
    assert patches("needed time,density\n,1.88\n3,1.87") == [(1.88, None), (1.87, 3)]


def test_nothing_pasted_is_no_row() -> None:
    assert pairs("") == pairs(" \n ") == pairs(()) == []


def test_what_is_wrong_names_its_row_and_column() -> None:
    assert faults(pairs="60 90\n120 long") == [
        ("pairs", "long", "Row 2, needed time: This is not a number that can be read here. Write it like 76."),
    ]
    assert faults(pairs="60 90\n120") == [("pairs", "120", "Row 2, needed time: Needed. Time that gave the same density.")]
    field, given, problem = faults(pairs="60 0\n120 -1")[0]
    assert (field, given) == ("pairs", "0.0")
    assert problem.startswith("Row 1, needed time: Too small: allowed is")


def test_too_many_columns_or_rows() -> None:
    assert "has 3 columns; these are asked: metered_s, needed_s" in faults(pairs="60 90 3")[0][2]
    assert f"at most {MOST_ROWS} are read" in faults(pairs="1 2\n" * (MOST_ROWS + 1))[0][2]


def test_an_unknown_column() -> None:
    assert "No column is called “colour”" in faults(pairs="metered time,colour\n60,red")[0][2]


def test_something_else_entirely() -> None:
    assert faults(pairs=3) == [("pairs", "3", "A row of values is needed here, such as 60 90.")]
    assert faults(pairs=[3])[0][0] == "pairs"


@given(st.lists(st.tuples(st.floats(0.01, 1e5), st.floats(0.01, 1e5)), min_size=1, max_size=20))
def test_written_and_read_again(table: list[tuple[float, float]]) -> None:
    rows = tuple(Pair(metered_s=metered, needed_s=needed) for metered, needed in table)
    assert pairs(write_rows(Pair, rows)) == table


class Bottle(Record):
    name: Annotated[str, Words(help="Its name.", example="blue can")]
    density: Annotated[float, DENSITY]


def test_a_name_with_a_comma_comes_back_whole() -> None:
    row = Bottle(name='peroxide, the "blue" can', density=1.1)
    for text in (write_rows(Bottle, (row,)), as_lines(Bottle, [row.model_dump()])):
        assert read_rows(Bottle, text) == [{"name": row.name, "density": "1.1"}]


@given(st.text(max_size=40))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    try:
        pairs(text)
    except BadQuestion as bad:
        assert all(fault.problem and fault.field == "pairs" for fault in bad.faults)

"""A paper's own reciprocity tests: they replace our first guess."""

from datetime import datetime
from typing import Annotated, Any, Final

from silverwright.asking.fields import Thing
from silverwright.asking.operation import Typed
from silverwright.book.models import Paper, ReciprocityTest
from silverwright.units import SECOND
from silverwright.vocabulary import METERED_S, NEEDED_S
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import DATED, REMARKS, WHEN


class ReciprocityForm(Typed):
    """One test."""

    paper: Annotated[str, Thing(kind="paper", help="Which paper was tested.", example="RC paper, grade 2")]
    metered_s: Annotated[float, METERED_S]
    needed_s: Annotated[float, NEEDED_S]
    when: Annotated[datetime | None, WHEN, DATED] = None
    remarks: Annotated[str, REMARKS] = ""


def _test(doing: Doing[ReciprocityForm]) -> Done:
    paper: Paper = doing.things["paper"]
    form = doing.form
    ReciprocityTest.objects.create(
        paper=paper, metered_s=form.metered_s, needed_s=form.needed_s, tested_at=form.when or doing.at, remarks=form.remarks
    )
    times = f"{SECOND.show(form.metered_s)} by the meter needed {SECOND.show(form.needed_s)}"
    return doing.done(("paper", paper.name), f"“{paper}”: {times}. The Camera uses it from now on.")


RECIPROCITY_TEST: Final[Deed[Any]] = Deed(
    name="reciprocity-test",
    says="Enter a test of a paper in long exposures.",
    form=ReciprocityForm,
    perform=_test,
    examples={"boatyard": {"paper": "RC paper, grade 2", "metered_s": 60, "needed_s": 90}},
)

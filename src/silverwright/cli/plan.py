"""The next exposure on the command line, with what the book knows."""

from typing import Final

import click

from silverwright.cli.do import set_up
from silverwright.cli.fields import options_of, read_typed
from silverwright.cli.told import pairs, tell, telling

EXAMPLES: Final = """\b
Examples:
  silverwright plan --reading-ev 10 --aperture-f f/22 --paper-ei 1.5 --focal-mm 210 --extension-mm 315
  silverwright plan --paper 'RC paper, grade 2' --lens '210 mm lens in a leaf shutter' --extension-mm 315 --reading-ev 10 --aperture-f f/22"""


def command(name: str) -> click.Command:
    """`silverwright plan`."""
    set_up()
    from silverwright.workshop.scene import PlanForm

    def plan_it(*, json: bool, **typed: str | None) -> None:
        from silverwright.book.opening import bring_up_to_date
        from silverwright.workshop.plan import plan

        with telling():
            bring_up_to_date()
            planned = plan(read_typed(PlanForm, typed))
        if json:
            click.echo(planned.model_dump_json(indent=2))
            return
        known = [(one.field, f"{one.value}, from {one.says}") for one in planned.from_book]
        if known:
            click.echo("From the book\n" + pairs([(f"  {field}", says) for field, says in known]) + "\n")
        click.echo(tell(planned.answer, planned.notes))

    return click.Command(
        name,
        params=[*options_of(PlanForm), click.Option(["--json"], is_flag=True, help="The plan as JSON, with every figure.")],
        callback=plan_it,
        help="How long to expose. Things of the book fill in what they know: a lens its focal length, a paper its EI; what is typed wins.",
        epilog=EXAMPLES,
    )

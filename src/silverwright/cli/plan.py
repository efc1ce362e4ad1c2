"""The next exposure on the command line, with what the book knows."""

from typing import TYPE_CHECKING, Final

import click

from silverwright.cli.do import set_up
from silverwright.cli.fields import options_of, read_typed
from silverwright.cli.told import pairs, tell, telling

if TYPE_CHECKING:
    from silverwright.workshop.plan import FromBook

EXAMPLES: Final = """\b
Examples:
  silverwright plan --reading-ev 10 --aperture-f f/22 --paper-ei 1.5 --focal-mm 210 --extension-mm 315
  silverwright plan --paper 'RC paper, grade 2' --lens '210 mm lens in a leaf shutter' --extension-mm 315 --reading-ev 10 --aperture-f f/22
  silverwright plan --paper 'RC paper, grade 2' --flash-meter-f f/16 --flash-meter-ei 100 --aperture-f f/8"""


def _known(one: "FromBook") -> tuple[str, str]:
    """`Focal length  210 mm, lens “210 mm lens”`; of a table only what says so."""
    from silverwright.asking.fields import Choice, Quantity, fields_of, label_of
    from silverwright.asking.show import show
    from silverwright.workshop.scene import EitherForm

    mark = fields_of(EitherForm)[one.field]
    value = f"{show(mark, one.value)}, " if isinstance(mark, Quantity | Choice) else ""
    return f"  {label_of(one.field, mark)}", f"{value}{one.says}"


def command(name: str) -> click.Command:
    """`silverwright plan`."""
    set_up()
    from silverwright.workshop.scene import EitherForm

    def plan_it(*, json: bool, **typed: str | None) -> None:
        from silverwright.book.opening import bring_up_to_date
        from silverwright.workshop.flashes import plan_either

        with telling():
            bring_up_to_date()
            planned = plan_either(read_typed(EitherForm, typed))
        if json:
            click.echo(planned.model_dump_json(indent=2))
            return
        if planned.from_book:
            click.echo("From the book\n" + pairs([_known(one) for one in planned.from_book if one.value != one.says]) + "\n")
        click.echo(tell(planned.answer, planned.notes))

    return click.Command(
        name,
        params=[*options_of(EitherForm), click.Option(["--json"], is_flag=True, help="The plan as JSON, with every figure.")],
        callback=plan_it,
        help="How long to expose, or how many flashes. The book fills in what it knows: a lens its focal length, a paper its EI; what is typed wins.",
        epilog=EXAMPLES,
    )

"""A bare command to measure against: the same command-line framework and the same kind of record, one model and nothing else."""

from typing import Annotated

import click
from pydantic import BaseModel, ConfigDict, Field


class Asked(BaseModel):
    """A reading, an aperture and an index."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    reading_ev: Annotated[float, Field(ge=-8, le=24)]
    aperture_f: Annotated[float, Field(ge=0.7, le=512)]
    paper_ei: Annotated[float, Field(ge=0.01, le=1000)]


@click.command()
@click.option("--reading-ev")
@click.option("--aperture-f")
@click.option("--paper-ei")
def ask(**given: str | None) -> None:
    """Build the model and say it."""
    click.echo(Asked.model_validate(given).model_dump_json())


if __name__ == "__main__":
    ask()

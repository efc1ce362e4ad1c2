"""A bath whose acid is reckoned: every ingredient must be one whose acid or alkali is known here."""

from pydantic import field_validator

from silverwright.asking.operation import refuse
from silverwright.questions.acidity import unknown_in
from silverwright.questions.ingredients import BathFields, Ingredients, key_of
from silverwright.questions.substances import named
from silverwright.records_chemistry import Contents


class AcidBathFields(BathFields):
    """A vessel's volume, its temperature, and what is dissolved in it; what nobody knows here is refused by name."""

    @field_validator("ingredients")
    @classmethod
    def _each_one_known(cls, rows: Ingredients) -> Ingredients:
        if strange := unknown_in(Contents(1.0, {key_of(row.substance): 0.0 for row in rows})):
            names = " and ".join(f"“{named(one)}”" for one in strange)
            raise refuse(f"Of {names} it is not known here how acid or alkaline it is. Leave its line out, and read the finished bath with a meter.")
        return rows

"""One word for one thing, known to all doors."""

import re

from pydantic import BaseModel
from tests.house.code import SRC, none_of, text_of
from tests.house.test_names import has_unit

from silverwright import vocabulary, vocabulary_camera, vocabulary_chemistry, vocabulary_lens, vocabulary_shelf
from silverwright.asking.fields import Quantity, fields_of, label_of
from silverwright.asking.operation import Answer
from silverwright.asking.rows import Rows
from silverwright.catalogue import catalogue
from silverwright.notes import Note
from silverwright.sentences import SENTENCES
from silverwright.workshop.deeds import DEEDS

VOCABULARY = (vocabulary, vocabulary_camera, vocabulary_chemistry, vocabulary_lens, vocabulary_shelf)
WORDS = {name: word for room in VOCABULARY for name, word in vars(room).items() if isinstance(word, Quantity)}
PLAIN_ANSWERS = frozenset(Answer.model_fields)


def records() -> dict[str, type[BaseModel]]:
    """Every record that people fill in or read, tables' rows too."""
    found: dict[str, type[BaseModel]] = {}
    for one in catalogue():
        found |= {f"{one.name} question": one.question, f"{one.name} answer": one.answer}
    found |= {f"deed {deed.name}": deed.form for deed in DEEDS}
    for name, record in list(found.items()):
        found |= {f"{name}, row of {field}": mark.row for field, mark in fields_of(record).items() if isinstance(mark, Rows)}
    return found


def test_every_field_is_known_or_explained() -> None:
    bare = [
        f"{place}: {name}"
        for place, record in records().items()
        for name in record.model_fields
        if name not in PLAIN_ANSWERS and (name not in fields_of(record) or not fields_of(record)[name].help)
    ]
    none_of(bare, "A field is a word of the vocabulary, or has its own help")


def test_quantities_come_from_the_vocabulary() -> None:
    own = [
        f"{place}: {name}"
        for place, record in records().items()
        for name, mark in fields_of(record).items()
        if isinstance(mark, Quantity) and mark not in WORDS.values()
    ]
    none_of(own, "A number's word stands in one of the vocabulary's files")


def test_a_field_ends_with_the_unit_of_its_word() -> None:
    wrong = [
        f"{place}: {name} is in {mark.unit.sign}"
        for place, record in records().items()
        for name, mark in fields_of(record).items()
        if isinstance(mark, Quantity) and not (mark.unit.suffix and name.endswith(mark.unit.suffix)) and not has_unit(name)
    ]
    none_of(wrong, "The unit stands at the end of the name")


def test_one_help_for_one_word() -> None:
    helps = [word.help for word in WORDS.values()]
    none_of({one for one in helps if helps.count(one) > 1}, "Two words with one meaning")
    none_of((name for name, word in WORDS.items() if not word.help.endswith(".")), "A help is a sentence")


def test_labels_are_told_apart() -> None:
    same = []
    for place, record in records().items():
        labels = [label_of(name, mark) for name, mark in fields_of(record).items()]
        same += [f"{place}: {label}" for label in set(labels) if labels.count(label) > 1]
    none_of(same, "Two fields of one form with one label")


def test_every_note_has_a_sentence_and_is_used() -> None:
    assert set(SENTENCES) == set(Note)
    none_of((note for note, (_, sentence) in SENTENCES.items() if not re.fullmatch(r"[A-Z{“].*[.!?]", sentence)), "A note is a sentence")
    code = "\n".join(text_of(path) for path in SRC.rglob("*.py") if path.name != "notes.py")
    none_of((note for note in Note if f"Note.{note.name}" not in code), "A note that nobody says")


def test_examples_are_read_as_they_are_written() -> None:
    unread = []
    for name, word in WORDS.items():
        number = word.unit.read(word.example) if isinstance(word.example, str) and " " not in word.example.strip() else word.example
        unread += [f"{name}: {word.example}"] * (isinstance(number, int | float) and not word.low <= number <= word.high)
    none_of(unread, "An example lies within its own bounds")

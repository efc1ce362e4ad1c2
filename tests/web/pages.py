"""A page as its reader has it: exact values, what stands in the inputs, problems by field, links, words."""

from html.parser import HTMLParser

from django.test import Client

LIVE = {"HX-Request": "true"}
LEFT = {"HX-Request": "true", "Left-Field": "yes"}
OWN = {"Origin": "http://testserver"}


class Page(HTMLParser):
    """Parsed as it is built."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.html = html
        self.values: dict[str, str] = {}
        self.typed: dict[str, str] = {}
        self.problems: dict[str, str] = {}
        self.links: list[str] = []
        self._words: list[str] = []
        self._place, self._in_problem, self._area, self._select = "", False, "", ""
        self.feed(html)

    @property
    def text(self) -> str:
        """What people read, in one line."""
        return " ".join(" ".join(self._words).split())

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Gather what the tag holds."""
        found = {name: value or "" for name, value in attrs}
        if tag == "data":
            assert found["id"] not in self.values, "an id stands once on a page"
            self.values[found["id"]] = found["value"]
        if tag == "input" and (found.get("type") != "radio" or "checked" in found):
            self.typed[found["name"]] = found.get("value", "")
        if tag == "select":
            self._select = found["name"]
        if tag == "option" and self._select and ("selected" in found or self._select not in self.typed):
            self.typed[self._select] = found.get("value", "")
        if tag == "textarea":
            self._area = found["name"]
            self.typed[self._area] = ""
        if tag == "a":
            self.links.append(found["href"])
        if found.get("id", "").startswith("p-"):
            self._place = found["id"].removeprefix("p-")
        self._in_problem = found.get("class") == "problem"

    def handle_endtag(self, tag: str) -> None:
        """Nothing goes on beyond its end."""
        self._in_problem, self._area = False, ""
        if tag == "select":
            self._select = ""

    def handle_data(self, data: str) -> None:
        """Gather words."""
        self._words.append(data)
        if self._in_problem and self._place:
            self.problems[self._place] = data
        if self._area:
            self.typed[self._area] = data.removeprefix("\n")


def page(address: str, typed: dict[str, str] | None = None, **headers: str) -> Page:
    """The page at an address."""
    told = Client().get(address, typed, headers=headers)
    assert told.status_code == 200, told.content
    return Page(told.content.decode())

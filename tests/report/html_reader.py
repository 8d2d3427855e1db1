"""A strict reader of the HTML report: tags must close in order, and ids, links and words are kept."""

from __future__ import annotations

from html.parser import HTMLParser

_VOID = {"meta", "br"}


class Page(HTMLParser):
    """What a page holds. Raises ValueError where a tag is not closed in its turn."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str, str]] = []
        self.words: list[str] = []
        self._open: list[str] = []
        self.feed(text)
        self.close()
        if self._open:
            raise ValueError(f"never closed: {self._open}")

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += [(tag, name, value or "") for name, value in attrs]
        if tag not in _VOID:
            self._open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in _VOID:
            self._open.pop()

    def handle_endtag(self, tag: str) -> None:
        if self._open.pop() != tag:
            raise ValueError(f"{tag} closed out of turn")

    def handle_data(self, data: str) -> None:
        if self._open and self._open[-1] != "style":
            self.words.append(data)

    @property
    def text(self) -> str:
        """All words, with single spaces."""
        return " ".join(" ".join(self.words).split())

    def values(self, name: str) -> list[str]:
        """The values of an attribute, in order."""
        return [value for _, attribute, value in self.attributes if attribute == name]

    def outside(self) -> list[str]:
        """Everything that the page would fetch or lead to outside itself."""
        fetching = {"src", "srcset", "href", "xlink:href", "action", "poster", "data", "background", "ping"}
        return [value for _, name, value in self.attributes if name in fetching and not value.startswith("#")]

"""What the YAML parser cannot read, in a detailer's words."""

from __future__ import annotations

from yaml import Mark, MarkedYAMLError

from panelgen.errors import Problem

__all__ = ["syntax_problem"]


_CLOSE = "close the quote; feet and inches such as 7'-6 1/2\" need no quotes around them"
_KNOWN = (
    ("unexpected end of stream", "a quote is opened here and never closed", _CLOSE),
    ("unexpected document indicator", "a quote is opened here and never closed", _CLOSE),
    (
        "mapping values are not allowed",
        "a colon stands where none can",
        "line this key up with its neighbours, or put text that holds a colon in quotes",
    ),
    (
        "could not find expected ':'",
        "this line is no key with a colon, and no list item",
        "write 'key: value', or '- value' for a list item",
    ),
    (
        "nesting depth",
        "mappings and lists are nested too deep",
        "check the brackets and the indentation",
    ),
    ("escape", "a backslash in quotes starts a code that YAML does not know", "use single quotes, or leave it out"),
)
"""Part of the parser's message, what it means, what to do."""


def syntax_problem(error: MarkedYAMLError, text: str) -> Problem:
    """The parser's `error` about `text` as a Problem with its line."""
    mark = error.problem_mark or error.context_mark
    line = mark.line + 1 if mark else 0
    started = error.context_mark.line + 1 if error.context_mark else line
    what = error.problem or "it cannot be read"
    if "tab character" in what or _is_tab(error.problem_mark, text):
        return Problem("a tab is used to indent", line=line, remedy="indent with spaces")
    for sign, words, remedy in _KNOWN:
        if sign in what:
            return Problem(words, line=started, remedy=remedy)
    return Problem(
        f"this is not valid YAML: {what}",
        line=line,
        remedy="check the indentation, brackets, quotes and colons on this line and the one above",
    )


def _is_tab(mark: Mark | None, text: str) -> bool:
    """True where the parser stopped at a tab, or at text that tabs indent."""
    lines = text.split("\n")
    written = lines[mark.line] if mark and mark.line < len(lines) else ""
    return "\t" in written[: len(written) - len(written.lstrip())]

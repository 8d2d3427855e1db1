"""Pieces of HTML. Whatever a user wrote passes through `text`; nothing else may come from a user."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

__all__ = ["definitions", "section", "stacked", "table", "text"]


def text(words: str) -> str:
    """Words as they can stand between tags and inside quotes."""
    return escape(words, quote=True)


def section(id: str, heading: str, body: Iterable[str]) -> str:
    """A section with its heading, which a reader's outline shows; empty where there is no body."""
    inside = "".join(body)
    return f'<section aria-labelledby="{id}"><h2 id="{id}">{text(heading)}</h2>{inside}</section>' if inside else ""


def table(caption: str, heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table of cells that are HTML already; the first cell of a row is its head. Empty without rows.

    The class of a row's other cells is the head of their column, so that a narrow screen can show it.
    """
    body = "".join(
        f'<tr><th scope="row">{first}</th>'
        + "".join(f'<td data-head="{text(head)}">{cell}</td>' for head, cell in zip(heads[1:], rest, strict=True))
        + "</tr>"
        for first, *rest in rows
    )
    if not body:
        return ""
    top = "".join(f'<th scope="col">{text(head)}</th>' for head in heads)
    return f"<table><caption>{text(caption)}</caption><thead><tr>{top}</tr></thead><tbody>{body}</tbody></table>"


def definitions(rows: Iterable[tuple[str, str]]) -> str:
    """Names and values, the values as HTML."""
    inside = "".join(f"<div><dt>{text(name)}</dt><dd>{value}</dd></div>" for name, value in rows)
    return f"<dl>{inside}</dl>"


def stacked(pair: tuple[str, str]) -> str:
    """Two ways to say one thing, the second in small under the first; neither is broken over lines."""
    first, second = map(text, pair)
    small = f"<br><small>{second}</small>" if second else ""
    return f'<span class="whole">{first}{small}</span>' if first else ""

"""lxml elements with plain types: text, attributes and lines as they are used here."""

from collections.abc import Iterator

from lxml import etree

Element = etree._Element


def elements(root: Element) -> Iterator[Element]:
    """The element and all below it, without comments and processing instructions."""
    for each in root.iter():
        if isinstance(each.tag, str):
            yield each


def text_of(element: Element) -> str:
    """All text inside."""
    return "".join(str(part) for part in element.itertext())


def take(element: Element, name: str) -> str | None:
    """An attribute's value, removed from the element; None when it has none."""
    value = element.get(name)
    if value is not None:
        del element.attrib[name]
    return value


def attributes(element: Element) -> dict[str, str]:
    """Its attributes as plain texts."""
    return {str(key): str(value) for key, value in element.attrib.items()}


def line_of(element: Element) -> int | None:
    """The line of the file where it starts."""
    # The stubs call the line an ellipsis.
    line: object = element.sourceline
    return line if isinstance(line, int) else None


def set_line_of(element: Element, line: int | None) -> None:
    """Say where a made element came from."""
    if line is not None:
        element.sourceline = line  # type: ignore[assignment]


def replace(element: Element, by: Element) -> None:
    """Put another in its place; the text after it stays."""
    parent = element.getparent()
    if parent is not None:
        by.tail = element.tail
        parent.replace(element, by)


def drop(element: Element) -> None:
    """Take an element out; the text after it stays."""
    parent = element.getparent()
    if parent is None:
        return
    if element.tail:
        before = element.getprevious()
        if before is not None:
            before.tail = (before.tail or "") + element.tail
        else:
            parent.text = (parent.text or "") + element.tail
    parent.remove(element)

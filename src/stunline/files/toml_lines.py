"""TOML as plain data, and the line on which each key and each element stands.

The standard library's parser gives values without lines; the syntax tree gives lines
without values. The tree is only made when there is a fault to place, so a good file
never pays for it.
"""

from __future__ import annotations

import re
import tomllib
from typing import TYPE_CHECKING

from stunline.errors import Fault, InputError
from stunline.files.mended_line import mend

if TYPE_CHECKING:
    from tree_sitter import Node

# The way to a value: keys, and indices of array elements.
KeyPath = tuple[str | int, ...]

_PLACE_IN_MESSAGE = re.compile(r"\s*\(at (?:line (?P<line>\d+), column (?P<column>\d+)|.*)\)$")
_KEY_KINDS = ("bare_key", "quoted_key", "dotted_key")


def parse_toml(text: str, source: str = "") -> dict[str, object]:
    """The file's values.

    Raises:
        InputError: not TOML; the fault carries the line.
    """
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputError([_syntax_fault(str(error), text)], source) from None
    except RecursionError:
        raise InputError([_nesting_fault()], source) from None
    except (ValueError, OverflowError) as error:  # a number of thousands of digits, say
        raise InputError([_value_fault(str(error))], source) from None


def lines_of(text: str) -> dict[KeyPath, int]:
    """Line of each key and of each array element, 1-based, by its path."""
    import tree_sitter_toml
    from tree_sitter import Language, Parser

    tree = Parser(Language(tree_sitter_toml.language())).parse(text.encode("utf-8", "replace"))
    lines: dict[KeyPath, int] = {}
    elements: dict[KeyPath, int] = {}  # how many [[…]] of that name have been seen
    waiting: list[tuple[Node, KeyPath]] = []
    for child in tree.root_node.named_children:
        if child.type == "pair":
            waiting.append((child, ()))
        elif child.type in ("table", "table_array_element"):
            path = _header_path(child, lines, elements)
            waiting.extend((pair, path) for pair in child.named_children if pair.type == "pair")
    while waiting:
        node, path = waiting.pop()
        waiting.extend(_inside(node, path, lines))
    return lines


def line_at(lines: dict[KeyPath, int], path: KeyPath, otherwise: KeyPath = ()) -> int:
    """Line of that path, or of the nearest table around it; failing that of ``otherwise``, or 1."""
    while path:
        if path in lines:
            return lines[path]
        path = path[:-1]
    return lines.get(otherwise, 1)


def _header_path(node: Node, lines: dict[KeyPath, int], elements: dict[KeyPath, int]) -> KeyPath:
    """Path of a [table] or of the next element of a [[table array]], its line noted."""
    line = node.start_point[0] + 1
    keys = _keys(_key_node(node))
    path: KeyPath = ()
    for index, key in enumerate(keys):
        path = (*path, key)
        lines.setdefault(path, line)
        if node.type == "table_array_element" and index == len(keys) - 1:
            elements[path] = elements.get(path, 0) + 1
        if path in elements:
            path = (*path, elements[path] - 1)
    lines[path] = line
    return path


def _inside(node: Node, path: KeyPath, lines: dict[KeyPath, int]) -> list[tuple[Node, KeyPath]]:
    """Notes the node's line and gives what is inside it, with its path."""
    line = node.start_point[0] + 1
    if node.type == "pair":
        for key in _keys(_key_node(node)):
            path = (*path, key)
            lines.setdefault(path, line)
        return [(child, path) for child in node.named_children if child.type not in _KEY_KINDS]
    if node.type == "inline_table":
        return [(child, path) for child in node.named_children if child.type == "pair"]
    if node.type == "array":
        values = [child for child in node.named_children if child.type != "comment"]
        for index, child in enumerate(values):
            lines[(*path, index)] = child.start_point[0] + 1
        return [(child, (*path, index)) for index, child in enumerate(values)]
    return []


def _key_node(node: Node) -> Node | None:
    return next((child for child in node.named_children if child.type in _KEY_KINDS), None)


def _keys(node: Node | None) -> list[str]:
    """The parts of a key; the library's own parser undoes quotes and escapes."""
    if node is None or node.text is None:
        return []
    try:
        values: object = tomllib.loads(node.text.decode("utf-8", "replace") + " = 0")
    except (ValueError, RecursionError):
        return []
    keys: list[str] = []
    while isinstance(values, dict) and values:
        key, values = next(iter(values.items()))
        keys.append(key)
    return keys


def _syntax_fault(message: str, text: str) -> Fault:
    match = _PLACE_IN_MESSAGE.search(message)
    line = int(match["line"]) if match and match["line"] else text.count("\n") + 1
    reason = _PLACE_IN_MESSAGE.sub("", message)
    rows = text.split("\n")
    row = rows[min(line, len(rows)) - 1].strip(" \t\r")
    mended = mend(row)
    row = "".join(one if one.isprintable() else f"\\u{ord(one):04x}" for one in row)
    return Fault(
        what=mended.what
        if mended
        else f"this line can't be read ({reason[:1].lower()}{reason[1:]})",
        given=(row if len(row) <= 60 else row[:57] + "…") or "an empty line",
        allowed='lines like  key = 1.5,  key = "text",  key = [1, 2],  or a header like [balls]',
        remedy=mended.row
        if mended
        else "look for a missing quote, bracket, comma or equals sign here or just above",
        line=line,
    )


def _nesting_fault() -> Fault:
    return Fault(
        what="the values are nested too deeply to be read",
        given="hundreds of brackets inside one another",
        allowed="a list of lists at most",
        remedy="check that this is the file you meant",
        line=1,
    )


def _value_fault(reason: str) -> Fault:
    return Fault(
        what="a value cannot be read",
        given=reason[:80],
        allowed="numbers of ordinary size, text, and lists of them",
        remedy="look for a number with very many digits, or a date that does not exist",
        line=1,
    )

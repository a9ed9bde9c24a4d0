"""Halos of words below all of the words, for a renderer that paints letter by letter.

SVG's ``paint-order`` paints the ground round a whole text before its letters. typst does it for
each letter in turn, and every halo eats into the letter before. So the halos of a layer become
one pattern, which is painted below the layer's words: what is seen is what SVG asks for. In a
pattern, because words that are only there to be painted over must not be found or copied twice.
"""

from __future__ import annotations

from copy import deepcopy
from xml.etree import ElementTree
from xml.etree.ElementTree import Element, SubElement

_SVG = "http://www.w3.org/2000/svg"
_ORDER = "paint-order"
_HALO = ("stroke", "stroke-width", "stroke-linejoin", _ORDER)
_PLACE = ("x", "y", "width", "height")


def halos_below(picture: str) -> str:
    """The SVG text with the halos of each group painted before its first word."""
    if _ORDER not in picture:
        return picture
    ElementTree.register_namespace("", _SVG)
    root = ElementTree.fromstring(picture)
    place = dict(zip(_PLACE, root.get("viewBox", "0 0 1 1").split(), strict=True))
    for number, group in enumerate(list(root.iter())):
        words = [child for child in group if child.get(_ORDER) == "stroke"]
        if words:
            first = list(group).index(words[0])
            for offset, element in enumerate(_ground(words, f"halo-{number}", place)):
                group.insert(first + offset, element)
    return ElementTree.tostring(root, encoding="unicode")


def _ground(words: list[Element], name: str, place: dict[str, str]) -> tuple[Element, Element]:
    """A pattern as large as the picture that holds the words' halos, and what it fills.

    The words themselves lose their halos.
    """
    x, y, width, height = place.values()
    definitions = Element(f"{{{_SVG}}}defs")
    how = {
        "id": name,
        "patternUnits": "userSpaceOnUse",
        "width": width,
        "height": height,
        "patternTransform": f"translate({x} {y})",  # typst does not shift what a pattern holds
    }
    pattern = SubElement(definitions, f"{{{_SVG}}}pattern", how)
    shifted = SubElement(
        pattern, f"{{{_SVG}}}g", {"transform": f"translate({_less(x)} {_less(y)})"}
    )
    for text in words:
        halo = deepcopy(text)
        halo.set("fill", "none")
        for element in halo.iter():
            element.attrib.pop("id", None)
            element.attrib.pop(_ORDER, None)
        shifted.append(halo)
        for attribute in _HALO:
            text.attrib.pop(attribute, None)
    return definitions, Element(f"{{{_SVG}}}rect", {"fill": f"url(#{name})", **place})


def _less(number: str) -> str:
    """The number with the other sign."""
    return number[1:] if number.startswith("-") else f"-{number}"

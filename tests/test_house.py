"""The house rules that no other tool checks: imports, words, docstrings, pins, docs.

The floors themselves are held by import-linter, from the contracts in pyproject.toml.
"""

from __future__ import annotations

import ast
import dataclasses
import re
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

import stunline
from stunline.equipment.model import Coefficients
from stunline.shot import goal
from stunline.shot.position_file import coefficients_section, strike_section

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "src" / "stunline"
MODULES = sorted(PACKAGE.rglob("*.py"))
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
REQUIREMENTS = ("requirements.txt", "requirements-dev.txt", "requirements-compare.txt")
NOT_OURS = {".git", "out", "build", "dist", "_build", "node_modules", "__pycache__"}


def distribution(requirement: str) -> str:
    """The name alone: "numpy" of "numpy>=2.0"."""
    return re.split(r"[<>=~! ]", requirement)[0]


def relative(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def imports(path: Path) -> Iterator[str]:
    """Every absolute module name that the file imports, at any depth."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{relative(path)}:{node.lineno}: a relative import"
            assert node.module is not None
            yield node.module


# --- imports -------------------------------------------------------------------------


@pytest.mark.parametrize("path", sorted((PACKAGE / "mechanics").glob("*.py")), ids=relative)
def test_mechanics_imports_only_numpy_numba_and_math(path: Path) -> None:
    allowed = {"numpy", "numba", "math", "__future__"}
    strangers = [
        name
        for name in imports(path)
        if name.split(".")[0] not in allowed
        and name != "stunline.mechanics"
        and not name.startswith("stunline.mechanics.")
    ]
    assert strangers == []


@pytest.mark.parametrize("path", sorted((PACKAGE / "cli").glob("*.py")), ids=relative)
def test_cli_imports_only_tasks_and_errors_from_the_package(path: Path) -> None:
    inside = [name for name in imports(path) if name.split(".")[0] == "stunline"]
    strangers = [
        name
        for name in inside
        if name != "stunline" and name.split(".")[1] not in {"tasks", "errors", "cli"}
    ]
    assert strangers == []


# Never imported by name: the server looks for it when a live connection is opened.
FOUND_BY_OTHERS = {"websockets"}


def test_the_package_imports_what_it_declares_and_nothing_else() -> None:
    lines = PROJECT["project"]["dependencies"]
    declared = {distribution(line).replace("-", "_") for line in lines}
    imported = {name.split(".")[0] for path in MODULES for name in imports(path)}
    assert imported - set(sys.stdlib_module_names) - {"stunline"} == declared - FOUND_BY_OTHERS


# --- words ---------------------------------------------------------------------------

# In two halves each, so that this file passes its own check.
FORBIDDEN = {
    "the host of a package registry": "|".join(
        re.escape(left + right)
        for left, right in [
            ("py", "pi.org"),
            ("python", "hosted.org"),
            ("np", "mjs.org"),
            ("np", "mjs.com"),
            ("yarn", "pkg.com"),
            ("conda.", "anaconda.org"),
            ("crates", ".io"),
            ("proxy.golang", ".org"),
        ]
    ),
    "a path of one machine": r"(?<![\w.~}])/(?:wo"
    + r"rk|tm"
    + r"p|ro"
    + r"ot|ho"
    + r"me|Us"
    + r"ers|op"
    + r"t)/",
}


def own_text_files() -> list[Path]:
    """Every file of the project that is text, wherever it stands."""
    found = []
    for path in sorted(ROOT.rglob("*")):
        parts = path.relative_to(ROOT).parts
        hidden = any(part.startswith(".") and part != ".ci" for part in parts[:-1])
        if not path.is_file() or hidden or NOT_OURS & set(parts):
            continue
        if b"\0" not in path.read_bytes()[:4096]:
            found.append(path)
    return found


@pytest.mark.parametrize("what", FORBIDDEN)
def test_no_file_mentions(what: str) -> None:
    pattern = re.compile(FORBIDDEN[what])
    found = []
    for path in own_text_files():
        text = path.read_text(encoding="utf-8", errors="replace")
        for number, line in enumerate(text.splitlines(), start=1):
            if pattern.search(line):
                found.append(f"{relative(path)}:{number}: {line.strip()[:100]}")
    assert found == []


def test_the_search_for_words_reads_the_files_it_should() -> None:
    read = {relative(path) for path in own_text_files()}
    assert {".ci/run", "Makefile", "README.md", "src/stunline/errors.py", *REQUIREMENTS} <= read


# --- docstrings ----------------------------------------------------------------------


def undocumented(body: list[ast.stmt], where: str) -> Iterator[str]:
    """Public functions and classes of ``body`` without a docstring, methods included."""
    for node in body:
        if not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            continue
        if node.name.startswith("_"):
            continue
        if ast.get_docstring(node) is None:
            yield f"{where}:{node.lineno}: {node.name}"
        if isinstance(node, ast.ClassDef):
            yield from undocumented(node.body, where)


@pytest.mark.parametrize("path", MODULES, ids=relative)
def test_every_public_thing_has_a_docstring(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    missing = list(undocumented(tree.body, relative(path)))
    if ast.get_docstring(tree) is None:
        missing.insert(0, f"{relative(path)}: the module itself")
    assert missing == []


# --- pins ----------------------------------------------------------------------------


def pins(name: str) -> dict[str, list[str]]:
    """Each requirement of that file, as ``package==version ; marker``, with its hashes."""
    found: dict[str, list[str]] = {}
    requirement = ""
    for line in (ROOT / name).read_text(encoding="utf-8").splitlines():
        if line and not line.startswith((" ", "#")):
            requirement = line.removesuffix("\\").strip()
            found[requirement] = []
        else:
            found.get(requirement, []).extend(re.findall(r"--hash=(\S+)", line))
    return found


def packages(name: str) -> set[str]:
    return {requirement.split("==")[0] for requirement in pins(name)}


@pytest.mark.parametrize("name", REQUIREMENTS)
def test_every_requirement_is_pinned_with_hashes(name: str) -> None:
    pinned = pins(name)
    assert len(pinned) > len(PROJECT["project"]["dependencies"])
    for requirement, hashes in pinned.items():
        assert re.match(r"[a-z0-9-]+==[0-9][\w.]*( ; .+)?$", requirement)
        assert hashes
        assert all(re.fullmatch(r"sha256:[0-9a-f]{64}", given) for given in hashes), requirement


@pytest.mark.parametrize("name", REQUIREMENTS)
def test_requirements_name_no_registry(name: str) -> None:
    text = (ROOT / name).read_text(encoding="utf-8")
    assert not re.search(r"--(extra-)?index-url|--find-links|--trusted-host|://", text)


def test_development_pins_the_same_versions_as_the_runtime() -> None:
    assert set(pins("requirements.txt")) <= set(pins("requirements-dev.txt"))


def test_requirements_cover_what_the_project_declares() -> None:
    groups = PROJECT["dependency-groups"]
    declared = [*PROJECT["project"]["dependencies"], *groups["build"]]
    names = {distribution(line) for line in declared}
    assert names <= packages("requirements.txt")
    assert names | set(groups["dev"]) <= packages("requirements-dev.txt")
    assert names | set(groups["compare"]) <= packages("requirements-compare.txt")


def test_checks_do_not_install_what_is_only_compared_with() -> None:
    assert "mujoco" not in packages("requirements.txt") | packages("requirements-dev.txt")


# --- documents -----------------------------------------------------------------------


def page(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


@pytest.mark.parametrize("field", [field.name for field in dataclasses.fields(Coefficients)])
def test_every_coefficient_is_documented(field: str) -> None:
    assert f"| `{field}` |" in page("docs/position-file.md")
    assert f"| {field} |" in page("docs/nomenclature.md")


FILE_KEYS = (*coefficients_section.KEYS, *strike_section.KEYS, *goal.DEMANDS)


@pytest.mark.parametrize("key", FILE_KEYS)
def test_every_key_of_a_position_file_is_documented(key: str) -> None:
    first_cells = re.findall(r"^\| (`[^|]+) \|", page("docs/position-file.md"), re.MULTILINE)
    assert any(f"`{key}`" in cell for cell in first_cells)


def test_every_package_that_running_needs_has_its_licence_on_the_page() -> None:
    text = page("docs/licences.md")
    assert [name for name in packages("requirements.txt") if f"| {name} |" not in text] == []


def test_every_declared_tool_has_its_licence_on_the_page() -> None:
    text = page("docs/licences.md")
    groups = PROJECT["dependency-groups"]
    assert [name for name in groups["dev"] if f"| {name} |" not in text] == []


def test_the_changelog_has_this_version() -> None:
    assert re.search(
        rf"^## {re.escape(stunline.__version__)}\b", page("CHANGELOG.md"), re.MULTILINE
    )


LINK = re.compile(r"!?\[[^\]]*\]\(([^)#:\s]+)(?:#[^)]*)?\)")


@pytest.mark.parametrize("name", ["README.md", "STYLE.md", "CHANGELOG.md"])
def test_links_of_the_front_pages_lead_to_files(name: str) -> None:
    links = LINK.findall(page(name))
    assert [link for link in links if not (ROOT / link).is_file()] == []

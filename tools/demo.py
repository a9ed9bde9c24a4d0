"""The shipped positions, played, drawn and printed; ``make demo`` runs this.

Uses the installed command only, as a user would, and ends with the absolute path of
every file it wrote, which to open first, and what to type next.
"""

from __future__ import annotations

import subprocess
import sys
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
POSITIONS = ROOT / "src" / "stunline" / "shot" / "position_file" / "positions"
MAIN = "edge-of-the-pack"
OUT = ROOT / "out"
STUNLINE = Path(sys.executable).parent / "stunline"


def main() -> int:
    """Play every shipped position; return how the process should exit."""
    OUT.mkdir(exist_ok=True)
    files = sorted(POSITIONS.glob("*.toml"), key=lambda file: (file.stem != MAIN, file.stem))
    if not files:
        print(f"no position files in {POSITIONS}: the checkout is incomplete", file=sys.stderr)
        return 1
    written: list[Path] = []
    failed: list[Path] = []
    for make, file in [*((play, file) for file in files), (sheet, files[0])]:
        try:
            written += make(file)
        except subprocess.CalledProcessError:  # stunline has already said why
            failed.append(file)
    for file in failed:
        print(f"could not be done: {file}", file=sys.stderr)
    print("\nWritten:", *written, sep="\n", flush=True)
    print_next(written)
    return 1 if failed else 0


def print_next(written: list[Path]) -> None:
    """Which file to open first, and the next commands as they are typed here."""
    sheets = [path for path in written if path.suffix == ".pdf"]
    if sheets:
        print("\nOpen first, the practice sheet:", *sheets, sep="\n")
    command = STUNLINE.relative_to(ROOT) if STUNLINE.is_relative_to(ROOT) else STUNLINE
    print(
        "\nNext, one of:",
        f"{command} open              the page: a table in your browser",
        f"{command} new first.toml    a position of your own to start from",
        "and after  source .venv/bin/activate  plain stunline does.",
        sep="\n",
        flush=True,
    )


def play(file: Path) -> list[Path]:
    """The shot of one file, and its ladder where it asks for one; what was written."""
    written = run("shot", file, OUT / file.stem)
    if "ladder" in tomllib.loads(file.read_text(encoding="utf-8")):
        written += run("ladder", file, OUT / f"{file.stem}-ladder")
    return written


def sheet(file: Path) -> list[Path]:
    """The practice sheet of the main position."""
    page = OUT / f"{file.stem}-sheet.pdf"
    shown = f"{file.relative_to(ROOT)} -o {page.relative_to(ROOT)}"
    print(f"\n$ stunline sheet {shown}", flush=True)
    subprocess.run([STUNLINE, "sheet", file, "-o", page], check=True)
    return [page]


def run(command: str, file: Path, stem: Path) -> list[Path]:
    """One command: drawing and JSON to files; of the main position the table to the screen."""
    picture, numbers = stem.with_suffix(".svg"), stem.with_suffix(".json")
    shown = f"stunline {command} {file.relative_to(ROOT)} --json -o {picture.relative_to(ROOT)}"
    print(f"\n$ {shown} > {numbers.relative_to(ROOT)}", flush=True)
    if file.stem == MAIN:
        subprocess.run([STUNLINE, command, file], check=True)
    with numbers.open("w", encoding="utf-8") as stream:
        subprocess.run(
            [STUNLINE, command, file, "--json", "-o", picture], check=True, stdout=stream
        )
    return [picture, numbers]


if __name__ == "__main__":
    sys.exit(main())

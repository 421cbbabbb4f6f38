"""Which sheet is worked with: the maker's own, or one of the invented demos."""

import os
import re
from pathlib import Path

from ..basics.fault import closest, fault
from ..basics.tables import data_folder
from .build import Build
from .load import load, read
from .store import Seen, look, put_file

FIRST_DEMO = "insert_press"
LONGEST_NAME = 80


def demos() -> list:
    """Names of the invented demo sheets, the first one first.

    >>> demos()[0]
    'insert_press'
    """
    names = sorted(p.stem for p in (data_folder() / "builds").glob("*.toml"))
    return [n for n in names if n == FIRST_DEMO] + [n for n in names if n != FIRST_DEMO]


def my_folder():
    """The folder of the maker's own sheets (not made here): my/ in the project, or BENCHCALC_MY."""
    if os.environ.get("BENCHCALC_MY"):
        return Path(os.environ["BENCHCALC_MY"])
    project = Path(__file__).resolve().parents[2]
    return (project if (project / "pyproject.toml").is_file() else Path.cwd()) / "my"


def my_sheets() -> list:
    """Names of the maker's own sheets, sorted.

    >>> made = copy_to_mine("insert_press", "first_try")
    >>> "first_try" in my_sheets()
    True
    """
    return sorted(p.stem for p in my_folder().glob("*.toml"))


def sheet_path(name):
    """The file behind a name: a path, a sheet of the maker's own, or a demo.

    name: "my_iron", "insert_press", or a path to a TOML file.
    Returns Path.  Raises Fault with the closest names.
    """
    name = str(name)
    if name.endswith(".toml"):
        return Path(name)
    for folder in (my_folder(), data_folder() / "builds"):
        if (folder / f"{name}.toml").is_file():
            return folder / f"{name}.toml"
    raise fault("sheet", name, "is not there.", closest(name, my_sheets() + demos()))


def chosen(name: str | Path | None = None) -> Path:
    """The path of the chosen sheet: argument, else BENCHCALC_SHEET, else my/chosen.txt, else the demo.

    name: name or path, or None.
    Returns Path.  Raises Fault when the choice is not there any more.

    >>> chosen("insert_press").name
    'insert_press.toml'
    """
    note = my_folder() / "chosen.txt"
    for choice in (name, os.environ.get("BENCHCALC_SHEET")):
        if choice:
            return sheet_path(choice)
    if note.is_file() and note.read_text(encoding="utf-8").strip():
        choice = note.read_text(encoding="utf-8").strip()
        try:
            path, cause = sheet_path(choice), ""
        except ValueError as error:
            path, cause = None, str(error)
        if path is None or not path.is_file():
            raise fault(
                str(note),
                choice,
                "names a sheet that is not there any more.",
                cause,
                "Choose another in 00_start_here, or delete the file.",
            )
        return path
    return sheet_path(FIRST_DEMO)


def choose(name: str | Path) -> Path:
    """Make a sheet the chosen one, for all workbooks.

    name: name or path.
    Returns its path.  Writes my/chosen.txt.  Raises Fault: not there, or the folder is read-only.

    >>> choose("insert_press").stem
    'insert_press'
    """
    path = sheet_path(name)
    _make_folder()
    put_file(my_folder() / "chosen.txt", f"{name}\n")
    return path


def copy_to_mine(name: str | Path, new_name: str, *, chosen_too: bool = True) -> Path:
    """Copy a demo or a sheet into the maker's own folder, under a new name, and choose it.

    name: sheet to copy. new_name: letters, digits, dash and underscore. chosen_too: False to leave the choice as it is.
    Returns the new path.  Nothing is overwritten: raises Fault when the name is taken, is no
    good file name, or the folder cannot be written.

    >>> copy_to_mine("insert_press", "second try").name
    'second_try.toml'
    """
    new_name, target = _own_target(new_name)
    source = sheet_path(name)
    _make_folder()
    text = look(source).text
    text = text.replace("invented = true", "invented = false  # your own sheet from here on", 1)
    first, _, rest = text.partition("\n")
    if first.startswith("# Invented demo"):
        text = f"# Your own sheet, begun from {source.stem}.\n{rest}"
    own_name = f'name = "{new_name}"'
    if source.stem in demos() and source.parent == data_folder() / "builds":
        own_name += f'\nbegun_from = "{source.stem}"  # what still equals its readings, soak, ohms and logs is borrowed'
    text = re.sub(r'(?m)^name = ".*"', own_name, text, count=1)
    put_file(target, text, seen=Seen(target, None))
    if chosen_too:
        choose(new_name)
    return target


def new_sheet(new_name: str, text: str = "") -> Path:
    """An empty sheet in the maker's own folder, chosen.

    new_name: letters, digits, dash and underscore. text: TOML to begin with, beyond the sheet's own name.
    Returns its path.  Nothing is overwritten: raises Fault as `copy_to_mine`, or where the text is no good sheet.
    """
    new_name, target = _own_target(new_name)
    whole = f'# My own sheet.\n[sheet]\nname = "{new_name}"\n' + (f"\n{text.strip()}\n" if text.strip() else "")
    read(whole, where=target.name)
    _make_folder()
    put_file(target, whole, seen=Seen(target, None))
    choose(new_name)
    return target


def free_name(new_name: str) -> str:
    """A name that a sheet of one's own may take, as its file has it.

    new_name: as typed.  Raises Fault as `new_sheet`.
    """
    return _own_target(new_name)[0]


def _own_target(new_name):
    """A good new name for a sheet of one's own, and its file, which is not there yet."""
    typed = str(new_name).strip()
    new_name = typed.replace(" ", "_")
    if not new_name:
        raise fault("name of the new sheet", "", "is missing.", do="Type one, such as my_iron.")
    if not all(c.isalnum() or c in "-_" for c in new_name) or len(new_name) > LONGEST_NAME:
        need = f"should be letters, digits, dash, underscore and spaces, at most {LONGEST_NAME}."
        able = re.sub(r"[^\w-]+", "-", new_name).strip("-_")[:LONGEST_NAME] or "my_iron"
        raise fault("name of the new sheet", typed[:80], need, do=f"Type e.g. {able}.")
    if new_name in demos():
        raise fault("name of the new sheet", new_name, "is the name of a demo.", do="Take another name.")
    target = my_folder() / f"{new_name}.toml"
    if target.exists():
        raise fault("name of the new sheet", new_name, "is taken; nothing was overwritten.", do="Take another name.")
    return new_name, target


def _make_folder():
    try:
        my_folder().mkdir(parents=True, exist_ok=True)
        probe = my_folder() / ".write"
        probe.touch()
        probe.unlink()
    except OSError as error:
        raise fault(
            str(my_folder()),
            "",
            f"cannot be written ({error.strerror}).",
            do="Give yourself the right to write there, or set BENCHCALC_MY to another folder.",
        ) from None


def load_chosen(name: str | Path | None = None) -> Build:
    """Load the chosen sheet.

    name: as `chosen`.
    Returns Build.

    >>> load_chosen("insert_press").name
    'Insert press'
    """
    return load(chosen(name))

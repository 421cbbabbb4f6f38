"""The two front doors as Markdown tables, for the guide: name, signature, one line."""

import inspect
import re
from importlib import import_module

import benchcalc as bc
from benchcalc import pages


def one_line(text):
    """The first sentence of a docstring's first paragraph, fit for a table's cell."""
    first = " ".join((text or "").strip().split("\n\n")[0].split())
    return re.split(r"(?<=\.) (?=[A-Za-z_, ]+: |Returns |Raises )", first)[0].replace("|", "\\|")


def signature_of(thing):
    """A function with its types, a class with the names of its fields, without the modules that they come from."""
    spec = inspect.signature(thing)
    if inspect.isclass(thing):
        told = ", ".join(str(one.replace(annotation=one.empty, default=one.empty)) for one in spec.parameters.values())
        return f"`{thing.__name__}({told})`"
    told = re.sub(r"\b(?:[A-Za-z_]\w*\.)+(?=[A-Za-z_])", "", f"{spec}")
    return f"`{thing.__name__}{told}`".replace("|", "\\|")


def row_of(name, thing, home):
    """One row.  name: at the door. thing: what it is. home: module in which a picture stands."""
    if inspect.ismodule(thing):
        own = [k for k, v in vars(thing).items() if inspect.isfunction(v) and v.__module__ == thing.__name__]
        words = ", ".join(f"`{k}`" for k in own if not k.startswith("_"))
        return f"| `{name}` | module: {words} | {one_line(thing.__doc__)} |"
    if callable(thing):
        return f"| `{name}` | {signature_of(thing)} | {one_line(thing.__doc__)} |"
    return f"| `{name}` | {type(thing).__name__} | {one_line(home.__doc__)} |"


def api():
    """Both tables.  Returns text."""
    told = []
    for door in (bc, pages):
        told += [
            f"`{door.__name__}`: {one_line(door.__doc__)}",
            "",
            "| name | signature | what it does |",
            "|---|---|---|",
        ]
        for name in sorted(door.__all__, key=str.lower):
            place = getattr(door, "DOORS", {}).get(name, "").partition(":")[0]
            home = import_module(f"benchcalc.{place}") if place else door
            told.append(row_of(name, getattr(door, name), home))
        told.append("")
    return "\n".join(told)

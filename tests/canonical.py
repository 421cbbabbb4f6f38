"""Execute workbooks in a fresh kernel and write them in canonical form.

    python tests/canonical.py                      every workbook
    python tests/canonical.py notebooks/NAME.ipynb the named ones
    python tests/canonical.py --check              run twice, compare, write nothing

Canonical: run top to bottom with the demo's sheet; no widget state, times, tracebacks or kernel versions;
cell ids kept; sorted keys. Two runs give identical bytes. The test environment is defined here as well.
"""

import argparse
import atexit
import json
import os
import re
import shutil
import sys
import tempfile
import time
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
DEMO = "insert_press"
CELL_LIMIT_S = 120
START_LIMIT_S = 60
WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"
KERNELSPEC = {"display_name": "Python 3", "language": "python", "name": "python3"}
LANGUAGE = {
    "codemirror_mode": {"name": "ipython", "version": 3},
    "file_extension": ".py",
    "mimetype": "text/x-python",
    "name": "python",
    "nbconvert_exporter": "python",
    "pygments_lexer": "ipython3",
}


# ---- the environment of every test


@cache
def demo_environment():
    """Variables under which workbooks are tested: the demo's sheet, and nothing of the user's own."""
    folder = Path(tempfile.mkdtemp(prefix="benchcalc-test-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    (folder / "my").mkdir()
    path = [str(ROOT)] + [p for p in os.environ.get("PYTHONPATH", "").split(os.pathsep) if p]
    return {
        "BENCHCALC_SHEET": DEMO,
        "BENCHCALC_MY": str(folder / "my"),
        "IPYTHONDIR": str(folder / "ipython"),
        "PYTHONPATH": os.pathsep.join(dict.fromkeys(path)),
    }


def use_the_demo():
    """Set demo_environment() for this process and the kernels it will start."""
    os.environ.update(demo_environment())
    os.environ.pop("MPLBACKEND", None)


# ---- reading stored workbooks (plain json: nothing is repaired on the way)


def workbooks():
    """Paths of all workbooks, class sheets last."""
    folder = ROOT / "notebooks"
    return sorted(folder.glob("*.ipynb")) + sorted(folder.glob("class/*.ipynb"))


def source_of(cell):
    """A cell's source as one string."""
    return "".join(cell["source"])


def texts_of(output):
    """(kind, text) of everything in one output that the comparison looks at."""
    if output["output_type"] == "stream":
        return [(output["name"], "".join(output["text"]))]
    if output["output_type"] == "error":
        return [("error", f"{output['ename']}: {output['evalue']}")]
    return [
        (kind, "".join(value) if isinstance(value, list) else str(value))
        for kind, value in output["data"].items()
        if kind.startswith("text/") or kind == "image/svg+xml"
    ]


def sheet_named_in(notebook):
    """The name that stands after "Sheet:" in the first code cell's outputs, or None."""
    first = next((c for c in notebook["cells"] if c["cell_type"] == "code"), {"outputs": []})
    for output in first["outputs"]:
        for _, text in texts_of(output):
            if found := re.search(r"Sheet:(?:<[^>]*>|[\s*`_])*([\w.-]*\w)", text):
                return found[1]
    return None


def foreign_sheet(path):
    """One sentence if the stored outputs at path belong to another sheet than the demo's, else None."""
    name = sheet_named_in(json.loads(Path(path).read_text(encoding="utf-8")))
    if name in (None, DEMO):
        return None
    path = Path(path).resolve()
    shown = path.relative_to(ROOT).as_posix() if path.is_relative_to(ROOT) else path
    return (
        f"{shown} holds the outputs of the sheet {name!r} instead of the demo's {DEMO!r}: "
        f"put the demo's back with `python tests/canonical.py {shown}` (your sheet itself is not touched)."
    )


# ---- canonical form


def with_ids(notebook):
    """The notebook with an id for every cell: existing ones stay, missing or doubled ones follow the position."""
    seen = {cell.get("id") for cell in notebook["cells"]}
    used = set()
    for number, cell in enumerate(notebook["cells"], 1):
        if not cell.get("id") or cell["id"] in used:
            name, extra = f"cell-{number:02d}", 0
            while name in seen:
                extra += 1
                name = f"cell-{number:02d}-{extra}"
            cell["id"] = name
            seen.add(name)
        used.add(cell["id"])
    return notebook | {"nbformat": 4, "nbformat_minor": 5}


def tidy_outputs(outputs, count):
    """Outputs without anything that differs from run to run."""
    tidy = []
    for output in outputs:
        output = dict(output)
        if "data" in output:
            output["data"] = {k: v for k, v in output["data"].items() if k != WIDGET_VIEW}
            if not output["data"]:
                continue
        if output["output_type"] == "execute_result":
            output["execution_count"] = count
        if output["output_type"] == "error":
            output["traceback"] = [f"{output['ename']}: {output['evalue']}"]
        if output["output_type"] == "stream" and tidy and tidy[-1].get("name") == output["name"]:
            tidy[-1]["text"] = "".join(tidy[-1]["text"]) + "".join(output["text"])
            continue
        tidy.append(output)
    return tidy


def tidy(notebook):
    """The executed notebook in canonical form."""
    count = 0
    for cell in notebook["cells"]:
        for key in ("execution", "ExecuteTime", "collapsed", "scrolled", "trusted"):
            cell["metadata"].pop(key, None)
        if cell["cell_type"] == "code":
            count += 1
            cell["execution_count"] = count
            cell["outputs"] = tidy_outputs(cell["outputs"], count)
    return notebook | {"metadata": {"kernelspec": KERNELSPEC, "language_info": LANGUAGE}}


def executed(path):
    """The workbook at path, run in a fresh kernel within time limits; a kernel that fails to start is tried twice."""
    import nbformat
    from nbclient import NotebookClient

    stored = with_ids(json.loads(path.read_text(encoding="utf-8")))
    for cell in stored["cells"]:
        if cell["cell_type"] == "code":
            cell.update(outputs=[], execution_count=None)
    for attempt in (1, 2):
        notebook = nbformat.reads(json.dumps(stored), as_version=4)
        client = NotebookClient(
            notebook,
            timeout=CELL_LIMIT_S,
            startup_timeout=START_LIMIT_S,
            kernel_name="python3",
            record_timing=False,
            resources={"metadata": {"path": str(path.parent)}},
        )
        try:
            client.execute()
            return notebook
        except RuntimeError as why:
            if attempt == 2 or "respond" not in str(why):
                raise
    raise AssertionError("not reached: the second attempt returns or raises")


def canonical_text(path):
    """The text of the workbook at path after a fresh run, in canonical form."""
    import nbformat

    notebook = nbformat.from_dict(tidy(executed(path)))
    nbformat.validate(notebook)
    return nbformat.writes(notebook).rstrip("\n") + "\n"


def write_safely(path, text):
    """Replace the file at path only when the new text is wholly on disk."""
    new = path.with_name(path.name + ".new")
    new.write_text(text, encoding="utf-8")
    os.replace(new, path)


def main():
    """Command line: see the head of this file."""
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("notebooks", nargs="*", type=Path, help="default: all")
    arguments.add_argument("--check", action="store_true", help="run twice and compare; write nothing")
    given = arguments.parse_args()
    use_the_demo()
    bad = 0
    for path in [p.resolve() for p in given.notebooks] or workbooks():
        start_s, before = time.monotonic(), path.read_text(encoding="utf-8")
        try:
            after = canonical_text(path)
            if given.check:
                same = after == canonical_text(path)
                word = "two runs agree" if same else "TWO RUNS DIFFER"
                word += "" if after == before else "; the stored file is not canonical"
                bad += not same
            elif after == before:
                word = "unchanged"
            else:
                write_safely(path, after)
                word = "rewritten"
        except Exception as why:
            word, bad = f"FAILED, file left as it was\n{why}", bad + 1
        print(f"{path.name}: {word} ({time.monotonic() - start_s:.1f} s)", flush=True)
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())

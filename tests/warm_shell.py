"""Run workbooks with all imports already made: one process loads the libraries, each run is a fork of it.

A run begins with the modules just imported and nothing else: no variable, cache or figure of another run reaches it.
What a kernel would show as an error is noted as one: a cell that raises, and an output that cannot be shown.
"""

import json
import multiprocessing
import os
import traceback
from functools import cache

from canonical import source_of

LIBRARIES = ("IPython.core.interactiveshell", "benchcalc", "ipywidgets", "matplotlib_inline.backend_inline")
LIMIT_S = 600  # only against a page that hangs


@cache
def warm():
    """The context that forks from a process with the libraries loaded."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload([*LIBRARIES, "warm_shell"])
    return context


def run_cells(cells, folder, variables, texts=None):
    """(number of outputs, errors) of cells run top to bottom in a fresh shell, up to the first one that fails.

    cells: sources. folder: the working directory. variables: the environment beside what is set already. texts: list
    that takes (kind, text) of every output and widget; it is returned in place of the number.
    """
    os.environ.update(variables)
    os.chdir(folder)
    from IPython.core.interactiveshell import InteractiveShell
    from IPython.utils.capture import capture_output

    class Shell(InteractiveShell):
        def _showtraceback(self, kind, value, lines):
            errors.append("".join(traceback.format_exception(value)))

        def enable_gui(self, gui=None):
            """Inline pictures need no window."""

    errors, shown, shell = [], 0, Shell.instance()
    shell.run_line_magic("matplotlib", "inline")
    for source in cells:
        with capture_output() as caught:
            result = shell.run_cell(source, store_history=True)
        shown += len(caught.outputs) + bool(caught.stdout) + bool(caught.stderr)
        if texts is not None:
            last = () if result.result is None else (shell.display_formatter.format(result.result)[0],)
            told = [o.data or {} for o in caught.outputs]  # what a cell displays, and what stands at its end
            texts += [(k, t) for data in (*told, *last) for k, t in data.items() if isinstance(t, str)]
        if not result.success and not errors:
            errors.append(repr(result.error_before_exec or result.error_in_exec))
        if errors:
            break
    if texts is not None:
        from ipywidgets.widgets.widget import _instances

        kinds = [(type(w).__name__, getattr(w, "value", "")) for w in _instances.values()]
        return texts + [("text/html", value) for name, value in kinds if name.startswith("HTML")], errors
    return shown, errors


def _answer(pipe, *task):
    try:
        pipe.send(run_cells(*task))
    except BaseException:
        pipe.send((0, [traceback.format_exc()]))


def run_page(path, variables, texts=None):
    """(number of outputs, errors) of the workbook at path, run in a fork under these environment variables.

    texts: as run_cells.
    """
    stored = json.loads(path.read_text(encoding="utf-8"))
    cells = [source_of(c) for c in stored["cells"] if c["cell_type"] == "code"]
    return run_forked(cells, path.parent, variables, texts)


def run_forked(cells, folder, variables, texts=None):
    """What run_cells returns, from a fork of its own."""
    ours, its = warm().Pipe(duplex=False)
    child = warm().Process(target=_answer, args=(its, cells, str(folder), variables, texts), daemon=True)
    child.start()
    its.close()
    try:
        if not ours.poll(LIMIT_S):
            return 0, [f"not done within {LIMIT_S} s"]
        return ours.recv()
    except EOFError:
        return 0, ["its process ended without an answer"]
    finally:
        child.terminate()
        child.join()

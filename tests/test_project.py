"""The house plan, checked: light import, one-way rooms, small modules, honest docstrings, a complete wheel."""

import ast
import asyncio
import importlib
import importlib.util
import inspect
import json
import logging
import re
import shutil
import socket
import subprocess
import sys
import zipfile
from functools import cache
from types import SimpleNamespace

import pytest
from canonical import ROOT

from benchcalc.show.page.worked import is_straight

PACKAGE = ROOT / "benchcalc"
ROOMS = ("basics", "materials", "heater", "thermal", "sheet", "chain", "studies", "show")  # lowest first
HEAVY = {"matplotlib", "ipywidgets", "IPython", "scipy", "tomlkit", "pandas"}
LONGEST_MODULE_LINES = 300
LONGEST_FUNCTION_LINES = 60
MOST_ARGUMENTS = 7
CHANGES = {"append", "extend", "insert", "add", "update", "setdefault", "pop", "popitem", "remove", "discard", "clear"}
MODULES = sorted(PACKAGE.rglob("*.py"))


@cache
def tree_of(path):
    """The syntax tree of a file: read once for all that is asked of it."""
    return ast.parse(path.read_text(encoding="utf-8"))


def dotted(path):
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


NAMES = {dotted(path): path for path in MODULES}


def imports_in(path, nodes=None):
    """(line, module) for each module of this package that the file imports; nodes: only these statements."""
    name = dotted(path)
    package = name.split(".") if path.name == "__init__.py" else name.split(".")[:-1]
    for node in nodes if nodes is not None else ast.walk(tree_of(path)):
        if isinstance(node, ast.Import):
            targets = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            head = package[: len(package) - node.level + 1] if node.level else []
            base = ".".join(head + ([node.module] if node.module else []))
            targets = [f"{base}.{a.name}" if f"{base}.{a.name}" in NAMES else base for a in node.names]
        else:
            continue
        yield from ((node.lineno, target) for target in targets if target.split(".")[0] == "benchcalc")


def room_of(name):
    parts = name.split(".")
    return parts[1] if len(parts) > 1 and parts[1] in ROOMS else None


@pytest.fixture(params=MODULES, ids=dotted)
def module(request):
    return request.param


def test_every_module_stands_in_a_room():
    assert {dotted(p) for p in MODULES if room_of(dotted(p)) is None} == {"benchcalc", "benchcalc.pages"}


@pytest.mark.parametrize("name", ["benchcalc", "benchcalc.show", "benchcalc.show.server"])
def test_import_is_light(name):
    if importlib.util.find_spec(name) is None:
        pytest.fail(f"{name} is missing")
    code = f"import sys, {name}; print(*sorted({HEAVY!r} & {{m.split('.')[0] for m in sys.modules}}))"
    result = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60)
    assert result.returncode == 0, result.stderr
    assert result.stdout.split() == [], f"import {name} loads {result.stdout}"


def test_imports_go_one_way(module):
    own = room_of(dotted(module))
    for line, target in imports_in(module):
        room = room_of(target)
        if own is not None and room is not None:
            assert ROOMS.index(room) <= ROOMS.index(own), f"{dotted(module)} line {line} imports {target}"


def test_no_module_imports_itself_in_a_circle():
    """Imports inside functions count too."""
    needed = {
        name: {t for _, t in imports_in(path) if t in NAMES}
        for name, path in NAMES.items()
        if path.name != "__init__.py"
    }
    free = set()
    while ready := {n for n, needs in needed.items() if n not in free and not (needs & set(needed)) - free}:
        free |= ready
    assert set(needed) - free == set()


def test_modules_are_short(module):
    lines = len(module.read_text(encoding="utf-8").splitlines())
    assert lines <= LONGEST_MODULE_LINES, f"{dotted(module)} has {lines} lines"


def functions_of(path):
    tree = tree_of(path)
    return [f for f in ast.walk(tree) if isinstance(f, ast.FunctionDef | ast.AsyncFunctionDef)]


def arguments_of(function):
    """Names that a caller fills in, without a method's own object."""
    spec = function.args
    given = [a.arg for a in spec.posonlyargs + spec.args + spec.kwonlyargs]
    return given[1:] if given[:1] in (["self"], ["cls"]) else given


def is_derivable(path, name):
    """Whether a function of the module is a straight one, whose arguments are the symbols of its formula."""
    found = vars(importlib.import_module(dotted(path))).get(name)
    try:
        return inspect.isfunction(found) and is_straight(found)
    except ValueError:
        return False


def test_functions_are_short(module):
    long = {f.name: f.end_lineno - f.lineno + 1 for f in functions_of(module)}
    long = {name: n for name, n in long.items() if n > LONGEST_FUNCTION_LINES}
    assert not long


def test_functions_take_few_arguments_where_they_are_no_formula(module):
    many = {f.name: len(arguments_of(f)) for f in functions_of(module)}
    many = {name: n for name, n in many.items() if n > MOST_ARGUMENTS and not is_derivable(module, name)}
    assert not many


def test_a_public_name_means_one_thing():
    places = {}
    for path in MODULES:
        for node in tree_of(path).body:
            if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
                places.setdefault(node.name, []).append(dotted(path))
    twice = {name: where for name, where in places.items() if len(where) > 1}
    assert not twice


def state_of(text):
    """(line, name) wherever a function changes what stands at the top of its module."""
    tree = ast.parse(text)
    tops = {
        name.id
        for statement in tree.body
        if isinstance(statement, ast.Assign | ast.AnnAssign)
        for name in ast.walk(statement)
        if isinstance(name, ast.Name) and isinstance(name.ctx, ast.Store)
    }
    for function in (f for f in ast.walk(tree) if isinstance(f, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda)):
        own = {a.arg for a in ast.walk(function) if isinstance(a, ast.arg)} | {
            n.id for n in ast.walk(function) if isinstance(n, ast.Name) and isinstance(n.ctx, ast.Store)
        }
        for node in ast.walk(function):
            changed = None
            if isinstance(node, ast.Global):
                yield from ((node.lineno, name) for name in node.names)
            elif isinstance(node, ast.Subscript | ast.Attribute) and not isinstance(node.ctx, ast.Load):
                changed = node.value
            elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in CHANGES:
                changed = node.func.value
            while isinstance(changed, ast.Subscript | ast.Attribute):
                changed = changed.value
            if isinstance(changed, ast.Name) and changed.id in tops - own:
                yield node.lineno, changed.id


@pytest.mark.parametrize(
    "text",
    [
        "last = {}\ndef f(x):\n    last['x'] = x",
        "last = {}\ndef f(x):\n    last.update(x=x)",
        "seen = []\ndef f(x):\n    seen.append(x)",
        "last = None\ndef f(x):\n    global last\n    last = x",
        "box = Box()\ndef f(x):\n    box.inner[0].x = x",
    ],
)
def test_module_state_would_be_seen(text):
    assert list(state_of(text))
    assert not list(state_of("last = {}\ndef f(x):\n    last = {}\n    last['x'] = x\n    return last"))


def test_modules_hold_no_state(module):
    """What is remembered is an argument or functools' own; nothing at the top of a module is changed by a function."""
    assert list(state_of(module.read_text(encoding="utf-8"))) == []


def test_nothing_runs_text_or_unpickles(module):
    tree = tree_of(module)
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            assert node.func.id not in ("eval", "exec"), f"{dotted(module)} line {node.lineno}"
        if isinstance(node, ast.Import | ast.ImportFrom):
            names = [a.name for a in node.names] + [getattr(node, "module", None)]
            assert not {"pickle", "marshal", "shelve"} & set(names), f"{dotted(module)} line {node.lineno}"


def test_public_functions_document_their_arguments(module):
    assert ast.get_docstring(tree_of(module)) or module.name == "__init__.py"
    faults = []
    for node in tree_of(module).body:
        if not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) or node.name.startswith("_"):
            continue
        text, spec = ast.get_docstring(node) or "", node.args
        given = spec.posonlyargs + spec.args + spec.kwonlyargs + [a for a in (spec.vararg, spec.kwarg) if a]
        missing = [a.arg for a in given if not re.search(rf"\b{re.escape(a.arg)}\b", text)]
        if not text or missing:
            faults.append(
                f"{dotted(module)}.{node.name}, line {node.lineno}: "
                + (f"not documented: {', '.join(missing)}" if text else "no docstring")
            )
    if faults:
        pytest.fail("\n".join(faults), pytrace=False)


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    if importlib.util.find_spec("hatchling") is None:
        pytest.skip("hatchling, which builds the wheel, is not installed here")
    folder = tmp_path_factory.mktemp("wheel")
    result = subprocess.run(
        [
            sys.executable,
            "-m",
            "pip",
            "wheel",
            "--quiet",
            "--no-deps",
            "--no-build-isolation",
            "-w",
            str(folder),
            str(ROOT),
        ],
        capture_output=True,
        text=True,
        timeout=120,
    )
    assert result.returncode == 0, result.stderr
    return zipfile.ZipFile(next(folder.glob("*.whl"))).namelist()


def test_the_wheel_holds_all_data(wheel):
    data = {p.relative_to(ROOT / "data").as_posix() for p in (ROOT / "data").rglob("*") if p.is_file()}
    assert data and {f"benchcalc/data/{name}" for name in data} <= set(wheel)


def test_the_wheel_holds_every_module_and_nothing_else_of_the_tree(wheel):
    assert {p.relative_to(ROOT).as_posix() for p in MODULES} <= set(wheel)
    assert "benchcalc/py.typed" in wheel
    assert not [n for n in wheel if n.endswith(".ipynb") or n.startswith(("tests/", "notebooks/", "my/"))]
    assert {n.split("/")[0] for n in wheel if ".dist-info/" not in n and ".data/" not in n} == {"benchcalc"}


def test_the_wheel_brings_the_server_switch_and_the_quiet_start(wheel):
    shared = {n.split(".data/data/")[1] for n in wheel if ".data/data/" in n}
    assert shared == {
        "etc/jupyter/jupyter_server_config.d/benchcalc.json",
        "etc/jupyter/labconfig/default_setting_overrides.d/benchcalc.json",
        "share/jupyter/labextensions/benchcalc-labels/package.json",
        "share/jupyter/labextensions/benchcalc-labels/static/labels.js",
    }


def test_the_quiet_start_is_read_beside_a_users_own_settings(tmp_path, monkeypatch):
    """Settings that somebody laid himself stay; ours come in from a folder that many packages share."""
    from jupyterlab_server import settings_utils

    news = "@jupyterlab/apputils-extension:notification"
    shutil.copytree(PACKAGE / "show" / "jupyter" / "labconfig", tmp_path / "labconfig")
    own = tmp_path / "labconfig" / "default_setting_overrides.json"
    assert not own.exists()
    own.write_text(json.dumps({"@jupyterlab/apputils-extension:themes": {"theme": "JupyterLab Dark"}}))
    monkeypatch.setenv("JUPYTER_CONFIG_PATH", str(tmp_path))
    settings, error = settings_utils._get_overrides(str(tmp_path / "none"))
    assert not error and settings[news]["fetchNews"] == "false"
    kernels = "@jupyterlab/apputils-extension:kernels-settings"  # one thread works tools out: they are shared
    assert settings[kernels]["commsOverSubshells"] == "disabled"
    assert settings["@jupyterlab/apputils-extension:themes"] == {"theme": "JupyterLab Dark"}


# ---- the server extension, with real sockets and a stand-in for the server's own classes


def no_delay_seen_by(connection_class):
    """TCP_NODELAY of a socket whose handler opened a kernel connection of this class, in a real local server."""
    from tornado.httpserver import HTTPServer
    from tornado.testing import bind_unused_port
    from tornado.web import Application
    from tornado.websocket import WebSocketHandler, websocket_connect

    class Kernel(WebSocketHandler):
        def open(self):
            connection = connection_class()
            connection.websocket_handler, connection.log = self, logging.getLogger("test")
            assert connection.connect() == "connected"
            own = self.ws_connection.stream.socket
            self.write_message(str(own.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY)))

    async def ask():
        listener, port = bind_unused_port()
        server = HTTPServer(Application([("/", Kernel)]))
        server.add_socket(listener)
        client = await websocket_connect(f"ws://127.0.0.1:{port}/")
        answer = await client.read_message()
        client.close()
        server.stop()
        return int(answer)

    return asyncio.run(ask())


class PlainConnection:
    def connect(self):
        return "connected"


def test_the_extension_lets_small_packets_go_at_once():
    from benchcalc.show.server import SETTING, _load_jupyter_server_extension

    settings = {SETTING: PlainConnection}
    _load_jupyter_server_extension(SimpleNamespace(web_app=SimpleNamespace(settings=settings), log=None))
    assert no_delay_seen_by(PlainConnection) == 0
    assert no_delay_seen_by(settings[SETTING]) != 0


def test_the_extension_does_no_harm_on_an_unknown_server():
    from benchcalc.show.server import _load_jupyter_server_extension, without_delay

    words = []
    log = SimpleNamespace(
        warning=lambda text, *a: words.append(text % a), debug=lambda text, *a: words.append(text % a)
    )
    _load_jupyter_server_extension(SimpleNamespace(log=log, web_app=SimpleNamespace(settings={})))
    connection = without_delay(PlainConnection)()
    connection.log, connection.websocket_handler = log, object()
    assert connection.connect() == "connected" and len(words) == 2

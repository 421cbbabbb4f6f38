"""A room full of readers on one server: python -m benchcalc.show.lesson.room --word WORD --folder FOLDER.

The multi-user hub of the Jupyter family starts, with a name and the room's word as the way in.  Each reader gets a
folder with a copy of the pages and sheets of his own; readings and scores of all go into one folder of the class.
All readers run as the one user who started the room: for people who trust one another, on a network of their own.
Needs the optional packages: pip install -e '.[room]'.
"""

import argparse
import os
import shutil
import sys
from importlib.util import find_spec
from pathlib import Path

from ...basics.fault import Fault, fault
from ...studies.lesson.class_folder import VARIABLE

PAGES = Path(__file__).parents[3] / "notebooks"
SHORTEST_WORD = 8  # letters; the hub itself refuses fewer
MOST_READERS = 60
FIRST_PAGE = "/doc/tree/notebooks/00_start_here.ipynb"


def hand_out(name: str, folder: Path) -> Path:
    """The folder of a reader, with the pages and a place for his sheets; what he has changed stays.

    name: as he logged in. folder: of the room.
    Returns his folder.
    """
    home = folder / "readers" / name
    for page in sorted(PAGES.rglob("*.ipynb")):
        place = home / "notebooks" / page.relative_to(PAGES)
        if not place.exists():
            place.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(page, place)
    (home / "my").mkdir(parents=True, exist_ok=True)
    return home


def room_settings(word: str, folder: Path, port: int):
    """The hub's settings.

    word: with which everybody logs in, eight letters at least. folder: of the room. port: to listen on.
    Returns traitlets Config.  Raises Fault: a word too short, packages that are missing.
    """
    if len(word) < SHORTEST_WORD:
        raise fault("word", word, f"must have {SHORTEST_WORD} letters at least.")
    missing = [name for name in ("jupyterhub", "configurable_http_proxy") if find_spec(name) is None]
    if missing:
        raise fault("room", ", ".join(missing), "is not installed.", do="pip install -e '.[room]'")
    from traitlets.config import Config

    def before(spawner):
        home = hand_out(spawner.user.name, folder)
        spawner.notebook_dir = str(home)
        spawner.environment = {
            "BENCHCALC_MY": str(home / "my"),
            VARIABLE: str(folder / "class"),
            "OPENBLAS_NUM_THREADS": "1",
        }

    c = Config()
    c.JupyterHub.authenticator_class = "shared-password"
    c.SharedPasswordAuthenticator.user_password = word
    c.Authenticator.allow_all = True
    c.JupyterHub.spawner_class = "simple"
    c.SimpleLocalProcessSpawner.home_dir_template = str(folder / "readers" / "{username}")
    c.Spawner.pre_spawn_hook = before
    c.Spawner.cmd = [sys.executable, "-m", "jupyterhub.singleuser"]
    c.Spawner.args = [
        f"--LabApp.default_url={FIRST_PAGE}",
        *(["--allow-root"] if os.name == "posix" and os.geteuid() == 0 else []),
    ]
    c.Spawner.default_url = FIRST_PAGE
    c.Spawner.start_timeout = 120
    c.ConfigurableHTTPProxy.command = [str(Path(sys.executable).with_name("configurable-http-proxy"))]
    c.JupyterHub.bind_url = f"http://0.0.0.0:{port}"
    c.JupyterHub.db_url = f"sqlite:///{folder / 'room.sqlite'}"
    c.JupyterHub.cookie_secret_file = str(folder / "room_cookie_secret")
    c.ConfigurableHTTPProxy.pid_file = str(folder / "room_proxy.pid")
    c.JupyterHub.active_server_limit = MOST_READERS
    c.JupyterHub.concurrent_spawn_limit = MOST_READERS  # fewer would send some away with "try again"
    return c


def open_room(words=None):
    """The command.  words: arguments, None for those of the command line.  Returns 1 where something is refused."""
    asked = argparse.ArgumentParser(prog="python -m benchcalc.show.lesson.room", description=__doc__)
    asked.add_argument(
        "--word", required=True, help="with which everybody logs in, under any name; eight letters or more"
    )
    asked.add_argument("--folder", type=Path, default=Path("room"), help="of the room (default: room)")
    asked.add_argument("--port", type=int, default=8000, help="to listen on (default: 8000)")
    given = asked.parse_args(words)
    folder = given.folder.resolve()
    try:
        config = room_settings(given.word, folder, given.port)
    except Fault as told:
        print(told, file=sys.stderr)
        return 1
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "class").mkdir(exist_ok=True)
    from jupyterhub.app import JupyterHub

    JupyterHub.instance(config=config)
    JupyterHub.launch_instance([])
    return 0


if __name__ == "__main__":
    raise SystemExit(open_room())

"""Saves that are killed at any moment: `python killed_saves.py FOLDER KILLS SEED` prints what was lost, a line each.

A child saves one version after the other and tells of each when it is done; it is killed by the system while it does.
Whatever was told must still be there: as the sheet itself or, older, among its versions; nothing is empty or half.
"""

import os
import random
import signal
import sys
import time
from pathlib import Path

from benchcalc.sheet import choose, store

LINES = 200


def version(number, size):
    """The text of one version: every line says which one it is, so that a mixture or a piece is found out.

    number: of the version. size: number of lines.
    """
    return f'[sheet]\nname = "{number}"\n' + f"# {number}\n" * size


def saves(path, ways, number, told):
    """Save versions until somebody kills the process.

    path: the sheet's file. ways: what to do, one after the other. number: of the version before. told: file descriptor
    on which every save that is done is told.
    """
    for way in ways:
        number += 1
        if way == "put":
            store.put_file(path, version(number, LINES))
        elif way == "alter":
            store.alter(path, lambda _, n=number: version(n, LINES))
        elif way == "back":
            store.put_file(path, store.look(store.versions_of(path)[-1]).text)
            number -= 1
        else:
            store.put_file(path, version(number, LINES))
            choose.choose(path.stem)
        os.write(told, f"{number}\n".encode())


def lost(path, number):
    """What is wrong with a sheet and its versions after a kill: list of text, and the number of the sheet's version.

    path: the sheet's file. number: of the last version that was told to be saved.
    """
    wrong, whole = [], {}
    for file in [path, *store.versions_of(path), path.with_name(path.name + ".previous")]:
        if not file.exists():
            wrong += [f"{file.name} is gone"] if file == path else []
            continue
        text = file.read_text(encoding="utf-8")
        said = text.split('"')[1] if text.count('"') > 1 else "nothing"
        if not said.isdigit() or text != version(int(said), LINES):
            wrong.append(f"{file} is not whole: {len(text)} characters of version {said}")
            continue
        whole[file] = int(said)
    if whole.get(path, -1) < number:
        wrong.append(f"version {number} was saved, and the sheet holds {whole.get(path)}")
    if number not in whole.values():
        wrong.append(f"version {number} was saved and is nowhere")
    choice = path.with_name("chosen.txt")
    if choice.exists() and choice.read_text(encoding="utf-8").strip() != path.stem:
        wrong.append(f"the choice reads {choice.read_text(encoding='utf-8')!r}")
    return wrong, whole.get(path, number)


def main(folder, kills, seed):
    rng = random.Random(seed)
    path = Path(folder) / "iron.toml"
    store.put_file(path, version(0, LINES))
    number, took_s = 0, 0.02
    for kill in range(kills):
        ours, its = os.pipe()
        ways = [rng.choice(["put", "put", "alter", "choose", "back"]) for _ in range(400)]
        child = os.fork()
        if child == 0:
            try:
                saves(path, ways, number, its)
            finally:
                os._exit(1)
        os.close(its)
        said, begun_s = b"", time.monotonic()
        for _ in range(rng.choice([0, 1, 1, 2])):  # some saves come to their end, and then one does not
            said += os.read(ours, 100)
            begun_s, took_s = time.monotonic(), time.monotonic() - begun_s
        time.sleep(rng.uniform(0.0, 1.2 * took_s))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        with os.fdopen(ours, "rb") as told:
            done = [int(line) for line in (said + told.read()).split()]
        wrong, number = lost(path, max(done, default=number))
        for what in wrong:
            print(f"kill {kill}: {what}")
    print(f"{kills} killed, {number} versions")


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]))

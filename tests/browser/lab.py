"""A real JupyterLab with a real browser: start, open a workbook, run it, watch a live picture and its slider."""

import json
import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from contextlib import contextmanager

from canonical import ROOT, demo_environment

BROWSER_ARGUMENTS = [
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
START_LIMIT_S = 60
RUN_LIMIT_S = 300
CHANGE_LIMIT_S = 60  # only against a picture that never comes
VIEW = {"width": 1280, "height": 900}

# Frame by frame: a hash of the picture's pixels, the text beside it, the height of the whole output.
WATCH = """
output => {
  const say = e => e.tagName === 'STYLE' ? '' : e.innerText;
  const memory = document.createElement('canvas'), pen = memory.getContext('2d', {willReadFrequently: true});
  const watch = window.watch = {frames: [], presses: [], going: true};
  let source = null, pixels = 0;
  const look = () => {
    const picture = output.querySelector('img, canvas');
    if (!picture) return 0;
    if (picture.tagName === 'IMG') {
      if (picture.src === source || !picture.complete || !picture.naturalWidth) return pixels;
      source = picture.src;
    }
    const width = memory.width = picture.naturalWidth || picture.width;
    const height = memory.height = picture.naturalHeight || picture.height;
    pen.drawImage(picture, 0, 0);
    const data = new Uint32Array(pen.getImageData(0, 0, width, height).data.buffer);
    let hash = 2166136261;
    for (let i = 0; i < data.length; i++) hash = Math.imul(hash ^ data[i], 16777619);
    return pixels = hash;
  };
  const text = () => [...output.querySelectorAll('.widget-html, .widget-htmlmath')].map(say).join('|');
  document.addEventListener('keydown', e => watch.presses.push(e.timeStamp), {capture: true});
  const frame = now => {
    if (!watch.going) return;
    watch.frames.push([performance.now(), look(), text(), output.getBoundingClientRect().height]);
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
}
"""


def free_port():
    """A loopback port that nothing uses just now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@contextmanager
def running_lab(folder, home, **settings):
    """JupyterLab serving folder on loopback, with a home of its own; gives (address, path of its log).

    settings: environment variables beyond those of every test.
    """
    port, log = free_port(), home / "server.log"
    environment = {name: value for name, value in os.environ.items() if not name.startswith(("JUPYTER", "MPL"))}
    environment |= demo_environment() | {
        "HOME": str(home),
        "JUPYTER_CONFIG_DIR": str(home / "config"),
        "JUPYTER_DATA_DIR": str(home / "data"),
        "JUPYTER_RUNTIME_DIR": str(home / "runtime"),
        "JUPYTER_PREFER_ENV_PATH": "1",
        # the project's own switches, also where it runs from the checkout without being installed
        "JUPYTER_CONFIG_PATH": str(ROOT / "benchcalc" / "show" / "jupyter"),
        "JUPYTER_PATH": str(ROOT / "benchcalc" / "show" / "lab"),
    }
    environment |= settings
    command = [
        sys.executable,
        "-m",
        "jupyterlab",
        "--no-browser",
        "--allow-root",
        "--ip=127.0.0.1",
        f"--port={port}",
        "--ServerApp.port_retries=0",
        "--IdentityProvider.token=",
        f"--ServerApp.root_dir={folder}",
        "--LabApp.expose_app_in_browser=True",
    ]
    with log.open("w") as out:
        server = subprocess.Popen(
            command, cwd=folder, env=environment, stdout=out, stderr=subprocess.STDOUT, stdin=subprocess.DEVNULL
        )
    address = f"http://127.0.0.1:{port}"
    try:
        wait_for_answer(address, server, log)
        yield address, log
    finally:
        server.terminate()
        try:
            server.wait(15)
        except subprocess.TimeoutExpired:
            server.kill()
            server.wait()


def wait_for_answer(address, server, log):
    """Return when the server at address answers; server is its process, log the file named when it does not."""
    limit_s = time.monotonic() + START_LIMIT_S
    while time.monotonic() < limit_s and server.poll() is None:
        try:
            urllib.request.urlopen(f"{address}/api/status", timeout=2).read()
            return
        except (urllib.error.URLError, OSError):
            time.sleep(0.1)
    raise RuntimeError("JupyterLab did not start:\n" + log.read_text()[-3000:])


@contextmanager
def opened(browser, address, name):
    """A page with the notebook called name (relative to the served folder), run top to bottom; closes its kernel."""
    with unrun(browser, address, name) as page:
        run_all(page)
        yield page


def run_all(page):
    """Run all cells of a page as its menu does, and wait until all have run."""
    page.evaluate(
        "() => { window.ran = null;"
        " jupyterapp.commands.execute('notebook:run-all-cells').then(x => { window.ran = [x]; }) }"
    )
    page.wait_for_function(
        "() => window.ran && jupyterapp.shell.currentWidget.sessionContext.session.kernel.status === 'idle'",
        timeout=RUN_LIMIT_S * 1000,
    )


@contextmanager
def unrun(browser, address, name):
    """A page with the notebook called name, none of its cells run yet; closes its kernel."""
    context = browser.contexts[0] if browser.contexts else browser.new_context(viewport=VIEW)
    page = context.new_page()  # one context: what the first page has fetched, the next ones find in its store
    try:
        page.goto(f"{address}/doc/tree/{name}")
        page.wait_for_selector(".jp-Notebook .jp-Cell", timeout=START_LIMIT_S * 1000)
        page.wait_for_function(
            "() => window.jupyterapp?.shell.currentWidget?.sessionContext?.session?.kernel?.status === 'idle'",
            timeout=START_LIMIT_S * 1000,
        )
        yield page
    finally:
        try:
            page.evaluate("() => window.jupyterapp?.shell.currentWidget?.sessionContext?.shutdown()")
        finally:
            page.close()


def stored_in(page):
    """The notebook as it stands in the page, outputs included."""
    return json.loads(page.evaluate("() => JSON.stringify(jupyterapp.shell.currentWidget.context.model.toJSON())"))


def live_outputs(page):
    """Handles of the outputs that hold at least one slider, top to bottom."""
    return [
        handle
        for handle in page.query_selector_all(".jp-OutputArea-output")
        if handle.query_selector('[role="slider"]')
    ]


def start_watching(page, output):
    """Note every frame of the output (a handle) and every key press until stop_watching(page)."""
    output.evaluate("(output) => (" + WATCH + ")(output)")


def state_of(page):
    """The latest frame watched in page: (time in ms, picture's hash, text, height)."""
    page.wait_for_function("() => window.watch.frames.length > 0")
    return page.evaluate("() => window.watch.frames.at(-1)")


def wait_for_change(page, column, before, working):
    """Return when what is watched in page has changed and come to rest.

    The frames' column (1 picture, 2 text) differs from before, the text does not hold the word working, and the
    picture stands for a few frames: it may come a frame after its text.
    """
    page.wait_for_function(
        """([column, before, working]) => {
          const last = window.watch.frames.slice(-5);
          return last.length === 5
            && last.every(f => f[column] !== before && f[1] === last[0][1] && !f[2].includes(working));
        }""",
        arg=[column, before, working],
        timeout=CHANGE_LIMIT_S * 1000,
    )


def both_change(page, before, limit_s):
    """True when frames after before (a frame) have shown another picture and another text; False after limit_s."""
    from playwright.sync_api import TimeoutError

    try:
        page.wait_for_function(
            """([at, picture, text]) => {
              const since = window.watch.frames.filter(f => f[0] > at);
              return since.some(f => f[1] !== picture) && since.some(f => f[2] !== text);
            }""",
            arg=before[:3],
            timeout=limit_s * 1000,
        )
        return True
    except TimeoutError:
        return False


def stop_watching(page):
    """(frames, key presses) noted since start_watching(page, ...)."""
    return page.evaluate("() => { watch.going = false; return [watch.frames, watch.presses] }")


def waits_ms(frames, presses, column):
    """For each key press the time to the first frame whose column differs from the last frame before the press.

    frames: rows (time in ms, picture, text, height); presses: times in ms; column: 1 picture, 2 text.
    Returns the waits in ms; a press after which nothing changed before the next one gives None.
    """
    waits = []
    for press, after in zip(presses, presses[1:] + [float("inf")]):
        before = [frame for frame in frames if frame[0] <= press]
        changed = [
            frame[0] for frame in frames if press < frame[0] <= after and before and frame[column] != before[-1][column]
        ]
        waits.append(changed[0] - press if changed else None)
    return waits


def changes(frames, presses, column):
    """For each key press what came after it in this column, one entry for each change, until the next press."""
    found = []
    for press, after in zip(presses, presses[1:] + [float("inf")]):
        last = [frame[column] for frame in frames if frame[0] <= press][-1]
        found.append([])
        for frame in frames:
            if press < frame[0] <= after and frame[column] != last:
                last = frame[column]
                found[-1].append(last)
    return found

"""HTML to PDF by a browser that is already on the machine; without one the HTML prints itself from any browser."""

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

from ...basics.fault import fault

BROWSERS = ("chromium", "chromium-browser")  # open-source builds; another one by the variable below
VARIABLE = "BENCHCALC_CHROMIUM"
LIMIT_S = 120


def browser():
    """Path of a browser that prints without a window, or None."""
    named = os.environ.get(VARIABLE)
    found = [shutil.which(name) for name in ((named,) if named else BROWSERS)]
    return next((path for path in found if path), None)


def to_pdf(page: Path, pdf: Path) -> Path:
    """Print an HTML file to PDF.

    page: of the HTML. pdf: to write.
    Returns pdf.  Raises Fault: no browser here, or it wrote nothing.
    """
    tool = browser()
    if tool is None:
        do = f"Open {page.name} in any browser and print it, or name a browser in {VARIABLE}."
        raise fault("PDF", "", "needs Chromium, which is not on this machine.", "", do)
    with tempfile.TemporaryDirectory() as own:
        new = Path(own) / "page.pdf"
        ask = [tool, "--headless", "--disable-gpu", "--no-pdf-header-footer", f"--user-data-dir={own}/profile"]
        ask += ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
        done = subprocess.run(
            [*ask, f"--print-to-pdf={new}", page.resolve().as_uri()], capture_output=True, text=True, timeout=LIMIT_S
        )
        if not new.is_file() or not new.stat().st_size:
            raise fault("PDF", str(page), "was not written by the browser.", (done.stderr or "").strip()[-300:])
        shutil.copyfile(new, pdf)
    return pdf

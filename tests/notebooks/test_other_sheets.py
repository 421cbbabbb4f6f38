"""Every page runs on other sheets than the one it was saved with: the other demos, and half-filled ones."""

import os

import nbformat
import pytest
from canonical import ROOT, demo_environment
from nbclient import NotebookClient

PAGES = sorted((ROOT / "notebooks").glob("[0-9]*.ipynb"))
SHEETS = {
    "demo wax_pot": None, "demo foam_bow": None, "demo foil_iron": None,
    "only a name": '[sheet]\nname = "empty"\n',
    "no-load reading alone": '[sheet]\nname = "a"\n[supply]\nkind = "transformer"\n[[supply.reading]]\nvolts = 15\namps = 0\n',
    "one loaded reading and a wire": '[sheet]\nname = "b"\n[supply]\nkind = "transformer"\n[[supply.reading]]\nvolts = 12\n'
                                     'amps = 2\n[[wire]]\nid = "w"\nalloy = "fecral"\ngauge = "30 AWG"\n[want]\npower = "15 W"\n',
    "bench supply, measured wire of unknown alloy": '[sheet]\nname = "c"\n[supply]\nkind = "bench supply"\nopen = "12 V"\n'
                                                    'limit = "2 A"\n[supply.cable]\nlength = "2 m"\nsection = "0.5 mm2"\n[[wire]]\nid = "w"\nmeasured_ohm = 8.0\n'
                                                    'measured_length = "1 m"\n[coil]\nwire = "w"\nlength = "50 cm"\n',
    "a faulty sheet": '[sheet]\nname = "f"\n[supply]\nkind = "transfromer"\n',
    "far too much power, no length": '[sheet]\nname = "p"\n[supply]\nkind = "transformer"\n[[supply.reading]]\nvolts = 14.1\n'
                                     'amps = 0\n[[supply.reading]]\nvolts = 12.6\namps = 1.9\n[[wire]]\nid = "w"\n'
                                     'alloy = "fecral"\ngauge = "30 SWG"\n[coil]\nwire = "w"\n[want]\npower = "500 W"\n',
    "two readings, 80 V": '[sheet]\nname = "d"\n[supply]\nkind = "transformer"\n[[supply.reading]]\nvolts = 80\namps = 0\n'
                          '[[supply.reading]]\nvolts = 70\namps = 1\n[[wire]]\nid = "w"\nalloy = "nicr-80-20"\n'
                          'diameter = "0.3 mm"\n[coil]\nwire = "w"\nlength = "1 m"\n[want]\npower = "20 W"\n',
}


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.stem)
def test_page_runs(page, sheet, tmp_path, monkeypatch):
    if SHEETS[sheet] is None:
        chosen = sheet.removeprefix("demo ")
    else:
        chosen = tmp_path / "own.toml"
        chosen.write_text(SHEETS[sheet], encoding="utf-8")
    for name, value in (demo_environment() | {"BENCHCALC_SHEET": str(chosen), "BENCHCALC_MY": str(tmp_path)}).items():
        monkeypatch.setenv(name, value)
    book = nbformat.read(page, as_version=4)
    NotebookClient(book, timeout=120, store_widget_state=False, env=dict(os.environ),
                   resources={"metadata": {"path": str(page.parent)}}).execute()
    outputs = [o for c in book.cells if c.cell_type == "code" for o in c.outputs]
    assert outputs and not any(o.output_type == "error" for o in outputs)

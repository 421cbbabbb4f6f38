"""The comparison of stored outputs has teeth: a changed number fails, with this project's own settings."""

import json
import re
import subprocess
import sys

import canonical
import pytest

LIMIT_S = 120


def run_pytest(path):
    """pytest on one notebook, configured as for the project's own."""
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-c", str(canonical.ROOT / "pyproject.toml"), "--color=no", str(path)],
        cwd=canonical.ROOT,
        capture_output=True,
        text=True,
        timeout=LIMIT_S,
        stdin=subprocess.DEVNULL,
    )


def write(path, notebook):
    path.write_text(json.dumps(notebook), encoding="utf-8")
    return path


def tiny_notebook(printed):
    cell = {
        "cell_type": "code",
        "id": "only",
        "metadata": {},
        "execution_count": 1,
        "source": 'print(f"cold resistance {1.09e-6 * 0.733 / 6.158e-8:.3f} ohm")',
        "outputs": [{"output_type": "stream", "name": "stdout", "text": printed}],
    }
    return {"cells": [cell], "metadata": {"kernelspec": canonical.KERNELSPEC}, "nbformat": 4, "nbformat_minor": 5}


def with_one_digit_changed(text):
    """text with the last digit of its first number of three or more digits raised by one, or None."""
    number = re.search(r"\d+\.\d{2,}|\d{3,}", text)
    if number is None:
        return None
    end = number.end() - 1
    return text[:end] + str((int(text[end]) + 1) % 10) + text[end + 1 :]


def change_one_number(notebook):
    """Change one digit in the last comparable output of the notebook; the cell's place among code cells."""
    cells = [cell for cell in notebook["cells"] if cell["cell_type"] == "code"]
    for place in reversed(range(len(cells))):
        if "nbval-ignore-output" in cells[place]["metadata"].get("tags", []):
            continue
        for output in cells[place]["outputs"]:
            holder = output if output["output_type"] == "stream" else output.get("data", {})
            for kind in ("text", "text/markdown", "text/html", "text/plain", "text/latex"):
                if changed := with_one_digit_changed("".join(holder.get(kind, ""))):
                    holder[kind] = changed
                    return place
    raise AssertionError("no number to change: the workbook prints none")


def test_an_unchanged_notebook_passes(tmp_path):
    result = run_pytest(write(tmp_path / "tiny.ipynb", tiny_notebook("cold resistance 12.975 ohm\n")))
    assert result.returncode == 0 and "1 passed" in result.stdout, result.stdout + result.stderr


def test_a_changed_printed_number_fails(tmp_path):
    result = run_pytest(write(tmp_path / "tiny.ipynb", tiny_notebook("cold resistance 12.976 ohm\n")))
    assert result.returncode == 1 and "1 failed" in result.stdout, result.stdout + result.stderr


def test_a_changed_number_in_a_real_workbook_fails(tmp_path):
    path = canonical.ROOT / "notebooks" / "02_wire_sizing.ipynb"
    if not path.exists():
        pytest.fail("notebooks/02_wire_sizing.ipynb is missing")
    notebook = json.loads(path.read_text(encoding="utf-8"))
    place = change_one_number(notebook)
    for other in path.parent.glob("[0-9][0-9]_*.ipynb"):  # pages lead to one another by what stands beside them
        (tmp_path / other.name).touch()
    result = run_pytest(write(tmp_path / path.name, notebook))
    failed = re.findall(r"^FAILED .*::Cell (\d+)", result.stdout, flags=re.M)
    assert result.returncode == 1 and failed == [str(place)], result.stdout[-3000:] + result.stderr


@pytest.mark.parametrize("name, sentence", [(canonical.DEMO, False), ("my_own_iron", True), ("insert_press_2", True)])
def test_outputs_of_another_sheet_stop_the_run_with_one_sentence(tmp_path, name, sentence):
    path = write(tmp_path / "page.ipynb", tiny_notebook(f"Sheet: {name} (an invented build)\n"))
    found = canonical.foreign_sheet(path)
    assert bool(found) == sentence
    if sentence:
        assert name in found and "python tests/canonical.py" in found and "\n" not in found

"""The word handle on any part of a demo: the heat link answers, whatever the part is made of."""

import re
from pathlib import Path

import pytest

import benchcalc as bc

DEMOS = ("insert_press", "foil_iron", "wax_pot")


@pytest.mark.parametrize("demo", DEMOS)
def test_the_role_handle_on_every_part(demo):
    text = (Path(__file__).parents[2] / "data" / "builds" / f"{demo}.toml").read_text(encoding="utf-8")
    roles = list(re.finditer(r"^role *=.*$", text, flags=re.M))
    assert len(roles) > 1
    for found in roles:
        build = bc.read(text[: found.start()] + 'role = "handle"' + text[found.end() :])
        assert bc.work_out(build, samples=0).heat is not None

"""Parts by their role, on the demo iron and on parts made by hand."""

from types import SimpleNamespace

from benchcalc.sheet.roles import ids_by_role, part_with_role, parts_with_role


def part(id, role, from_m=0.0):
    return SimpleNamespace(id=id, role=role, from_m=from_m)


PARTS = (part("front", "tip"), part("a", "tube", None), part("b", "tube"), part("grip", "handle"))


def test_the_first_part_of_a_role_counts():
    assert part_with_role(PARTS, "tube").id == "a"
    assert part_with_role(SimpleNamespace(part=PARTS), "tube").id == "a"
    assert part_with_role(PARTS, "tube", placed=True).id == "b"
    assert part_with_role(PARTS, "cup") is None
    assert ids_by_role(PARTS) == {"tip": "front", "tube": "a", "handle": "grip"}


def test_all_parts_of_several_roles_come_in_the_order_of_the_sheet():
    assert [p.id for p in parts_with_role(PARTS, "handle", "tube")] == ["a", "b", "grip"]
    assert parts_with_role(PARTS, "work") == ()

"""Which part plays which role in the tool: tip, tube, handle, work."""


def parts_with_role(build, *roles):
    """The parts that play one of some roles.

    build: Build, or the parts (or pieces of a heat model's tool) themselves. roles: such as "tube", "handle".
    Returns tuple of parts, in the order of the sheet.
    """
    return tuple(p for p in getattr(build, "part", build) if p.role in roles)


def part_with_role(build, *roles, placed=False):
    """The first part that plays one of some roles.

    build: Build, or the parts (or pieces of a heat model's tool) themselves. roles: such as "tube", "handle".
    placed: only a part whose beginning on the axis is known.
    Returns the part, or None where none plays it.
    """
    found = parts_with_role(build, *roles)
    return next((p for p in found if not placed or p.from_m is not None), None)


def ids_by_role(build):
    """Which part plays each role; the first one where several do.

    build: Build, or the parts (or pieces of a heat model's tool) themselves.
    Returns dict: role -> part's id.
    """
    return {p.role: p.id for p in reversed(getattr(build, "part", build))}

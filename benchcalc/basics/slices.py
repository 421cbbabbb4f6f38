"""Long work in slices: a generator that pauses now and then, so that whoever drives it can tell how far it is, answer
someone in between, or let it go."""


def finished(work, tell=None):
    """What a piece of work comes to, all its slices done one after another.

    work: generator that yields between its slices and returns what it comes to. tell: function that is called with all
    that each slice yields, or None.
    """
    while True:
        try:
            told = next(work)
        except StopIteration as end:
            return end.value
        if tell is not None:
            tell(*told)


def told_as(what, work):
    """Work in slices, each told as one thing.

    what: that is yielded after each slice. work: generator.
    Yields what; returns what the work comes to.
    """
    while True:
        try:
            next(work)
        except StopIteration as end:
            return end.value
        yield what

"""A cell that runs before the cells it rests on says so in a sentence, where Python shows a traceback."""

from ...basics.escape import plain_text
from .words import Words


def order_words(name):
    """What to do about a name that no cell has made yet.

    name: as the cell spells it.
    Returns Words.
    """
    return Words(
        f"**This cell came too early:** it needs {plain_text(name)}, which a cell further up makes. Click here, choose "
        "**Run**, then **Run All Above Selected Cell**, and run this cell again. In a cell of your own it may also be "
        "a slip of the pen."
    )


def tell_order():
    """From now on cells that come too early say so.  Nothing happens outside of a notebook.

    Returns None.  Any other error, and a missing name deeper down than the cell itself, is shown as always.
    """
    try:
        from IPython import get_ipython
        from IPython.display import display
    except ImportError:
        return
    shell = get_ipython()
    if shell is None:
        return

    def tell(shell, kind, value, trace, tb_offset=None):
        frame, behind = trace, trace.tb_next
        while behind is not None:
            frame, behind = behind, behind.tb_next
        if frame.tb_frame.f_globals is shell.user_ns and getattr(value, "name", None):
            display(order_words(value.name))
        else:
            shell.showtraceback((kind, value, trace), tb_offset=tb_offset)

    shell.set_custom_exc((NameError,), tell)

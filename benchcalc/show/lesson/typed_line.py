"""A line to type into, with words before it: nothing happens before it is left."""

import ipywidgets as widgets


def typed_line(words: str, hint: str, wide_px: int, words_px: int) -> widgets.Text:
    """A text box.

    words: before it. hint: shown while it is empty. wide_px, words_px: width of all, and of the words.
    Returns a widget.
    """
    return widgets.Text(
        description=words,
        placeholder=hint,
        continuous_update=False,
        layout={"width": f"{wide_px}px"},
        style={"description_width": f"{words_px}px"},
    )

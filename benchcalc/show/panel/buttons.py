"""Buttons of a panel."""

import ipywidgets as widgets


def row(acts):
    """Buttons in a row.  acts: dict of words -> function."""
    made = [widgets.Button(description=words, layout={"width": "auto", "flex": "0 0 auto"}) for words in acts]
    for button, act in zip(made, acts.values()):
        button.on_click(lambda _, act=act: act())
    return widgets.HBox(made)

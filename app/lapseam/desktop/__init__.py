"""The windows: what is on the screen, and what a person asks for with it.

Answers: "what do I see, and what can I do next?" Screens are a pure state (`screens/<name>/state.py`, no Qt) and a thin
view. May import: workflow and everything below it, PySide6. No rule about photos or cars lives here, and nothing here
writes: a view says what the person wants by a signal, and a workflow verb does it.
"""

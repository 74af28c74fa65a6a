"""Who is at the desk: chosen once from the house's people, remembered on this machine, changed by one action."""

from __future__ import annotations

import getpass

from PySide6.QtCore import QObject, QSettings, Signal

from lapseam.domain.car import House

from .widgets.bay_button import BayButton
from .widgets.choices import Choices
from .window import MainWindow
from .words import _

_KEY = "person"


class PersonChoice(QObject):
    """The name under which things are said.

    Signals:
        changed(name): somebody else is at the desk now.
    """

    changed = Signal(str)

    def __init__(self, window: MainWindow, house: House, settings: QSettings) -> None:
        super().__init__(window)
        self._house = house
        self._settings = settings
        self._choices = Choices(window)
        self._choices.chosen.connect(lambda _subject, name: self.take(name))
        self.button = BayButton(self.name, drawing="word")
        self.button.setProperty("part", "quiet")
        self.button.clicked.connect(self.ask)
        window.add_to_head(self.button)
        window.actions.add("person", _("Change who is at the desk"), self.ask, key="Ctrl+U", drawing="word")
        self._say()

    @property
    def name(self) -> str:
        """Who is at the desk; before anybody said so, the login name."""
        return str(self._settings.value(_KEY, "") or _login_name())

    def use_house(self, house: House) -> None:
        """Offer the people of these settings from now on."""
        self._house = house

    def ask(self) -> None:
        """Ask who is at the desk."""
        people = [(person.name, f"{person.name} · {', '.join(person.roles)}") for person in self._house.people]
        login = _login_name()
        if login not in [name for name, _words in people]:
            people.append((login, _("{name} · as logged in").format(name=login)))
        about = _("Every step in the record carries this name.")
        self._choices.ask("person", _("Who is at the desk?"), about, tuple(people))

    def take(self, name: str) -> None:
        """Remember who is at the desk."""
        self._settings.setValue(_KEY, name)
        self._say()
        self.changed.emit(name)

    def _say(self) -> None:
        self.button.setText(self.name)
        self.button.setAccessibleName(_("At the desk: {name}").format(name=self.name))
        self.button.setToolTip(_("At the desk: {name}. Press to change.").format(name=self.name))


def _login_name() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return _("somebody")

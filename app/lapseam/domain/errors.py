"""Errors that are written for people. This module imports nothing.

A `UserError` says what happened, what it means, and what to do next; a front shows the parts and adds nothing.
Every other exception is a bug of ours and is shown as one.
"""


class UserError(Exception):
    """Something a person can understand and act on.

    Args:
        problem: what happened, one sentence with the name of the thing.
        effect: what it means for the work ("31 of 48 photos are safe.").
        next_step: what to do now; never empty in what is raised (a test walks all subclasses' default).
        detail: for whoever looks deeper: a path, a number, another library's words.
    """

    ref = "unexpected"
    default_next_step = "Look at the message, put it right and try again."

    def __init__(self, problem: str, *, effect: str = "", next_step: str = "", detail: str = "") -> None:
        super().__init__(problem)
        self.problem = problem
        self.effect = effect
        self.next_step = next_step or self.default_next_step
        self.detail = detail

    def __str__(self) -> str:
        return " ".join(part for part in (self.problem, self.effect, self.next_step) if part)


class Mistake(UserError):
    """What was asked cannot be done as asked: a wrong word, a missing name, a value that does not fit."""

    ref = "mistake"
    default_next_step = "Look at the command's --help and ask again."


class NotFound(Mistake):
    """The named car, photo, shot, edition or file is not there."""

    ref = "not-found"
    default_next_step = "Check the spelling; the list of names is one command away."


class PlanBroken(UserError):
    """A shot plan or vocabulary file does not load. `problems` holds every line, worded and placed."""

    ref = "plan-broken"
    default_next_step = "Mend the lines named and check again with: lapseam plan-check FILE"

    def __init__(self, problem: str, *, problems: tuple[str, ...] = (), **parts: str) -> None:
        super().__init__(problem, **parts)
        self.problems = problems


class NotesBroken(PlanBroken):
    """A notes file does not load or names what is not there."""

    ref = "notes-broken"
    default_next_step = "Mend the lines named and read the notes again; nothing was taken over from this file."


class SettingsBroken(PlanBroken):
    """The house's settings file does not hold. `problems` names every line."""

    ref = "settings-broken"
    default_next_step = "Mend the lines named in settings.yaml; until then nothing in the workspace was changed."


class LanguageBroken(PlanBroken):
    """A message catalogue does not hold, or no such language is known. `problems` names every text."""

    ref = "language-broken"
    default_next_step = "Mend the texts named, or choose another language in settings.yaml; nothing was published."


class TemplateBroken(PlanBroken):
    """A template of the house's own does not hold. `problems` names its file and line."""

    ref = "template-broken"
    default_next_step = "Mend the line named, or take the template away: the shipped one stands in for it."


class WorkspaceBusy(UserError):
    """Another lapseam has this workspace open."""

    ref = "workspace-busy"
    default_next_step = "Close the other one, or wait until it has finished."


class WorkspaceNewer(UserError):
    """The workspace was made by a newer lapseam; it is left untouched."""

    ref = "workspace-newer"
    default_next_step = "Update this lapseam, or open another workspace."


class WorkspaceBroken(UserError):
    """The workspace cannot be read."""

    ref = "workspace-broken"
    default_next_step = "Run: lapseam rebuild"


class CutShort(UserError):
    """Long work could not go on. `results` holds what each file begun came to, so that nothing done is forgotten."""

    ref = "cut-short"
    default_next_step = "Put right what is named and start it again; what is done is not done twice."

    def __init__(self, problem: str, *, results: tuple[object, ...] = (), **parts: str) -> None:
        super().__init__(problem, **parts)
        self.results = results


class CardGone(CutShort):
    """The folder or card went away while photos were coming in."""

    ref = "card-gone"
    default_next_step = "Put it back and take it in again; what is safe is not copied twice."


class DiskFull(CutShort):
    """There was no room left to write."""

    ref = "disk-full"
    default_next_step = "Make room on the disk and do it again; what is safe is not copied twice."


class NoRights(UserError):
    """The operating system refused to read or write."""

    ref = "no-rights"
    default_next_step = "Change the rights of the folder or choose another one."


class PublishFailed(UserError):
    """An edition could not be built; the last one stands as it was."""

    ref = "publish-failed"
    default_next_step = "Put right what is named and publish again."


class NotAllowed(UserError):
    """The person's roles, or a sign-off rule, do not let this happen."""

    ref = "not-allowed"
    default_next_step = "Ask someone who holds the role named."


class KeyRefused(UserError):
    """A person's key cannot sign: it is lost, retired, damaged, somebody else's, or there is none."""

    ref = "key-refused"
    default_next_step = "See which keys the house has with: lapseam key list"


class WrongPassphrase(KeyRefused):
    """The passphrase does not open the key."""

    ref = "wrong-passphrase"
    default_next_step = "Type it again; mind capitals and the keyboard's language. Nobody can recover a passphrase."


class NothingToUndo(UserError):
    """The journal has no step to undo or to redo."""

    ref = "nothing-to-undo"
    default_next_step = "Look at the journal with: lapseam log STOCK"


class MissingExtra(UserError):
    """An optional part of the program is not installed."""

    ref = "missing-extra"
    default_next_step = "Install the extra named."


class Cancelled(Exception):
    """The person stopped the work. No message: they know."""

"""The verb listing: the text to paste, with what may not be said in it, for any outlet or none."""

from __future__ import annotations

import argparse
from pathlib import Path

from lapseam.domain.claims import Judged
from lapseam.domain.errors import Mistake, NotAllowed
from lapseam.domain.selection import TextForm
from lapseam.workflow.listing import ListingMade

from .cars import stock
from .verb import Ask, Verb


def _arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("--form", choices=[one.value for one in TextForm], help="how it is written (else plain)")
    parser.add_argument("--outlet", metavar="NAME", help="within the limits of an outlet of outlets.yaml, in its form")
    parser.add_argument("--out", metavar="FILE", help="write the text there")


def _listing(ask: Ask) -> int:
    args = ask.args
    if args.outlet and args.form:
        raise Mistake("An outlet has a form of its own.", next_step="Leave --form out, or change it in outlets.yaml.")
    if args.outlet:
        made = ask.desk.outlet(stock=args.stock, name=args.outlet).result().listing
    else:
        made = ask.desk.listing(stock=args.stock, form=TextForm(args.form or "plain")).result()
    wrote = ""
    refused: NotAllowed | None = None
    if args.out:
        try:
            ask.desk.save_text(listing=made, out=Path(args.out)).result()
            wrote = args.out
        except NotAllowed as error:
            refused = error
    ask.out.answer(
        {"listing": made, "refused": [verdict(one) for one in made.refused], "out": wrote, "error": str(refused or "")}
    )
    _say(ask, made, wrote)
    if refused is not None:
        ask.out.error(str(refused))
    return 1 if made.refused or made.over or refused is not None else 0


def _say(ask: Ask, made: ListingMade, wrote: str) -> None:
    ask.out.say(f"Title:  {made.title}")
    ask.out.say(f"Teaser: {made.teaser}")
    ask.out.say("")
    if wrote:
        ask.out.say(f"The text is in {wrote}.")
    else:
        for line in made.text.splitlines():
            ask.out.say(line)
    ask.out.say("")
    say_refused(ask, made.refused)
    if made.left_out:
        ask.out.say(f"{len(made.left_out)} sentences were left out for length; the text names what they are about.")
    if made.over:
        ask.out.say(f"It is still {made.over} characters too long, and nothing in it may be left out.")
    if not made.signed:
        ask.out.say("UNSIGNED: this car goes to no outlet until a manager has signed it.")


def say_refused(ask: Ask, refused: tuple[Judged, ...]) -> None:
    """Print sentences that may not be printed, with why and the wording that is allowed instead."""
    if refused:
        ask.out.say("May not be printed on the evidence that is on file:")
    for sentence in refused:
        ask.out.say(f"  {sentence.text}")
        for one in sentence.objections:
            ask.out.say(f"    {one.why}")
            if one.say_instead:
                ask.out.say(f"    Say instead: {one.instead}")


def verdict(sentence: Judged) -> dict[str, object]:
    """A refused sentence for programs."""
    return {
        "sentence": sentence.text,
        "verdict": sentence.verdict.value,
        "objections": [
            {"rule": one.rule, "why": one.why, "needs": list(one.needs), "say_instead": one.say_instead}
            for one in sentence.objections
        ],
    }


VERBS: tuple[Verb, ...] = (
    Verb(
        "listing",
        "write the listing's text from the record: plain, Markdown or HTML, every claim through the guard",
        _arguments,
        _listing,
        "Title, teaser and text from the record by the templates in templates/listing (a house's own stand in its "
        "workspace). With --outlet cut to its limit by whole sentences: what is found and what is not known stays "
        "before what pleases. Exit code 1 if a sentence may not be printed; then nothing is written.",
        by_somebody=False,
    ),
)

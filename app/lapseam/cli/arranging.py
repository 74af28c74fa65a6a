"""Verbs about the next edition while it is made: caption, arrange."""

from __future__ import annotations

import argparse
from typing import Any

from lapseam.domain.errors import Mistake

from .cars import stock
from .verb import Ask, Verb


def _caption_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("photo", metavar="PHOTO", help="the photo, by name as found or digest")
    parser.add_argument("words", metavar="WORDS", nargs="?", default="", help="without them, the shot's title again")


def _caption(ask: Ask) -> int:
    args = ask.args
    done = ask.desk.caption(stock=args.stock, photo=args.photo, words=args.words, by=ask.by).result()
    ask.out.answer({"words": done.words})
    ask.out.say(done.words)
    return 0


def _arrange_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("--group", metavar="ID", default="", help="the gallery group that is meant")
    change = parser.add_mutually_exclusive_group()
    change.add_argument("--order", metavar="PHOTO", nargs="+", help="photos of the group in the order wanted")
    change.add_argument("--usual", action="store_true", help="give the group its usual order back")
    change.add_argument("--move", nargs=2, metavar=("PHOTO", "N"), help="move a photo N places on (below 0: back)")


def _arrange(ask: Ask) -> int:
    args = ask.args
    if args.move:
        photo, steps = args.move
        coming = ask.desk.move(stock=args.stock, photo=photo, steps=_whole(steps), by=ask.by)
    elif args.order or args.usual:
        if not args.group:
            raise Mistake("An order needs its group.", next_step=f"See the groups with: lapseam arrange {args.stock}")
        coming = ask.desk.arrange(stock=args.stock, group=args.group, photos=args.order or (), by=ask.by)
    else:
        return _order(ask)
    done = coming.result()
    ask.out.answer({"words": done.words})
    ask.out.say(done.words)
    return 0


def _whole(said: str) -> int:
    try:
        return int(said)
    except ValueError:
        raise Mistake(f"{said!r} is no number of places.", next_step="Say a whole number, such as 1 or -2.") from None


def _order(ask: Ask) -> int:
    made = ask.desk.next_edition(stock=ask.args.stock).result()
    car, told = made.review.car, []
    for chapter in made.edition.gallery.chapters:
        rows: list[dict[str, Any]] = []
        for shown in chapter.pictures:
            photo = car.photo(shown.sha256)
            rows.append({"number": shown.number, "photo": photo.name if photo else "", "caption": shown.caption})
        own = chapter.id in car.arranged
        told.append({"group": chapter.id, "name": chapter.name, "own_order": own, "pictures": rows})
        if rows:
            ask.out.say(f"{chapter.name} ({chapter.id}){', in an order of your own' if own else ''}:")
            ask.out.table([(f"{row['number']:>4}", row["photo"], row["caption"]) for row in rows])
    ask.out.answer(told)
    if not any(one["pictures"] for one in told):
        ask.out.say("Nothing would be shown yet: put photos on their shots first.")
    return 0


VERBS: tuple[Verb, ...] = (
    Verb("caption", "say what a photo shows, in place of its shot's title", _caption_arguments, _caption,
         "The words are judged by the claims guard; findings stay told as the record has them."),
    Verb("arrange", "list the gallery's order, or order the photos of one group", _arrange_arguments, _arrange,
         "The lead and the flaws follow from the record; choose the lead with: lapseam lead."),
)  # fmt: skip

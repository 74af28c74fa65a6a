"""What coverage says of shots, parts, rust-prone places and gaps, in one table; `phrases` takes it in and says it."""

from __future__ import annotations

from typing import Final

COVERAGE_WORDS: Final[dict[str, str]] = {
    # what is missing on a shot
    "lacks.coated": "metal under coating",
    "lacks.sharpness": "sharpness",
    "lacks.light": "light",
    "lacks.context": "the context frame",
    "lacks.proof": "the proof frame",
    "lacks.frames": "a frame: {here} of {n}|a frame: {here} of {n}",
    "lacks.clips": "a clip: {here} of {n}|a clip: {here} of {n}",
    # where a shot, a part or a place stands, one sentence each
    "stands.wanted-hangs": "Whether it is wanted hangs on: {facts}.",
    "stands.has-hangs": "Whether the car has it hangs on: {facts}.",
    "stands.shots-hang": "Its shots hang on: {facts}.",
    "stands.no-frame": "No frame is there.",
    "stands.no-frame-of-it": "No frame of it is there.",
    "stands.no-shot": "No shot of this plan shows it.",
    "stands.not-ticked": "{n} frame is there; nobody has ticked what can be seen.|"
    "{n} frames are there; nobody has ticked what can be seen.",
    "stands.none-ticked": "Frames are there; nobody has ticked what can be seen.",
    "stands.missing": "Still missing: {missing}.",
    "stands.ticked": "Every must-see item was ticked by a person.",
    "stands.proven": "Context and proof frame are there and ticked.",
    "stands.without": "Shown, but without {lacking}.",
    "stands.not-fitted": "Not fitted, says {by}.",
    "stands.not-fitted.note": "Not fitted, says {by} ({note}).",
    "stands.not-reachable": "Not reachable: {why}, says {by}.",
    "stands.not-reachable.note": "Not reachable: {why}, says {by} ({note}).",
    "stands.all-the-same": "{n} frame is there all the same.|{n} frames are there all the same.",
    "stands.findings": "Findings: {numbers}.",
    "stands.nothing-else": "{by} saw nothing else to report.",
    "stands.nothing": "{by} looked and saw nothing to report.",
    "stands.nobody-said": "Nobody has said what is there.",
    # gaps
    "gap.let-stand": "{words} Let stand: {waived}.",
    "gap.missed": "{title}: not photographed yet; it wants {wanted} ({setup}).",
    "gap.partly": "{title}: still missing {missing} ({setup}).",
    "gap.taken": "{title}: {n} frame taken; look and tick what can be seen.|"
    "{title}: {n} frames taken; look and tick what can be seen.",
    "gap.decide": "{title}: answer {facts} first, then it is known whether this shot is wanted.",
    "gap.both-frames": "a context frame and a proof frame",
    "gap.frame": "a frame",
    "gap.clip": "a clip",
    "gap.frames": "{n} frame|{n} frames",
    "gap.clips": "{n} clip|{n} clips",
    "gap.place": "{place}: no full proof of this rust-prone place. {reason}",
}

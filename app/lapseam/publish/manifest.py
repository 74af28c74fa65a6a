"""The edition's own list, `edition.json`, and the JSON that goes beside the pages.

It names every picture by the original's SHA-256 and by its files', the record and the plan by theirs. Its own SHA-256
is the fingerprint printed on both pages; the bag's manifests then hold everything, pages included.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

from lapseam.domain.edition import Edition
from lapseam.domain.language import speaking
from lapseam.domain.phrases import say

from .views import PictureFile, Pictures, stills

SIGNED = "SIGNED"
UNSIGNED = "UNSIGNED"


def edition_list(
    edition: Edition,
    pictures: Pictures,
    *,
    record: bytes,
    plan: bytes,
    tool_version: str,
    record_sha256: str,
    signer_role: str,
) -> bytes:
    """`edition.json` as bytes. `record_sha256` digests the private record, `record` is the published one."""
    said: dict[str, Any] = {
        "number": edition.number,
        "stock": edition.stock,
        "made_at": edition.made_at,
        "revision": edition.revision,
        "signed": edition.signed,
        "status": SIGNED if edition.signed else UNSIGNED,
        "signed_by_role": (signer_role or "signer") if edition.signed else "",
        "record_sha256": record_sha256,
        "status_words": edition.disclosure.signed_words if edition.signed else edition.gallery.flag,
        "tool": f"lapseam {tool_version}",
        "record": {"path": "record.json", "sha256": hashlib.sha256(record).hexdigest()},
        "plan": {"path": "plan.json", "sha256": hashlib.sha256(plan).hexdigest()},
        "photos": [
            {
                "number": photo.number,
                "original_sha256": photo.sha256,
                "media": photo.media.value,
                "title": photo.title,
                "caption": photo.caption,
                "taken_on": photo.taken_on,
                "files": [_file(file) for file in pictures[photo.sha256]],
            }
            for photo in edition.photos
        ],
    }
    return json_bytes(said)


def json_bytes(data: Mapping[str, Any]) -> bytes:
    """Readable JSON in UTF-8 that ends with a line end; the same data give the same bytes."""
    text = json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False)
    return (text + "\n").encode("utf-8", "backslashreplace")


def linked_data(edition: Edition, pictures: Pictures) -> dict[str, Any]:
    """The page's JSON-LD with its pictures (ImageObject, in gallery order, the lead marked) and where more is said."""
    data = dict(edition.json_ld)
    hero = edition.gallery.hero.sha256 if edition.gallery.hero is not None else ""
    images = []
    for photo in edition.photos:
        largest = stills(pictures[photo.sha256])[-1]
        image: dict[str, Any] = {"@type": "ImageObject", "contentUrl": largest.href, "caption": photo.caption}
        if photo.sha256 == hero:
            image["representativeOfPage"] = True
        images.append(image)
    if images:
        data["image"] = images
    with speaking(edition.language):
        about = say("jsonld.record")
    record = {
        "@type": "CreativeWork",
        "url": "record.json",
        "name": edition.gallery.edition_words,
        "description": about,
    }
    record["encodingFormat"] = "application/json"
    page = {"@type": "CreativeWork", "url": "disclosure.html", "name": edition.disclosure.title}
    data["subjectOf"] = [page, record]
    return data


def _file(file: PictureFile) -> dict[str, Any]:
    return {
        "path": file.href,
        "media_type": file.format.value,
        "width": file.width,
        "height": file.height,
        "octets": file.octets,
        "sha256": file.sha256,
    }

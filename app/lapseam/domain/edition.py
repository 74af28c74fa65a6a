"""The edition: one published version of a car, worked out whole before anything is rendered.

The models stand in `page`; import them from here.
"""

from __future__ import annotations

from .page import (
    Cell,
    Chapter,
    CheckShown,
    Disclosure,
    Edition,
    FindingShown,
    Gallery,
    GapShown,
    Line,
    MarkShown,
    MeasurementShown,
    PartShown,
    PhotoRef,
    PictureShown,
    PublicRecord,
    PublishedPhoto,
    ReadingShown,
    Section,
    Segment,
    SeverityGroup,
    StatementShown,
)

__all__ = [
    "Cell",
    "Chapter",
    "CheckShown",
    "Disclosure",
    "Edition",
    "FindingShown",
    "Gallery",
    "GapShown",
    "Line",
    "MarkShown",
    "MeasurementShown",
    "PartShown",
    "PhotoRef",
    "PictureShown",
    "PublicRecord",
    "PublishedPhoto",
    "ReadingShown",
    "Section",
    "Segment",
    "SeverityGroup",
    "StatementShown",
]

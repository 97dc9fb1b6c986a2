"""What any record may have, what it is called, and pictures of it."""

from __future__ import annotations

from sporeline.contract.fields import Hash, Name, Note, OneOf, Parts, RecordId, Whole, Words
from sporeline.contract.registry import DataSchema, description, fact

SURE = ("certain", "probable", "received", "unknown")
PHOTO = {
    "sha256": Hash("its fingerprint", required=True),
    "bytes": Whole("its size in bytes", 1, 12 * 2**20, required=True),
    "type": OneOf("a picture", ("image/jpeg", "image/png", "image/webp"), required=True),
    "w": Whole("its width", 1, 20_000, required=True),
    "h": Whole("its height", 1, 20_000, required=True),
}


@description("record.described")
class RecordDescribed(DataSchema):
    """What any record may have. `code`: the characters on its label."""

    name = Name("a name")
    same_as = RecordId("the record that this one doubles")
    note = Note("a note")
    code = Name("the code on the label")


@description("name.given")
class NameGiven(DataSchema):
    """Who called it what, and how sure. `other`: the B of “A or B”."""

    taxon = Name("the fern's name", required=True, null=True)
    sure = OneOf("a way of being sure", SURE, required=True)
    qualifier = OneOf("a qualifier", ("cf", "aff", "ex"))
    other = Name("the other name that it may be")
    why = Words("why it was called so")


@fact("photo.taken")
class PhotoTaken(DataSchema):
    """A photo by its hash; the entry is whole without its bytes."""

    photo = Parts("a photo", PHOTO, required=True)
    shows = Words("what it shows")

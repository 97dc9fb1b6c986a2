"""At the bench: mixes, boxes, sowings, growth, cover, troubles, rounds, what is moved on."""

from __future__ import annotations

from sporeline.contract.fields import (
    Day,
    Many,
    Name,
    OneOf,
    Parts,
    RecordId,
    Whole,
    Words,
    YesNo,
)
from sporeline.contract.registry import DataSchema, description, fact

VESSELS = ("box", "pot", "tub", "jar", "dish", "tray")
WAYS = ("spores", "division", "rhizome", "bulbil", "runner")
FACINGS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
GROWTH = ("nothing", "green_film", "prothalli", "first_fronds", "winter_rest")
COVERS = ("closed", "matchstick", "pencil", "third", "half", "off_at_night", "off")
TROUBLES = (
    *("mould", "slime", "moss", "liverwort", "gnats"),
    *("too_wet", "dry", "stray", "flopped"),
)


def keepers() -> Many:
    """Who looks after it, on which days; an open end goes on."""
    parts = {
        "person": RecordId("a person", required=True),
        "from": Day("the first day"),
        "to": Day("the last day"),
    }
    return Many("who keeps it", Parts("a keeper", parts, in_order=("from", "to")), 50)


@description("mix.described")
class MixDescribed(DataSchema):
    """A lot of growing medium."""

    recipe = Words("a recipe")
    heated = Words("how it was heated")


@description("box.described")
class BoxDescribed(DataSchema):
    """A closed container. `plan`: the `plan.set` entry that it follows."""

    vessel = OneOf("a vessel", VESSELS)
    keeper = keepers()
    plan = RecordId("the care plan it follows")


@description("sowing.described")
class SowingDescribed(DataSchema):
    """What was sown where. `together`: two taxa on purpose; `control`: nothing was sown."""

    box = RecordId("the box")
    part = OneOf("a part of the box", "abcdefgh")
    packets = Many("the packets", RecordId("a packet"), 20)
    mix = RecordId("the mix")
    control = YesNo("whether it is a control")
    together = YesNo("whether they are together on purpose")


@description("clump.described")
class ClumpDescribed(DataSchema):
    """What was pricked out into a box or tray."""

    from_ = RecordId("the sowing or clump it came from", data_key="from")
    box = RecordId("the box")


@description("pots.described")
class PotsDescribed(DataSchema):
    """Plants of one origin treated alike."""

    from_ = RecordId("what they came from", data_key="from")
    way = OneOf("a way of increase", WAYS)
    size = Name("the size of the pots")


@description("shelf.described")
class ShelfDescribed(DataSchema):
    """Where boxes stand."""

    stands = OneOf("a kind of stand", ("shelf", "sill"))
    light = OneOf("a light", ("window", "lamps"))
    facing = OneOf("a direction", FACINGS)
    keeper = keepers()


@fact("spores.sown", implies="sowing")
class SporesSown(DataSchema):
    """The sowing day of a sowing."""

    density = OneOf("a density", ("thin", "right", "thick"))


@fact("box.placed", state={"name": "shelf", "field": "shelf"}, implies="box")
class BoxPlaced(DataSchema):
    """Where the box stands from then on."""

    shelf = RecordId("the shelf", required=True)
    place_no = Whole("the place on the shelf", 0, 10_000)


@fact("growth.seen", state={"name": "growth", "field": "growth"})
class GrowthSeen(DataSchema):
    """The furthest growth present at that look."""

    growth = OneOf("a growth", GROWTH, required=True)
    amount = OneOf("an amount", ("few", "some", "many"))


@fact("cover.set", state={"name": "cover", "field": "cover"})
class CoverSet(DataSchema):
    """How open the lid is."""

    cover = OneOf("a cover", COVERS, required=True)


@fact("trouble.begun", state={"name": "trouble", "by": "trouble", "value": True})
class TroubleBegun(DataSchema):
    """A trouble was seen."""

    trouble = OneOf("a trouble", TROUBLES, required=True)


@fact("trouble.ended", state={"name": "trouble", "by": "trouble", "value": False})
class TroubleEnded(DataSchema):
    """It is over."""

    trouble = OneOf("a trouble", TROUBLES, required=True)


@fact("shelf.walked", implies="shelf")
class ShelfWalked(DataSchema):
    """A dated look at every box on the shelf: all as before."""

"""In the field: places, plants, sori, what was cut and what was received."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sporeline.contract.faults import Fault, fault
from sporeline.contract.fields import Many, Name, OneOf, RecordId, Whole, Words, YesNo
from sporeline.contract.registry import DataSchema, description, fact

GROWN = ("wild", "garden", "unknown")
RIPENESS = ("none", "young", "turning", "ripe", "spent", "unseen")
LATITUDE, LONGITUDE = 900_000_000, 1_800_000_000
"""90 and 180 degrees, in 1e-7 degrees."""


def position_is_real(data: Mapping[str, Any], faults: list[Fault]) -> None:
    """0/0 lies in the sea off Africa: it is what a phone says that has no position."""
    if data.get("lat_e7") == 0 and data.get("lon_e7") == 0:
        faults.append(fault("no-such-place", "data.lat_e7"))


@description("place.described")
class PlaceDescribed(DataSchema):
    """A place where plants stand."""

    owner = Words("whose land it is")
    permit = Words("which permit there is")
    allows = Words("what the permit allows")
    grown = OneOf("a way of growing", GROWN)


@description("place.fixed")
class PlaceFixed(DataSchema):
    """Coordinates in 1e-7 degrees. `growers`: kept from those who only watch."""

    lat_e7 = Whole("a latitude", -LATITUDE, LATITUDE, required=True)
    lon_e7 = Whole("a longitude", -LONGITUDE, LONGITUDE, required=True)
    uncertainty_m = Whole("how far it may be off, in metres,", 1, 100_000, required=True)
    datum = OneOf("a datum", ("WGS84",), required=True)
    source = OneOf("a source of positions", ("phone", "map", "typed"))
    audience = OneOf("an audience", ("all", "growers"), required=True)
    rule = staticmethod(position_is_real)


@description("place.told")
class PlaceTold(DataSchema):
    """A position roughly, or in words, for everyone."""

    lat_e7 = Whole("a latitude", -LATITUDE, LATITUDE)
    lon_e7 = Whole("a longitude", -LONGITUDE, LONGITUDE)
    uncertainty_m = Whole("how far it may be off, in metres,", 1, 1_000_000)
    words = Words("where it is")
    rule = staticmethod(position_is_real)


@description("plant.described")
class PlantDescribed(DataSchema):
    """A plant or clump that may be visited again; `colony`: many of them."""

    place = RecordId("the place where it stands")
    colony = YesNo("whether it is a colony")


@description("gathering.described")
class GatheringDescribed(DataSchema):
    """What was cut at one place on one day from one taxon. `number` as written, such as MV 28."""

    number = Name("the collector's number")
    collectors = Many("who collected", Name("a collector"), 50)
    plant = RecordId("the plant it was cut from")
    place = RecordId("the place where it was cut")
    grown = OneOf("a way of growing", GROWN)
    owner = Words("whose land it was")
    permit = Words("which permit there was")
    allows = Words("what the permit allowed")


@description("packet.described")
class PacketDescribed(DataSchema):
    """What spores are kept in; from a gathering, a packet or a plant."""

    from_ = RecordId("where the spores are from", data_key="from")


@fact("sori.seen", state={"name": "ripeness", "field": "ripeness"})
class SoriSeen(DataSchema):
    """How ripe the sori were."""

    ripeness = OneOf("a ripeness", RIPENESS, required=True)
    way = OneOf("a way of looking", ("eye", "lens", "dust"))


@fact("frond.cut", sums={"plants": "plants"}, implies="gathering")
class FrondCut(DataSchema):
    """What was taken, and from how many plants."""

    taken = OneOf("an amount", ("pinna", "part", "frond", "more"), required=True)
    plants = Whole("from how many plants", 1, 10_000)


@fact("packet.received", implies="packet")
class PacketReceived(DataSchema):
    """What came from someone, as they wrote it."""

    from_ = Name("whom it came from", data_key="from")
    as_written = Name("the name as written")
    year = Name("the year on it")
    their_number = Name("their number")
    what = OneOf("a thing to receive", ("spores", "plants", "division"))
    promised = Words("what was promised")

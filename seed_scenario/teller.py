"""Turns the steps of story.json into the entries that a phone would write for them."""

from __future__ import annotations

import datetime as dt
from typing import Any

from . import pictures
from .ids import story_code, story_id
from .phone import Phone

Json = dict[str, Any]


class Teller:
    """Tells the story day by day. `moved` days are added to every date of it."""

    def __init__(self, story: Json, phones: dict[str, Phone], moved: int) -> None:
        self.story, self.phones, self.moved = story, phones, moved
        self.ids: dict[str, str] = {}
        self.step_of: dict[str, Json] = {}
        self.counts: dict[str, int] = {}
        self.boxes_on: dict[str, list[str]] = {}
        self.photos: list[tuple[Phone, Json, bytes]] = []

    def tell(self) -> None:
        """Everything in the order of its days; the two phones meet the server once a month."""
        month = ""
        for step in sorted(self._all_steps(), key=lambda step: str(step["on"])):
            if step["on"][:7] != month and not step.get("apart"):
                self._meet()
                month = step["on"][:7]
            self._take(step)
        self._meet()
        for phone, described, content in self.photos:
            phone.send_photo(described["sha256"], content)

    def people(self) -> None:
        """Each phone says who holds it and when notices may come."""
        day = self._day("2025-05-31")
        for initials, phone in self.phones.items():
            who = self.story["people"][initials]
            phone.write(day, "09:00", "record.described", phone.person, {"name": who["name"]})
            settings = {
                "initials": initials,
                "notice_at": who["notice_at"],
                "zone": self.story["zone"],
                "quiet": {"from": "21:00", "to": "07:00"},
            }
            phone.write(day, "09:00", "person.described", phone.person, settings)

    def _meet(self) -> None:
        for phone in [*self.phones.values(), *self.phones.values()]:
            phone.exchange()

    def _all_steps(self) -> list[Json]:
        return [
            *self.story["steps"],
            *(walk for plan in self.story["rounds"] for walk in _walks(plan)),
        ]

    def _take(self, step: Json) -> None:
        getattr(self, f"_{step['do']}")(self.phones[step["who"]], self._day(step["on"]), step)

    def _day(self, text: str) -> dt.date:
        return dt.date.fromisoformat(text) + dt.timedelta(days=self.moved)

    def _record(self, step: Json, type_: str, name: str | None, **described: object) -> str:
        """A new record: what it is, and its name and code for the label."""
        phone, day = self.phones[step["who"]], self._day(step["on"])
        ms = int(dt.datetime.combine(day, dt.time(), dt.UTC).timestamp() * 1000)
        key = f"{type_} {step['key']}"
        record = story_id(ms, key)
        self.ids[key] = record
        self.ids.setdefault(step["key"], record)
        self.step_of[step["key"]] = step
        data = {field: value for field, value in described.items() if value is not None}
        phone.write(day, "10:00", f"{type_}.described", record, data)
        named = {"name": name} if name else {}
        phone.write(day, "10:00", "record.described", record, {**named, "code": story_code(key)})
        return record

    def _next(self, word: str) -> int:
        self.counts[word] = self.counts.get(word, 0) + 1
        return self.counts[word]

    def _shelf(self, phone: Phone, day: dt.date, step: Json) -> None:
        light = {field: step.get(field) for field in ("stands", "light", "facing")}
        self.boxes_on[self._record(step, "shelf", step["name"], **light)] = []

    def _place(self, phone: Phone, day: dt.date, step: Json) -> None:
        about = {field: step.get(field) for field in ("grown", "owner", "permit")}
        place = self._record(step, "place", step["name"], **about)
        if "lat_e7" in step:
            fix = {
                "lat_e7": step["lat_e7"],
                "lon_e7": step["lon_e7"],
                "uncertainty_m": step["uncertainty"],
                "datum": "WGS84",
                "source": "phone",
                "audience": "growers",
            }
            phone.write(day, "10:05", "place.fixed", place, fix)

    def _plant(self, phone: Phone, day: dt.date, step: Json) -> None:
        plant = self._record(step, "plant", step["name"], place=self.ids[step["place"]])
        self._give_name(phone, day, plant, step)
        phone.write(day, "10:10", "sori.seen", plant, {"ripeness": step["ripeness"]})
        if "note" in step:
            phone.write(day, "10:12", "record.described", plant, {"note": step["note"]})

    def _give_name(self, phone: Phone, day: dt.date, record: str, step: Json) -> None:
        naming = {"taxon": step["taxon"], "sure": step["sure"]}
        if "why" in step:
            naming["why"] = step["why"]
        phone.write(day, "10:08", "name.given", record, naming)

    def _name(self, phone: Phone, day: dt.date, step: Json) -> None:
        self._give_name(phone, day, self.ids[step["about"]], step)

    def _rename(self, phone: Phone, day: dt.date, step: Json) -> None:
        named = {"name": step["name"]}
        phone.write(day, "16:00", "record.described", self.ids[step["about"]], named)

    def _sori(self, phone: Phone, day: dt.date, step: Json) -> None:
        seen = {"ripeness": step["ripeness"], "way": "eye"}
        phone.write(day, "11:00", "sori.seen", self.ids[step["plant"]], seen)

    def _cut(self, phone: Phone, day: dt.date, step: Json) -> None:
        plant, of_plant = self.ids[step["plant"]], self.step_of[step["plant"]]
        place, of_place = self.ids[of_plant["place"]], self.step_of[of_plant["place"]]
        carried = {field: of_place.get(field) for field in ("grown", "owner", "permit")}
        number = f"{phone.initials} {self._next(phone.initials)}"
        gathering = self._record(
            {**step, "key": f"{step['key']} cut"},
            "gathering",
            None,
            number=number,
            collectors=[phone.who["name"]],
            plant=plant,
            place=place,
            **carried,
        )
        phone.write(day, "11:05", "frond.cut", gathering, {"taken": step["taken"]}, [plant, place])
        self._photo(phone, day, gathering, step)
        self._packet(step, gathering)

    def _packet(self, step: Json, source: str | None) -> str:
        return self._record(step, "packet", f"packet {self._next('packet')}", **{"from": source})

    def _receive(self, phone: Phone, day: dt.date, step: Json) -> None:
        packet = self._packet(step, None)
        words = {"as_written": step["as_written"], "from": step["from"], "what": "spores"}
        words |= {field: step[field] for field in ("year", "their_number") if field in step}
        phone.write(day, "10:15", "packet.received", packet, words)
        if "taxon" in step:
            self._give_name(phone, day, packet, step)
        self._photo(phone, day, packet, step)

    def _photo(self, phone: Phone, day: dt.date, record: str, step: Json) -> None:
        if "photo" in step:
            content = getattr(pictures, step["photo"])(len(self.photos))
            photo = pictures.described(content)
            phone.write(day, "11:06", "photo.taken", record, {"photo": photo})
            self.photos.append((phone, photo, content))

    def _mix(self, phone: Phone, day: dt.date, step: Json) -> None:
        self._record(step, "mix", step["name"], recipe=step["recipe"], heated=step["heated"])

    def _sow(self, phone: Phone, day: dt.date, step: Json) -> None:
        packets = [self.ids[f"packet {step[word]}"] for word in ("packet", "and") if word in step]
        self._fill(
            phone, day, step, {"packets": packets, "together": True if "and" in step else None}
        )

    def _control(self, phone: Phone, day: dt.date, step: Json) -> None:
        self._fill(phone, day, step, {"packets": [], "control": True})

    def _fill(self, phone: Phone, day: dt.date, step: Json, what: Json) -> None:
        box = self._record({**step, "key": f"{step['key']} box"}, "box", step["box"], vessel="box")
        shelf, mix = self.ids[step["shelf"]], self.ids.get(step.get("mix", ""))
        phone.write(day, "14:00", "box.placed", box, {"shelf": shelf}, [shelf])
        sowing = self._record(step, "sowing", None, box=box, mix=mix, **what)
        sown = {"density": step["density"]} if "density" in step else {}
        also = [box, *what["packets"], *([mix] if mix else [])]
        phone.write(day, "14:10", "spores.sown", sowing, sown, also)
        self.boxes_on[shelf].append(box)
        if "note" in step:
            phone.write(day, "14:12", "record.described", box, {"note": step["note"]})

    def _box_of(self, key: str) -> str:
        return self.ids.get(f"box {key} box") or self.ids[key]

    def _growth(self, phone: Phone, day: dt.date, step: Json) -> None:
        seen: Json = {field: step[field] for field in ("growth", "amount") if field in step}
        sowing = self.ids[f"sowing {step['sowing']}"]
        phone.write(day, "18:00", "growth.seen", sowing, seen, [self._box_of(step["sowing"])])

    def _cover(self, phone: Phone, day: dt.date, step: Json) -> None:
        phone.write(day, "19:00", "cover.set", self._box_of(step["box"]), {"cover": step["cover"]})

    def _trouble(self, phone: Phone, day: dt.date, step: Json) -> None:
        box = self._box_of(step["about"])
        phone.write(day, "18:05", "trouble.begun", box, {"trouble": step["trouble"]})
        if "note" in step:
            phone.write(day, "18:06", "record.described", box, {"note": step["note"]})

    def _trouble_ended(self, phone: Phone, day: dt.date, step: Json) -> None:
        box = self._box_of(step["about"])
        phone.write(day, "18:05", "trouble.ended", box, {"trouble": step["trouble"]})

    def _note(self, phone: Phone, day: dt.date, step: Json) -> None:
        box = self._box_of(step["about"])
        phone.write(day, "18:10", "record.described", box, {"note": step["note"]})

    def _walk(self, phone: Phone, day: dt.date, step: Json) -> None:
        shelf = self.ids[step["shelf"]]
        if boxes := self.boxes_on[shelf]:
            phone.write(day, "17:30", "shelf.walked", shelf, {}, list(boxes))


def _walks(plan: Json) -> list[Json]:
    """Every round of a plan of rounds, as steps."""
    day, last = dt.date.fromisoformat(plan["from"]), dt.date.fromisoformat(plan["until"])
    days = range(0, (last - day).days + 1, plan["every"])
    walk = {"do": "walk", "who": plan["who"], "shelf": plan["shelf"]}
    return [{**walk, "on": (day + dt.timedelta(days=n)).isoformat()} for n in days]

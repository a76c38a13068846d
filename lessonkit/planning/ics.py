"""The jobs as a calendar file (RFC 5545). The same plan gives the same bytes: nothing is taken from the clock.

An event's UID comes from its lesson, groups and work, not from its date: read in again after a change, it moves and is not doubled. Its
stamp is midnight (UTC) of its first day.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, time
from hashlib import sha256

from lessonkit.planning.jobs import Job
from lessonkit.planning.room_days import DAY

PRODUCT = "-//lessonkit//plan//EN"


def calendar_file(name: str, jobs: Sequence[Job]) -> bytes:
    """All-day events that leave the time free, in the order of the jobs. No names of people: groups stand by their tags."""
    from icalendar import Calendar, Event  # late: only a calendar file needs it

    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", name)
    seen: dict[str, int] = {}
    for job in jobs:
        work = "\n".join((job.lesson, job.do, *job.tags, str(job.load)))
        seen[work] = seen.get(work, 0) + 1
        digest = sha256(f"{seen[work]} {work}".encode()).hexdigest()
        event = Event()
        event.add("uid", f"{digest[:32]}@lessonkit")
        event.add("dtstamp", datetime.combine(job.first, time(), UTC))
        event.add("dtstart", job.first)
        event.add("dtend", job.last + DAY)  # the day after, as RFC 5545 has it
        event.add("summary", f"{job.lesson}: {job.do} ({', '.join(job.tags)})")
        event.add("description", f"{job.says[0].upper()}{job.says[1:]}. {job.pieces} pieces.")
        event.add("transp", "TRANSPARENT")
        calendar.add_component(event)
    return bytes(calendar.to_ical())

"""Reads a calendar of `becket due --ics` with an independent parser.

    pip install icalendar
    python3 validation/generators/read_calendar.py due.ics [second.ics]

Says how many entries there are; fails when a line is longer than 75 octets or
ends otherwise than in CR LF, an entry lacks what RFC 5545 asks for, an
identifier comes twice, or, given a second reading of the same list, an
identifier did not stay.
"""

import datetime
import sys

import icalendar


def entries(path):
    data = open(path, "rb").read()
    assert data.endswith(b"END:VCALENDAR\r\n"), "the last line"
    for line in data.split(b"\r\n"):
        assert len(line) <= 75, f"{len(line)} octets: {line[:40]!r}"
        assert b"\n" not in line and b"\r" not in line, "a bare line end"
        line.decode("utf-8")  # folded between characters, or this fails
    calendar = icalendar.Calendar.from_ical(data)
    assert calendar["VERSION"] == "2.0" and calendar["PRODID"]
    assert not calendar.errors, calendar.errors
    found = {}
    for event in calendar.walk("VEVENT"):
        assert not event.errors, event.errors
        uid = str(event["UID"])
        assert uid not in found, f"{uid} comes twice"
        start, end = event.decoded("DTSTART"), event.decoded("DTEND")
        assert type(start) is datetime.date and end - start == datetime.timedelta(days=1)
        assert event.decoded("DTSTAMP").tzinfo is not None and str(event["SUMMARY"])
        found[uid] = (start, str(event["SUMMARY"]), str(event.get("DESCRIPTION", "")))
    return found


first = entries(sys.argv[1])
for uid, (start, summary, description) in sorted(first.items()):
    print(start, uid, repr(summary), repr(description))
print(len(first), "entries")
if len(sys.argv) > 2:
    second = entries(sys.argv[2])
    assert set(first) == set(second), "identifiers did not stay"
    print("the same identifiers in", sys.argv[2])

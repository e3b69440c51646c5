"""Reads a calendar feed with Python's `icalendar`, an implementation that shares nothing with ours.

    python3 -m venv ~/.cache/lugbook-reference
    ~/.cache/lugbook-reference/bin/pip install icalendar
    ~/.cache/lugbook-reference/bin/python tests/reference/calendar.py FEED.ics

Every event must have a name of its own, begin before it ends, be told in UTC, and any alarm must ring
at its begin or before. Prints how many events and alarms there are.
"""

import datetime
import sys

import icalendar


def main(path):
    with open(path, "rb") as feed:
        calendar = icalendar.Calendar.from_ical(feed.read())
    seen, alarms = set(), 0
    for event in calendar.walk("VEVENT"):
        uid = str(event["UID"])
        assert uid not in seen, f"{uid} twice"
        seen.add(uid)
        begins, ends = event["DTSTART"].dt, event["DTEND"].dt
        assert begins.utcoffset() == datetime.timedelta(0), f"{uid}: {begins} is not UTC"
        assert begins < ends, f"{uid}: {begins} to {ends}"
        assert str(event["SUMMARY"]).strip(), f"{uid} says nothing"
        assert event["DTSTAMP"].dt.utcoffset() == datetime.timedelta(0)
        for alarm in event.walk("VALARM"):
            trigger = alarm["TRIGGER"].dt
            assert trigger <= datetime.timedelta(0), f"{uid}: rings {trigger} after its begin"
            assert str(alarm["ACTION"]) == "DISPLAY"
            alarms += 1
    assert not calendar.errors, calendar.errors
    print(f"{len(seen)} events, {alarms} alarms")


main(sys.argv[1])

"""Sunrise and sunset by a general astronomy library, for `tests/reference/sun.rs`.

Run once: pip install skyfield==1.55 skyfield-data==7.0.0 tzdata; python sun.py > ../sun.json
The sun's centre stands at -0.833 degrees, on a plain at sea level, as in NOAA's text.
"""

import json
import sys
from datetime import date, datetime, timedelta
from importlib.metadata import version
from zoneinfo import ZoneInfo

from skyfield import almanac
from skyfield.api import Loader, wgs84
from skyfield_data import get_skyfield_data_path

HORIZON = -0.833

# latitude, longitude, zone, days
CASES = [
    # High valleys of the middle north, through the year and over clock changes.
    (46.7, 9.9, "Europe/Zurich", ["2026-03-28", "2026-03-29", "2026-06-21", "2026-09-22", "2026-10-09", "2026-10-24", "2026-10-25", "2026-12-21"]),
    (44.3, -72.6, "America/New_York", ["2026-03-08", "2026-10-09", "2026-11-01", "2028-02-29"]),
    (39.2, -106.3, "America/Denver", ["2025-09-12", "2026-07-04", "2026-11-01"]),
    (51.5, -113.0, "America/Edmonton", ["2026-09-15", "2026-12-31"]),
    (61.2, -149.9, "America/Anchorage", ["2026-06-21", "2026-09-01", "2026-12-21"]),
    # The equator and the tropics.
    (0.0, 0.0, "UTC", ["2026-01-01", "2026-03-20"]),
    (-0.2, -78.5, "America/Guayaquil", ["2026-06-21"]),
    (19.4, -99.1, "America/Mexico_City", ["2026-05-16"]),
    (11.6, 37.4, "Africa/Addis_Ababa", ["2027-12-01"]),
    # The south: frost in its own autumn.
    (-43.5, 172.6, "Pacific/Auckland", ["2026-04-05", "2026-06-21", "2026-09-27", "2026-12-22"]),
    (-45.0, 168.7, "Pacific/Auckland", ["2026-04-30"]),
    (-33.4, -70.6, "America/Santiago", ["2026-04-05", "2026-09-06"]),
    (-54.8, -68.3, "America/Argentina/Ushuaia", ["2026-06-21", "2026-12-21"]),
    (-16.5, -68.1, "America/La_Paz", ["2026-06-24"]),
    # Either side of the date line.
    (-13.8, -171.8, "Pacific/Apia", ["2026-05-05", "2026-11-11"]),
    (1.9, -157.4, "Pacific/Kiritimati", ["2026-02-14", "2026-08-15"]),
    (-18.1, 178.4, "Pacific/Fiji", ["2026-07-20"]),
    (51.9, -176.6, "America/Adak", ["2026-10-01", "2026-11-01"]),
    (64.7, 177.5, "Asia/Anadyr", ["2026-05-20", "2026-09-20"]),
    (-43.9, -176.5, "Pacific/Chatham", ["2026-04-05"]),
    # Zones that are hours or half hours off the sun.
    (42.9, -8.5, "Europe/Madrid", ["2026-06-21", "2026-01-15"]),
    (39.5, 76.0, "Asia/Shanghai", ["2026-10-10", "2026-01-15"]),
    (27.7, 85.3, "Asia/Kathmandu", ["2026-10-10"]),
    (47.6, -52.7, "America/St_Johns", ["2026-10-10"]),
    # Near and beyond the polar circles.
    (65.0, 25.5, "Europe/Helsinki", ["2026-06-21", "2026-12-21"]),
    (64.1, -21.9, "Atlantic/Reykjavik", ["2026-06-21", "2026-09-05", "2026-12-21"]),
    (66.5, 25.7, "Europe/Helsinki", ["2026-06-21", "2026-12-21", "2026-09-10"]),
    (69.6, 18.9, "Europe/Oslo", ["2026-05-19", "2026-06-21", "2026-07-25", "2026-08-20", "2026-12-21", "2026-01-20"]),
    (78.2, 15.6, "Arctic/Longyearbyen", ["2026-03-01", "2026-06-21", "2026-08-26", "2026-10-20", "2026-12-21"]),
    (-77.8, 166.7, "Antarctica/McMurdo", ["2026-02-25", "2026-06-21", "2026-12-21"]),
    (89.9, 0.0, "UTC", ["2026-07-01", "2026-12-01"]),
]


def millis(moment):
    return round((moment.utc_datetime() - datetime(1970, 1, 1, tzinfo=ZoneInfo("UTC"))).total_seconds() * 1000)


def main():
    load = Loader(get_skyfield_data_path())
    ts = load.timescale(builtin=True)
    eph = load("de421.bsp")
    sun = eph["sun"]
    rows = []
    for latitude, longitude, zone, days in CASES:
        place = wgs84.latlon(latitude, longitude)
        observer = eph["earth"] + place
        for text in days:
            day = date.fromisoformat(text)
            tz = ZoneInfo(zone)
            noon = datetime(day.year, day.month, day.day, 12, tzinfo=tz)
            offset = round(noon.utcoffset().total_seconds() / 60)
            midnight = datetime(day.year, day.month, day.day, tzinfo=ZoneInfo("UTC")) - timedelta(minutes=offset)
            start, end = ts.from_datetime(midnight), ts.from_datetime(midnight + timedelta(days=1))
            rises, up = almanac.find_risings(observer, sun, start, end, horizon_degrees=HORIZON)
            sets, down = almanac.find_settings(observer, sun, start, end, horizon_degrees=HORIZON)
            at_noon = observer.at(ts.from_datetime(noon)).observe(sun).apparent().altaz()[0].degrees
            rows.append({
                "latitude": latitude, "longitude": longitude, "zone": zone, "day": text,
                "offset_minutes": offset,
                "rise": next((millis(t) for t, ok in zip(rises, up) if ok), None),
                "set": next((millis(t) for t, ok in zip(reversed(list(sets)), reversed(list(down))) if ok), None),
                "noon_altitude": round(float(at_noon), 3),
            })
    head = {"by": f"skyfield {version('skyfield')}, de421, skyfield-data {version('skyfield-data')}, tzdata {version('tzdata')}", "horizon_degrees": HORIZON}
    print(json.dumps(head)[:-1] + ', "rows": [\n' + ",\n".join(json.dumps(row) for row in rows) + "\n]}")
    print(len(rows), "rows", file=sys.stderr)


main()

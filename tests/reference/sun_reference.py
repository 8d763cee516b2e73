#!/usr/bin/env python3
"""Writes sun_reference.csv: where the sun stands, by an independent library.

python3-ephem 4.1.4 (Debian 12), whose sun follows the planetary theory VSOP87 and whose clock knows the difference of
terrestrial and universal time of each year. Topocentric, no refraction. Dates and places are drawn with a fixed seed:
1950 to 2100, all latitudes, and of every tenth the poles' and the equator's neighbourhood.

    python3 tests/reference/sun_reference.py > tests/reference/sun_reference.csv
"""
import datetime
import math
import random

import ephem

random.seed(20240320)
start = datetime.datetime(1950, 1, 1)
minutes = int((datetime.datetime(2100, 12, 31) - start).total_seconds()) // 60

print("year,month,day,ut_h,latitude_deg,longitude_deg,height_m,elevation_deg,azimuth_deg,distance_au")
for row in range(600):
    when = start + datetime.timedelta(minutes=random.randrange(minutes))
    latitude = random.choice([-89.9, -0.1, 0.0, 0.1, 89.9]) if row % 10 == 0 else round(random.uniform(-90, 90), 2)
    longitude = round(random.uniform(-180, 180), 2)
    height = random.choice([0, 0, 40, 500, 1500, 4000])
    observer = ephem.Observer()
    observer.lat, observer.lon = math.radians(latitude), math.radians(longitude)
    observer.elevation, observer.pressure = height, 0
    observer.date = when
    sun = ephem.Sun(observer)
    hour = when.hour + when.minute / 60
    print(f"{when.year},{when.month},{when.day},{hour:.10f},{latitude},{longitude},{height},"
          f"{math.degrees(sun.alt):.6f},{math.degrees(sun.az):.6f},{sun.earth_distance:.7f}")

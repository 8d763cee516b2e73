"""Where a made-up log comes from: a place, a plane and a clock, the sun over them, and light turned onto the plane.

It shares no equation with the library's sun and sky: Spencer's series for declination and equation of time (Search 2, 1971 [from
memory]), beam by Daneshyar's fit (Solar Energy 21, 1978 [from memory]), a sky of even brightness.
"""
import datetime

import numpy as np


def spencer(day_of_year):
    """Declination (radians) and equation of time (minutes)."""
    g = 2.0 * np.pi * (day_of_year - 1) / 365.0
    declination = (0.006918 - 0.399912 * np.cos(g) + 0.070257 * np.sin(g) - 0.006758 * np.cos(2 * g) + 0.000907 * np.sin(2 * g)
                   - 0.002697 * np.cos(3 * g) + 0.00148 * np.sin(3 * g))
    equation = 229.18 * (0.000075 + 0.001868 * np.cos(g) - 0.032077 * np.sin(g) - 0.014615 * np.cos(2 * g) - 0.040849 * np.sin(2 * g))
    return declination, equation


class Place:
    def __init__(self, dice, latitude_deg):
        self.latitude_deg = round(latitude_deg, 2)
        self.zone_h = int(dice.integers(-6, 9))
        self.longitude_deg = round(15.0 * self.zone_h + dice.uniform(-9.0, 9.0), 2)
        self.tilt_deg = int(dice.integers(10, 46))
        self.azimuth_deg = int(dice.integers(120, 241))

    def sun(self, day_of_year, solar_minute):
        """East, north and up of the sun at local solar time."""
        declination, _ = spencer(day_of_year)
        latitude, hour = np.radians(self.latitude_deg), 2.0 * np.pi * (solar_minute / 1440.0 - 0.5)
        east = -np.cos(declination) * np.sin(hour)
        north = np.cos(latitude) * np.sin(declination) - np.sin(latitude) * np.cos(declination) * np.cos(hour)
        up = np.sin(latitude) * np.sin(declination) + np.cos(latitude) * np.cos(declination) * np.cos(hour)
        return east, north, up

    def clock_s(self, day_of_year, solar_minute):
        """Seconds of standard time since midnight of that day."""
        _, equation = spencer(day_of_year)
        return 60.0 * (solar_minute - equation - 4.0 * (self.longitude_deg - 15.0 * self.zone_h))

    def on_plane(self, sun, flat, share):
        """Light on the plane of global light `flat`, of which clouds let through `share` of a clear sky's."""
        east, north, up = sun
        height = np.degrees(np.arcsin(np.clip(up, -1.0, 1.0)))
        beam = 950.2 * (1.0 - np.exp(-0.075 * np.maximum(height, 0.0))) * np.clip((share - 0.35) / 0.6, 0.0, 1.0)
        beam = np.minimum(beam, 0.92 * flat / np.maximum(up, 0.02))
        diffuse = flat - beam * np.maximum(up, 0.0)
        tilt, azimuth = np.radians(self.tilt_deg), np.radians(self.azimuth_deg)
        cosine = np.cos(tilt) * up + np.sin(tilt) * (np.sin(azimuth) * east + np.cos(azimuth) * north)
        tilted = beam * np.maximum(cosine, 0.0) + 0.5 * diffuse * (1.0 + np.cos(tilt)) + 0.1 * flat * (1.0 - np.cos(tilt))
        return np.where(flat > 0.0, tilted, 0.0)

    def stamp(self, day_of_year, solar_minute):
        midnight = datetime.datetime(2026, 1, 1) + datetime.timedelta(days=day_of_year - 1)
        return (midnight + datetime.timedelta(seconds=round(float(self.clock_s(day_of_year, solar_minute))))).isoformat()

    def site_lines(self):
        return [f"latitude = {self.latitude_deg}", f"longitude = {self.longitude_deg}", f"from_utc = {self.zone_h}"]

    def plane_lines(self):
        return ["", "[[plane]]", 'name = "roof"', f"tilt = {self.tilt_deg}", f"azimuth = {self.azimuth_deg}"]

"""Sun, clouds, air and cells of made-up days, one value a minute. Everything is invented but the shape of a clear day."""
import numpy as np


def sun_height_ratio(day_of_year, latitude_deg, minutes):
    """Sine of the sun's height, at local solar time (Cooper's declination, 1969 [from memory])."""
    turn = 2.0 * np.pi
    tilt = np.radians(23.45) * np.sin(turn * (284 + day_of_year) / 365.0)
    latitude = np.radians(latitude_deg)
    hour = turn * (minutes / 1440.0 - 0.5)
    return np.sin(latitude) * np.sin(tilt) + np.cos(latitude) * np.cos(tilt) * np.cos(hour)


def clear_light(height):
    """Haurwitz (1945): 1098*cos(z)*exp(-0.057/cos(z)), [from memory]; a tilted plane is taken to see 1.08 of it at most."""
    up = np.maximum(height, 1e-3)
    return np.where(height > 0.0, 1098.0 * up * np.exp(-0.057 / up), 0.0) * 0.98


def clouds(dice, count, kind):
    """Share of the clear day's light that comes through."""
    if kind == "clear":
        return np.clip(1.0 + 0.01 * np.cumsum(dice.normal(0.0, 0.03, count)), 0.93, 1.02)
    if kind == "dull":
        slow = np.cumsum(dice.normal(0.0, 0.02, count))
        return np.clip(0.28 + 0.12 * np.sin(np.linspace(0, 5, count)) + slow - slow.mean(), 0.08, 0.75)
    # Broken: clear and covered by turns, with bright edges.
    out = np.empty(count)
    covered = dice.random() < 0.4
    depth = 0.35
    left = 0
    for k in range(count):
        if left <= 0:
            covered = not covered
            left = int(dice.exponential(6.0 if covered else 11.0)) + 1
            depth = dice.uniform(0.2, 0.65)
        out[k] = depth if covered else dice.uniform(0.98, 1.03) + (0.1 * dice.random() if left < 2 else 0.0)
        left -= 1
    return np.convolve(np.pad(out, 1, mode="edge"), [0.2, 0.6, 0.2], mode="valid")


class Day:
    """Minutes from first to last light, with light on the panels, air and cells."""

    def __init__(self, dice, number, kind, latitude_deg, day_of_year, warm_degc, noct_degc, place=None):
        minutes = np.arange(0, 1440)
        self.day_of_year = day_of_year
        height = place.sun(day_of_year, minutes)[2] if place else sun_height_ratio(day_of_year, latitude_deg, minutes)
        up = minutes[height > -0.02]
        self.number = number
        self.minute = up
        clear = clear_light(height[up])
        through = clouds(dice, len(up), kind)
        self.flat = self.light = np.maximum(0.0, clear * through)
        if place:
            self.light = place.on_plane(place.sun(day_of_year, up), self.flat, through)
        self.share = clear / max(clear.max(), 1.0)
        hour = up / 60.0
        self.air = warm_degc + 6.0 * np.sin(2.0 * np.pi * (hour - 9.5) / 24.0) + np.cumsum(dice.normal(0.0, 0.02, len(up)))
        # Cells follow light and wind with some minutes' delay.
        wind = np.clip(2.0 + np.cumsum(dice.normal(0.0, 0.08, len(up))), 0.4, 6.0)
        rise = (noct_degc - 20.0) / 800.0 * self.light * 9.5 / (5.7 + 3.8 * wind)
        cell = np.empty(len(up))
        warm = 0.0
        for k in range(len(up)):
            warm += (rise[k] - warm) / 6.0
            cell[k] = self.air[k] + warm
        self.cell = cell

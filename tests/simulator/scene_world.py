"""The world a made-up log comes from: panels, wiring, input, two days, and meters with errors of their own."""
import zlib
from dataclasses import dataclass, field

import numpy as np

from de_soto import PANELS, datasheet
from field import Array, Window, strings_of
from place import Place
from sky import Day

CABLE_OHM_PER_KM = 8.0


@dataclass
class Log:
    name: str
    setup: str
    columns: dict
    seconds: np.ndarray
    possible_w: np.ndarray
    drawn_w: np.ndarray
    lost_w: dict = field(default_factory=dict)  # by cause
    options: list = field(default_factory=list)
    label_w: float = 0.0
    stamps: list = field(default_factory=list)  # where the place is known
    placeless_setup: str = ""


class Scene:
    """Nothing is wrong. Others change the input, the panels, or what the input does."""

    name = "healthy"
    wirings = [(2, 2), (3, 1), (2, 3), (4, 1), (3, 2), (1, 3)]
    options = []

    def prepare(self, w):
        """Before the days: the print, and what the input really does."""

    def held(self, w, k):
        """(volts, amps, {cause: watts lost}) of minute k; the array is `w.array(k)`."""
        top = w.array().best(w.real)
        return top

    def causes(self, w, possible_w, drawn_w):
        return {}

    def charge(self, w, hour):
        return 0.30 + 0.30 * np.clip((hour - 6.0) / 12.0, 0.0, 1.0)

    def wall_w(self, w, hour):
        return np.zeros_like(hour)


class World:
    """Everything one log is made from."""

    def __init__(self, scene, seed, bias, placed=False):
        self.dice = np.random.default_rng([seed, zlib.crc32(scene.name.encode())])  # each scene has panels of its own
        dice = self.dice
        self.scene = scene
        self.print_panel = PANELS[dice.integers(len(PANELS))]
        self.series, self.parallel = scene.wirings[dice.integers(len(scene.wirings))]
        share = bias / 0.04
        spread = lambda most: share * dice.uniform(-most, most)
        self.panel = self.print_panel.scaled(1.0 + spread(0.02), 1.0 + spread(0.01), 1.0 + spread(0.15))
        self.sun_bias, self.amp_bias = 1.0 + spread(0.04), 1.0 + spread(0.025)
        self.volt_bias, self.warm_bias = 1.0 + spread(0.008), spread(1.5)
        self.sheet = datasheet(self.print_panel)
        self.vmp = self.series * self.sheet["vmp"]
        self.voc = self.series * self.sheet["voc"]
        self.imp = self.parallel * self.sheet["imp"]
        self.label_w = self.series * self.parallel * self.sheet["pmax"]
        self.print = Window(round(0.3 * self.vmp, 1), round(1.45 * self.voc, 1))
        self.print.start_v = self.print.low_v
        self.real = None
        self.trunk_ohm = 0.0
        self.always = None  # from this hour of the first day on
        self.controller_lines, self.cable_lines = [], []
        latitude, day = dice.uniform(36.0, 54.0), int(dice.integers(90, 260))
        warm = dice.uniform(8.0, 27.0)
        noct = self.print_panel.noct_degc + spread(3.0)
        # Dice of its own, so that logs without a place stay as they were.
        self.place = Place(np.random.default_rng([seed, zlib.crc32(scene.name.encode()), 7]), latitude) if placed else None
        kinds = ["clear", "broken"] if dice.random() < 0.5 else ["broken", "clear"]
        self.days = [Day(dice, n, kind, latitude, day + n, warm + dice.uniform(-3.0, 3.0), noct, self.place) for n, kind in enumerate(kinds)]
        scene.prepare(self)
        if self.real is None:
            self.real = self.print
        # At work: the hours in which a fault is there.
        self.begin_h, self.end_h = dice.uniform(8.5, 10.0), dice.uniform(14.0, 16.0)

    def plain(self, light=None):
        return Array(self.panel, strings_of(self.panel, self.series, self.parallel), self.light if light is None else light, self.degc)

    def shaded(self, shade, light=None, parallel=None):
        strings = strings_of(self.panel, self.series, self.parallel if parallel is None else parallel, shade)
        return Array(self.panel, strings, self.light if light is None else light, self.degc)

    def at_work(self):
        if self.always is not None:
            return self.day.number > 0 or self.hour >= self.always
        return self.begin_h <= self.hour <= self.end_h

    def made(self):
        out = {key: [] for key in ("t", "v", "a", "g", "air", "panel", "soc", "wall", "possible", "drawn", "flat")}
        stamps = []
        lost = []
        for day in self.days:
            self.day = day
            hours = day.minute / 60.0
            charge, wall = self.scene.charge(self, hours), self.scene.wall_w(self, hours)
            for k in range(len(day.minute)):
                self.k, self.hour, self.light, self.degc = k, float(hours[k]), float(day.light[k]), float(day.cell[k])
                self.charge, self.wall_w = float(charge[k]), float(wall[k])
                out["t"].append(day.number * 86400 + int(day.minute[k]) * 60)
                out["soc"].append(self.charge)
                out["wall"].append(self.wall_w)
                if self.light < 1.5:
                    v, a, possible, row_lost = (0.0 if self.light < 0.3 else 0.5 * self.voc), 0.0, 0.0, {}
                else:
                    self.bare = self.plain()
                    top = self.bare.best()
                    self.top = top
                    self.possible_w = possible = top[0] * top[1]
                    v, a, row_lost = self.scene.row(self)
                out["v"].append(v)
                out["a"].append(a)
                out["possible"].append(possible)
                out["drawn"].append(v * a)
                out["g"].append(self.light)
                out["flat"].append(day.flat[k])
                if self.place:
                    stamps.append(self.place.stamp(day.day_of_year, day.minute[k]))
                out["air"].append(day.air[k])
                out["panel"].append(day.cell[k] - 1.5 * day.light[k] / 1000.0)
                lost.append(row_lost)
        return self.log({k: np.array(v) for k, v in out.items()}, lost, stamps)

    def log(self, t, lost, stamps):
        dice, n = self.dice, len(t["t"])
        noise = lambda sd: 1.0 + dice.normal(0.0, sd, n)
        # The sensor stands beside the panels: at the edge of a cloud it sees another moment's light.
        late = np.interp(np.arange(n) - dice.uniform(-0.35, 0.35, n), np.arange(n), t["g"])
        volts = np.round(t["v"] * self.volt_bias * noise(0.002), 1)
        amps = np.round(t["a"] * self.amp_bias * noise(0.004), 2)
        shown = self.scene.shown(self, t)
        columns = {
            "voltage": volts, "current": amps * shown,
            "irradiance": np.round(late * self.sun_bias * noise(0.008)),
            "air": np.round(t["air"] + dice.normal(0.0, 0.3, n), 1),
            "panel": np.round(t["panel"] + self.warm_bias + dice.normal(0.0, 0.5, n), 1),
            "charge": np.round(100.0 * t["soc"]), "wall": np.round(t["wall"]),
        }
        if self.place:  # a weather station nearby, good to a few per cent
            columns["global"] = np.round(t["flat"] * (1.0 + (self.sun_bias - 1.0) * 0.75) * noise(0.01))
        causes = sorted({c for row in lost for c in row})
        by_cause = {c: np.array([row.get(c, 0.0) for row in lost]) for c in causes}
        drawn = t["drawn"] * shown
        if not shown.all():
            by_cause["display"] = t["drawn"] - drawn
        return Log(self.scene.name, self.setup(), columns, t["t"], t["possible"], drawn, by_cause, list(self.scene.options), self.label_w,
                   stamps, self.setup(placeless=True))

    def setup(self, placeless=False):
        place = None if placeless else self.place
        s, p, w = self.sheet, self.print_panel, self.print
        lines = ['title = "Made up"', "", "[[panel]]", 'id = "panel"', f"count = {self.series * self.parallel}", f'name = "{p.name}"',
                 f'technology = "{p.technology}"', f"cells_in_series = {p.cells}", f"bypass_diodes = {p.diodes}",
                 f'pmax = "{s["pmax"]:.0f} W"', f'vmp = "{s["vmp"]} V"', f'imp = "{s["imp"]} A"', f'voc = "{s["voc"]} V"',
                 f'isc = "{s["isc"]} A"', f'isc_coefficient = "{s["isc_per_k"]} %/K"', f'voc_coefficient = "{s["voc_per_k"]} %/K"',
                 f'pmax_coefficient = "{s["pmax_per_k"]} %/K"', f'noct = "{p.noct_degc:.0f} °C"', 'max_system_voltage = "1000 V"', "",
                 "[controller]", 'name = "Made up"', 'type = "wide-range"', *self.controller_lines, "", "[[controller.input]]", 'name = "PV"',
                 f'max_voltage = "{1.6 * self.voc:.1f} V"', f'tracking_min = "{w.low_v} V"', f'tracking_max = "{w.high_v} V"',
                 f'start_voltage = "{w.start_v} V"']
        if w.bands:
            bands = ", ".join(f'{{ from = "{a} V", to = "{b} V", current = "{i} A" }}' for a, b, i in w.bands)
            lines.append(f"bands = [ {bands} ]")
        if np.isfinite(w.power_w):
            lines.append(f'max_power = "{w.power_w:.0f} W"')
        lines += ['over_current = "clips"', "", "[site]", 'mounting = "open-rack"', *(place.site_lines() + place.plane_lines() if place else []), "", "[wiring]", f'PV = "{self.series}s{self.parallel}p"', *self.cable_lines]
        return "\n".join(lines) + "\n"

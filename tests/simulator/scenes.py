"""Made-up logs of one minute a row, with what truly took the energy beside each row.

A scene sets up panels, wiring and input, lets two days pass, does one thing to them, and writes what meters with errors of
their own would show. The truth of a row is the watts lost between the array's own maximum and the watts drawn, by cause.
"""
import numpy as np

from field import Array, Window, strings_of
from scene_world import CABLE_OHM_PER_KM, Scene, World


class Healthy(Scene):
    def row(self, w):
        # An input that hunts for the maximum is never quite on it.
        v = w.top[0] * (1.0 + w.dice.normal(0.0, 0.006))
        return v, max(0.0, w.bare.at(v)), {}

    def shown(self, w, t):
        return np.ones(len(t["t"]))


class Limited(Healthy):
    """The input's window holds the array."""

    cause = "power-limit"

    def row(self, w):
        held = w.bare.best(w.real)
        if held is None:
            return w.bare.open_v, 0.0, {self.cause: w.possible_w}
        lost = w.possible_w - held[0] * held[1]
        return held[0], held[1], {self.cause: lost} if lost > 0.002 * w.possible_w else {}


class PowerLimit(Limited):
    name, off = "power-limit", 0.0

    def prepare(self, w):
        real = w.label_w * w.dice.uniform(0.5, 0.68)
        off = self.off * w.dice.uniform(0.05, 0.07) * w.dice.choice([-1.0, 1.0])
        w.real = Window(w.print.low_v, w.print.high_v, [], real)
        w.print.power_w = float(round(real / (1.0 + off)))
        if not off:
            w.real.power_w = w.print.power_w


class PowerLimitOff(PowerLimit):
    name, off = "power-limit-off-print", 1.0


class PowerLimitBelow(PowerLimit):
    """The input holds its watts left of the array's maximum."""

    name = "power-limit-held-from-below"

    def prepare(self, w):
        super().prepare(w)
        w.real.from_below = True


class CurrentLimit(Limited):
    name, cause, off, count = "current-limit", "current-limit", 0.0, 1

    def prepare(self, w):
        amps = w.imp * w.dice.uniform(0.52, 0.68)
        off = self.off * w.dice.uniform(0.05, 0.07) * w.dice.choice([-1.0, 1.0])
        low, high = w.print.low_v, w.print.high_v
        # Bands rise to one that holds the array; it is alone, or the last but one.
        if self.count == 1:
            edges = [(low, high, amps)]
        else:
            steps = np.round(np.linspace(low, 0.72 * w.vmp, self.count), 1)
            edges = [(float(steps[i]), float(steps[i + 1]), amps * (0.3 + 0.4 * i / self.count)) for i in range(self.count - 1)]
            edges.append((float(steps[-1]), high, amps))
        w.real = Window(low, high, [(a, b, i) for a, b, i in edges])
        w.print.bands = [(a, b, round(i / (1.0 + off), 1)) for a, b, i in edges]
        if not off:
            w.real.bands = w.print.bands


class CurrentLimitOff(CurrentLimit):
    name, off = "current-limit-off-print", 1.0


class CurrentLimitBands(CurrentLimit):
    name, count = "current-limit-of-a-late-band", 12


class BelowWindow(Limited):
    name, cause = "below-window", "below-window"

    def prepare(self, w):
        w.print.low_v = w.print.start_v = round(w.vmp * w.dice.uniform(0.97, 1.03), 1)


class AboveWindow(Limited):
    name, cause = "above-window", "above-window"

    def prepare(self, w):
        w.print.high_v = round(w.vmp * w.dice.uniform(0.78, 0.86), 1)


class CableLoss(Healthy):
    name = "cable"

    def prepare(self, w):
        w.trunk_ohm = w.dice.uniform(0.06, 0.10) * w.vmp / w.imp
        length = round(w.trunk_ohm / (2.0 * CABLE_OHM_PER_KM / 1000.0), 2)
        w.trunk_ohm = 2.0 * CABLE_OHM_PER_KM / 1000.0 * length
        w.cable_lines = ["", "[[cable]]", 'run = "trunk"', f'length = "{length} m"', 'size = "4 mm²"', f'resistance = "{CABLE_OHM_PER_KM} Ω/km"']

    def row(self, w):
        strings = strings_of(w.panel, w.series, w.parallel)
        top = Array(w.panel, strings, w.light, w.degc, trunk_ohm=w.trunk_ohm).best()
        return top[0], top[1], {"cable": w.possible_w - top[0] * top[1]}


class Spells(Healthy):
    """A fault that comes for some time and goes."""

    least_min, most_min, count = 20, 70, 3

    def prepare(self, w):
        w.spells = {}

    def in_spell(self, w):
        if w.day.number not in w.spells:
            begins = w.dice.uniform(w.begin_h, w.end_h, self.count)
            w.spells[w.day.number] = [(b, b + w.dice.uniform(self.least_min, self.most_min) / 60.0) for b in begins]
        return any(b <= w.hour <= e for b, e in w.spells[w.day.number])


class Tripped(Spells):
    name = "tripped"

    def row(self, w):
        return (w.bare.open_v, 0.0, {"tripped": w.possible_w}) if self.in_spell(w) else super().row(w)


class TripNearFull(Tripped):
    """The battery is at 96 %, and after each trip all the power is back at once."""

    name, least_min, most_min = "trip-at-96-percent", 6, 25

    def charge(self, w, hour):
        return np.full_like(hour, 0.96)


class Battery(Healthy):
    name = "battery"

    def prepare(self, w):
        w.full_h = w.dice.uniform(10.5, 12.5)

    def charge(self, w, hour):
        before = 0.45 + 0.48 * np.clip((hour - 6.0) / (w.full_h - 6.0), 0.0, 1.0)
        return np.where(hour < w.full_h, before, np.minimum(1.0, 0.93 + 0.035 * (hour - w.full_h)))

    def row(self, w):
        if w.hour < w.full_h:
            return super().row(w)
        share = max(0.0, 1.0 - 0.42 * (w.hour - w.full_h))
        wanted = share * w.label_w * 0.8
        if wanted >= w.possible_w:
            return super().row(w)
        if wanted < 0.02 * w.label_w:
            return w.bare.open_v, 0.0, {"battery": w.possible_w}
        v, a = w.bare.held_at_power(wanted)
        return v, a, {"battery": w.possible_w - wanted}


class Wall(Healthy):
    name = "wall"

    def prepare(self, w):
        w.shared = float(round(w.label_w * 1.02))
        w.controller_lines = [f'max_total_power = "{w.shared:.0f} W"']

    def wall_w(self, w, hour):
        return np.where((hour > 9.0) & (hour < 15.0), np.round(w.shared * (0.50 + 0.01 * hour)), 0.0)

    def row(self, w):
        left = w.shared - w.wall_w
        if left >= w.possible_w:
            return super().row(w)
        v, a = w.bare.held_at_power(left)
        return v, a, {"wall": w.possible_w - left}


class Display(Healthy):
    name, options = "display", ["--display", "20 W"]

    def shown(self, w, t):
        return (t["drawn"] >= 20.0).astype(float)


class Shade(Healthy):
    """Less light on some groups, in the hours at work; the input finds the best it can."""

    cause = "shade"

    def shade(self, w):
        """A function of string, panel and group, or None."""

    def row(self, w):
        if not w.at_work():
            return super().row(w)
        array = w.shaded(self.shade(w))
        v, a = array.best(w.real)
        v *= 1.0 + w.dice.normal(0.0, 0.004)
        a = max(0.0, array.at(v))
        return v, a, {self.cause: w.possible_w - v * a}


def whole(w, share):
    return [(w.panel.cells // w.panel.diodes, share)]


class ShadeAll(Shade):
    name = "shade-everywhere"

    def prepare(self, w):
        w.degree = w.dice.uniform(0.35, 0.8)

    def shade(self, w):
        share = w.degree + 0.12 * np.sin(w.hour * 2.5)
        return lambda s, p, g: whole(w, share)


class ShadeSome(Shade):
    """k panels of one string at any degree."""

    name, wirings, every, mild = "shade-panels-of-a-string", [(2, 2), (3, 1), (4, 1), (3, 2), (2, 3)], False, False

    def prepare(self, w):
        w.degree = w.dice.uniform(0.72, 0.9) if self.mild else w.dice.uniform(0.1, 0.85)
        w.of = int(w.dice.integers(1, w.series))

    def shade(self, w):
        return lambda s, p, g: whole(w, w.degree) if p < w.of and (self.every or s == 0) else None


class ShadeEvery(ShadeSome):
    name, every = "shade-panels-of-every-string", True


class ShadeMild(ShadeSome):
    name, every, mild = "shade-mild-on-every-string", True, True

    def charge(self, w, hour):
        return np.full_like(hour, 0.5)


class ShadeGroup(ShadeSome):
    """A third or half of a panel."""

    name = "shade-part-of-a-panel"

    def shade(self, w):
        return lambda s, p, g: whole(w, w.degree) if s == 0 and p == 0 and g == 0 else None


class Chimney(ShadeSome):
    """A shadow that crosses the panels at the same time of every day."""

    name = "shade-by-the-clock"

    def prepare(self, w):
        w.degree = w.dice.uniform(0.15, 0.4)

    def row(self, w):
        length = min(2.5, w.end_h - w.begin_h - 0.2)
        w.way = (w.hour - w.begin_h) / length
        return super().row(w) if 0.0 <= w.way <= 1.0 else Healthy.row(self, w)

    def shade(self, w):
        at = int(w.way * w.series * 0.999)
        return lambda s, p, g: whole(w, w.degree) if p == at and s < max(1, w.parallel - 1) else None


class Leaf(ShadeSome):
    """A few cells of one group lie in shade; the cells' own reverse branch decides, until the diode takes over."""

    name = "shade-by-a-leaf"

    def prepare(self, w):
        w.degree, w.cells = w.dice.uniform(0.1, 0.75), int(w.dice.integers(1, 4))

    def shade(self, w):
        all_cells = w.panel.cells // w.panel.diodes
        return lambda s, p, g: [(all_cells - w.cells, 1.0), (w.cells, w.degree)] if s == 0 and p == 0 and g == 0 else None


class BypassedGroup(ShadeSome):
    """A fault begins in the first morning and stays."""

    name, cause = "bypassed-group", "bypassed-group"

    def prepare(self, w):
        w.always = w.dice.uniform(8.0, 11.0)

    def shade(self, w):
        return lambda s, p, g: [] if s == 0 and p == 0 and g == 0 else None


class MissingString(Shade):
    name, cause, wirings = "missing-string", "missing-string", [(2, 2), (2, 3), (3, 2)]

    def prepare(self, w):
        w.always = w.dice.uniform(8.0, 11.0)

    def row(self, w):
        if not w.at_work():
            return Healthy.row(self, w)
        array = w.shaded(None, parallel=w.parallel - 1)
        v, a = array.best(w.real)
        return v, a, {self.cause: w.possible_w - v * a}


class LocalMaximum(ShadeSome):
    """Shade on panels of every string, and an input that stays on the hill it was on."""

    name, every = "tracker-on-a-local-maximum", True

    def prepare(self, w):
        w.of = int(w.dice.integers(1, w.series))
        # The share at which both hills are alike, and a depth on the side where staying high is wrong.
        alike = (w.series - w.of) / w.series
        w.degree = alike * w.dice.uniform(0.45, 0.75)

    def row(self, w):
        if not w.at_work():
            return Healthy.row(self, w)
        array = w.shaded(self.shade(w))
        hills = array.hills()
        best = max(v * a for v, a in hills)
        v, a = hills[-1]
        return v, a, {"shade": w.possible_w - best, "local-maximum": best - v * a}


class FixedVoltage(Healthy):
    name = "tracker-at-a-fixed-voltage"

    def prepare(self, w):
        w.fixed_v = w.vmp * (w.dice.uniform(0.72, 0.84) if w.dice.random() < 0.6 else w.dice.uniform(1.03, 1.08))

    def row(self, w):
        if not w.at_work() or w.bare.open_v <= w.fixed_v:
            return Healthy.row(self, w)
        v = w.fixed_v * (1.0 + w.dice.normal(0.0, 0.001))
        a = w.bare.at(v)
        return v, a, {"fixed-voltage": w.possible_w - v * a}


class SlowTracker(Healthy):
    """The current asked for follows the light with minutes' delay; asked for too much, the volts fall to the window's bottom."""

    name = "tracker-lags"

    def prepare(self, w):
        w.lag_min = w.dice.uniform(2.0, 8.0)
        w.asked_a = {}

    def row(self, w):
        asked = w.asked_a.get(w.day.number, w.top[1])
        asked += (w.top[1] - asked) / w.lag_min
        w.asked_a[w.day.number] = asked
        floor_v = 0.55 * w.top[0]
        most = w.bare.at(floor_v)
        if asked < most:
            v = w.bare.at_amps(asked)
            a = w.bare.at(v)
        else:
            v, a = floor_v, most
        lost = w.possible_w - v * a
        return v, a, {"slow-tracker": lost} if lost > 0.004 * w.possible_w else {}


class Unexplained(Healthy):
    name = "unexplained"

    def row(self, w):
        if not w.at_work():
            return super().row(w)
        v, a = 0.62 * w.top[0], 0.55 * w.top[1]
        return v, a, {"unexplained": w.possible_w - v * a}


class Dull(Healthy):
    name = "healthy-dull"


SCENES = [Healthy, PowerLimit, PowerLimitOff, PowerLimitBelow, CurrentLimit, CurrentLimitOff, CurrentLimitBands, BelowWindow, AboveWindow, CableLoss, Tripped,
          TripNearFull, Battery, Wall, Display, BypassedGroup, MissingString, ShadeAll, ShadeSome, ShadeEvery, ShadeMild, ShadeGroup,
          Chimney, Leaf, LocalMaximum, FixedVoltage, SlowTracker, Unexplained]


def made_log(scene, seed, bias, placed=False):
    return World(scene(), seed, bias, placed).made()

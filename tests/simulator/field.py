"""Arrays and inputs: what a wiring gives at each voltage, and where an input holds it."""
from dataclasses import dataclass, field

import numpy as np

from de_soto import BYPASS_V, cell_curve, currents_for, volts_at


@dataclass
class Window:
    """What an input takes: volts between two, bands of (from, to, amps), watts."""

    low_v: float
    high_v: float
    bands: list = field(default_factory=list)
    power_w: float = np.inf
    start_v: float = 0.0
    from_below: bool = False  # where a limit of watts holds it

    def amps_at(self, volts):
        if not self.bands:
            return np.full_like(volts, np.inf)
        most = np.zeros_like(volts)
        for low, high, amps in self.bands:
            most = np.where((volts >= low) & (volts <= high), np.maximum(most, amps), most)
        return most

    def allows(self, volts, amps):
        slack = 1.0 + 1e-9
        return ((volts >= self.low_v) & (volts <= self.high_v) & (amps <= self.amps_at(volts) * slack) &
                (volts * amps <= self.power_w * slack))


class Array:
    """Strings in parallel, at one moment. A string is a list of groups, each a list of (cells, light share)."""

    def __init__(self, panel, strings, light, degc, string_ohm=0.0, trunk_ohm=0.0):
        self.trunk_ohm = trunk_ohm
        self.tables = []
        cache = {}
        cells = {}
        wanted = currents_for(panel, light)
        for string in strings:
            key = tuple(sorted(tuple(g) for g in string))
            if key not in cache:
                volts = np.zeros_like(wanted)
                for group in string:
                    part = np.zeros_like(wanted)
                    for count, share in group:
                        if share not in cells:
                            v, i = cell_curve(panel, light * share, degc)
                            cells[share] = volts_at(i[0], v[0], wanted)
                        part += count * cells[share]
                    volts += np.maximum(part, -BYPASS_V) if panel.diodes else part
                volts -= wanted * string_ohm
                cache[key] = (volts[::-1].copy(), wanted[::-1].copy())  # volts rise
            self.tables.append(cache[key])
        self.open_v = max(float(np.interp(0.0, t[1][::-1], t[0][::-1])) for t in self.tables) if self.tables else 0.0

    def amps(self, volts):
        total = np.zeros_like(volts)
        if not self.tables:
            return total
        if self.trunk_ohm == 0.0:
            for v, i in self.tables:
                total += np.interp(volts, v, i)
            return total
        joint = volts.copy()  # volts at the joint: V + I*R, found by turning the curve round
        inside = np.linspace(0.0, self.open_v * 1.02, 1500)
        amps = np.zeros_like(inside)
        for v, i in self.tables:
            amps += np.interp(inside, v, i)
        return np.interp(joint, inside - amps * self.trunk_ohm, amps)

    def best(self, window=None):
        """The best allowed (volts, amps), or None."""
        if self.open_v <= 0.0:
            return None
        if window is not None and np.isfinite(window.power_w):
            # Held back by watts it stands right of the maximum, or left of it.
            free = self.best(Window(window.low_v, window.high_v, window.bands))
            if free is None or free[0] * free[1] <= window.power_w:
                return free
            grid = np.linspace(0.0, free[0], 3000) if window.from_below else np.linspace(free[0], self.open_v, 3000)
            watts = grid * self.amps(grid)
            v = float(np.interp(window.power_w, watts, grid) if window.from_below else np.interp(-window.power_w, -watts, grid))
            return (v, window.power_w / v) if window.low_v <= v <= window.high_v else None
        grid = np.linspace(0.0, self.open_v, 420)
        found = self._best_on(grid, window)
        if found is None:
            # What is allowed may lie between two points.
            found = self._best_on(np.linspace(0.0, self.open_v, 8000), window)
            if found is None:
                return None
        step = grid[1]
        return self._best_on(np.linspace(max(0.0, found[0] - step), min(self.open_v, found[0] + step), 500), window) or found

    def _best_on(self, grid, window):
        amps = self.amps(grid)
        watts = grid * amps
        if window is not None:
            watts = np.where(window.allows(grid, amps), watts, -1.0)
        at = int(np.argmax(watts))
        return (float(grid[at]), float(amps[at])) if watts[at] > 0.0 else None

    def hills(self):
        """Every local maximum of the watts, by rising volts."""
        grid = np.linspace(0.0, self.open_v, 900)
        amps = self.amps(grid)
        watts = grid * amps
        tops = [k for k in range(1, len(grid) - 1) if watts[k] > watts[k - 1] and watts[k] >= watts[k + 1]]
        return [(float(grid[k]), float(amps[k])) for k in tops]

    def at(self, volts):
        return float(self.amps(np.array([volts]))[0])

    def at_amps(self, amps):
        """The highest volts at which so much flows."""
        grid = np.linspace(0.0, self.open_v, 4000)
        return float(np.interp(-amps, -self.amps(grid), grid))

    def held_at_power(self, watts):
        """Right of the maximum."""
        top = self.best()
        if top is None or watts >= top[0] * top[1]:
            return top
        grid = np.linspace(top[0], self.open_v, 4000)
        power = grid * self.amps(grid)
        v = float(np.interp(-watts, -power, grid))
        return v, watts / v


def strings_of(panel, series, parallel, shade=None):
    """Plain strings, or with `shade(string, panel, group) -> [(cells, share)] or None`."""
    cells = panel.cells // panel.diodes
    out = []
    for s in range(parallel):
        groups = []
        for p in range(series):
            for g in range(panel.diodes):
                mixed = shade(s, p, g) if shade else None
                groups.append(mixed if mixed is not None else [(cells, 1.0)])
        out.append(groups)
    return out

"""The laws of De Soto, Klein & Beckman (Solar Energy 80, 2006) for one cell, and cells in series: groups, panels, strings.

Written for the judges beside it, from the paper's equations; nothing here comes from the library that is judged. A cell is

    I = IL - I0*(exp(u/a) - 1) - u/Rsh * (1 + b*(1 - u/Vbr)^-m),      V = u - I*Rs

with the last factor that of J. W. Bishop (Solar Cells 25, 1988) for a cell driven backward. A panel is made from its five
parameters, and its datasheet is read off its curve, so the two agree by construction.
"""
from dataclasses import dataclass

import numpy as np

BOLTZMANN_EV = 8.617333262e-5
STC_K = 298.15
BYPASS_V = 0.45
# A cell driven backward: the example of Bishop's paper [from memory].
BREAKDOWN_V, BREAKDOWN_SHARE, BREAKDOWN_POWER = -15.0, 0.10, 3.7


@dataclass(frozen=True)
class Panel:
    """Five parameters at test conditions, per cell; `isc_per_k` is the coefficient of the light current, as a share."""

    name: str
    technology: str
    cells: int
    diodes: int
    light_a: float
    voc_v: float  # of a cell
    ideality: float
    series_ohm: float
    shunt_ohm: float
    isc_per_k: float = 0.0005
    noct_degc: float = 45.0
    weaker: float = 1.0  # an exponent on the shunt's share of light: 1 is De Soto's law

    def scaled(self, amps, volts, series):
        """A panel of the same kind that is not quite its datasheet."""
        return Panel(self.name, self.technology, self.cells, self.diodes, self.light_a * amps, self.voc_v * volts,
                     self.ideality, self.series_ohm * series, self.shunt_ohm, self.isc_per_k, self.noct_degc, self.weaker)


PANELS = [
    Panel("Heath 180", "perc", 36, 2, 9.30, 0.682, 1.00, 0.0062, 16.0),
    Panel("Moor 300", "mono", 60, 3, 9.75, 0.660, 1.02, 0.0050, 14.0, noct_degc=46.0),
    Panel("Fen 110", "back-contact", 32, 2, 6.20, 0.715, 1.03, 0.0075, 30.0, isc_per_k=0.0004, noct_degc=47.0),
    Panel("Fell 370", "perc", 72, 3, 9.85, 0.668, 0.98, 0.0052, 15.0),
    Panel("Carr 100", "poly", 36, 2, 5.95, 0.610, 1.05, 0.0095, 12.0, isc_per_k=0.0006, noct_degc=47.0),
]


def cell_terms(panel, light, degc):
    """IL, I0, a, Rs, Rsh of a cell; `light` in W/m2 and `degc` may be arrays."""
    light = np.maximum(np.asarray(light, float), 1e-3)
    kelvin = np.asarray(degc, float) + 273.15
    a_stc = panel.ideality * BOLTZMANN_EV * STC_K
    saturation_stc = (panel.light_a - panel.voc_v / panel.shunt_ohm) / np.expm1(panel.voc_v / a_stc)
    gap_stc = 1.121
    gap = gap_stc * (1.0 - 0.0002677 * (kelvin - STC_K))
    saturation = saturation_stc * (kelvin / STC_K) ** 3 * np.exp(gap_stc / (BOLTZMANN_EV * STC_K) - gap / (BOLTZMANN_EV * kelvin))
    share = light / 1000.0
    light_a = share * panel.light_a * (1.0 + panel.isc_per_k * (kelvin - STC_K))
    return light_a, saturation, a_stc * kelvin / STC_K, panel.series_ohm, panel.shunt_ohm / share**panel.weaker


_BACK = -(14.8 * np.linspace(1.0, 0.0, 70) ** 2)
_KNEE = np.concatenate([np.linspace(0.0, 0.9, 120), 0.9 + 0.1 * np.linspace(0.0, 1.0, 120)[1:], np.linspace(1.0, 1.6, 60)[1:]])
_RISE = np.linspace(0.0, 0.97, 60)[1:]


def cell_curve(panel, light, degc):
    """Volts and amps of a cell, rows x points; volts rise along a row."""
    light_a, saturation, a, series, shunt = [np.asarray(x, float).reshape(-1, 1) for x in np.broadcast_arrays(*cell_terms(panel, light, degc))]
    open_v = a * np.log1p(light_a / saturation)
    knee = a * np.log1p(_KNEE * light_a / saturation)
    u = np.sort(np.concatenate([np.broadcast_to(_BACK, (len(a), len(_BACK))), knee, _RISE * open_v], axis=1), axis=1)
    back = 1.0 + BREAKDOWN_SHARE * (1.0 - np.minimum(u, 0.0) / BREAKDOWN_V) ** -BREAKDOWN_POWER * (u < 0.0)
    amps = light_a - saturation * np.expm1(u / a) - u / shunt * back
    return u - amps * series, amps


def volts_at(amps, volts, wanted):
    """A row's volts at currents that rise; the curve's amps fall."""
    return np.interp(wanted, amps[::-1], volts[::-1])


def group_volts(panel, lights, degc, wanted):
    """Volts of one bypass group at each wanted current (1-d, rising), of one row. `lights`: (cells, light) pairs."""
    total = np.zeros_like(wanted)
    for cells, light in lights:
        v, i = cell_curve(panel, light, degc)
        total += cells * volts_at(i[0], v[0], wanted)
    return np.maximum(total, -BYPASS_V) if panel.diodes else total


def currents_for(panel, light, points=1000):
    """Currents at which to know a string's volts: dense where a curve bends. Between them volts are a straight line, so that a
    maximum of the power lies at one of them: 260 of them moved it by up to 3 % of its volts."""
    most = 1.35 * panel.light_a * max(light, 1.0) / 1000.0
    x = np.linspace(-1.0, 1.0, points)
    return np.sort(np.concatenate([most * x[x < 0.0] * 0.6, most * (1.0 - (1.0 - x[x >= 0.0]) ** 1.5)]))


def datasheet(panel):
    """What its maker prints, at a printer's digits."""
    def points(degc, light=1000.0):
        v, i = cell_curve(panel, light, degc)
        v, i = v[0] * panel.cells, i[0]
        fine = np.linspace(0.0, volts_at(i, v, np.array([0.0]))[0], 20001)
        amps = np.interp(fine, v, i)
        best = np.argmax(fine * amps)
        return amps[0], fine[-1], fine[best], amps[best]
    isc, voc, vmp, imp = points(25.0)
    _, voc_hot, vmp_hot, imp_hot = points(50.0)
    return {"isc": round(isc, 2), "voc": round(voc, 1), "vmp": round(vmp, 1), "imp": round(imp, 2), "pmax": round(vmp * imp, 0),
            "voc_per_k": round((voc_hot / voc - 1.0) / 25.0 * 100.0, 2),
            "pmax_per_k": round((vmp_hot * imp_hot / (vmp * imp) - 1.0) / 25.0 * 100.0, 2),
            "isc_per_k": round(panel.isc_per_k * 100.0, 3)}

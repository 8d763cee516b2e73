# A made-up log of any length for timing: eight columns, a row every ten seconds, clouds, nights, noise.
#
#     python3 tests/bench/long_log.py 1000000 > million.csv
#     python3 tests/bench/long_log.py 1000000 causes > causes.csv    the same with something else the matter each day
import math
import random
import sys

random.seed(4)


def nothing(volts, amps, hour):
    return volts, amps, 0


def tripped(volts, amps, hour):
    return (volts * 1.2, 0.0, 0) if 11 < hour < 13 else (volts, amps, 0)


def battery(volts, amps, hour):
    return (volts * 1.12, amps * 0.6, 0) if hour > 13 else (volts, amps, 0)


def wall(volts, amps, hour):
    return (volts * 1.14, amps * 0.5, 400) if 10 < hour < 12 else (volts, amps, 0)


def missing_string(volts, amps, hour):
    return volts, amps * 0.5, 0


def shade(volts, amps, hour):
    return (volts, amps * 0.7, 0) if 14 < hour < 16 else (volts, amps, 0)


def bypassed_group(volts, amps, hour):
    return volts * 0.83, amps, 0


def fixed_voltage(volts, amps, hour):
    return (volts * 0.8, amps * 1.04, 0) if hour > 9 else (volts, amps, 0)


def odd(volts, amps, hour):
    return (volts * 0.5, amps * 0.3, 0) if 12 < hour < 14 else (volts, amps, 0)


matters = [nothing, tripped, battery, wall, missing_string, shade, bypassed_group, fixed_voltage, odd]
causes = len(sys.argv) > 2
print("time,volts,amps,irradiance [W/m²],air temperature [°C],panel temperature [°C],state of charge [%],wall charging [W]")
cloud = 1.0
for i in range(int(sys.argv[1])):
    time_s = 10 * i
    day = time_s % 86400 / 86400
    height = max(0.0, math.sin(2 * math.pi * (day - 0.25)))
    cloud = min(1.0, max(0.15, cloud + 0.01 * random.gauss(0, 1)))
    light = 1000 * height**1.2 * cloud
    air = 15 + 8 * math.sin(2 * math.pi * (day - 0.35))
    cell = air + 0.035 * light
    volts = 0.0
    if light > 2:
        volts = 2 * 19.9 * (1 - 0.0029 * (cell - 25)) * (1 + 0.03 * math.log(max(light, 1) / 1000))
    amps = 2 * 5.53 * light / 1000
    charge = 40 + 40 * day
    from_wall = 0
    if causes:
        matter = matters[time_s // 86400 % len(matters)]
        volts, amps, from_wall = matter(volts, amps, 24 * day)
        if matter is battery and day > 0.5:
            charge = 96
    volts *= 1 + 0.003 * random.gauss(0, 1)
    amps *= 1 + 0.007 * random.gauss(0, 1)
    seen = light * (1 + 0.02 * random.gauss(0, 1))
    warm = cell + random.gauss(0, 1)
    print(f"{time_s},{volts:.1f},{amps:.1f},{seen:.0f},{air:.1f},{warm:.1f},{charge:.0f},{from_wall}")

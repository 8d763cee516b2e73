# A made-up log of any length for timing: eight columns, a row every ten seconds, clouds, nights, noise.
#
#     python3 tests/bench/long_log.py 1000000 > million.csv
import math
import random
import sys

random.seed(4)
print("time,volts,amps,irradiance,air temperature,panel temperature,state of charge,wall charging")
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
    volts *= 1 + 0.003 * random.gauss(0, 1)
    amps *= 1 + 0.007 * random.gauss(0, 1)
    seen = light * (1 + 0.02 * random.gauss(0, 1))
    warm = cell + random.gauss(0, 1)
    print(f"{time_s},{volts:.1f},{amps:.1f},{seen:.0f},{air:.1f},{warm:.1f},{40 + 40 * day:.0f},0")

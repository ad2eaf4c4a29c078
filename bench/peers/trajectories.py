"""The peer in SciPy: solve_ivp with DOP853, events and dense output. Usage as of trajectories.c, and how many draws
of the file one round follows: it is a few hundred times slower."""
import math
import struct
import sys
import time

from scipy.integrate import solve_ivp

model, rows_file, count, rtol, atol, results_file, interval, lasts = sys.argv[1:9]
count, rtol, atol, interval, lasts = int(count), float(rtol), float(atol), float(interval), float(lasts)
columns = 8 if model == "chain" else 4
with open(rows_file, "rb") as file:
    rows = [struct.unpack(f"<{columns}d", file.read(8 * columns)) for _ in range(count)]


def chain(row):
    L, lam, R, I, tau, g, x0, c = row
    k, f, scale, inertia = 2 * lam * g, tau / R, 0.01 * math.sqrt(g * L), lam * L + I / R**2

    def rates(t, y):
        return (y[1], (k * y[0] - f * math.tanh(y[1] / scale) - c * y[1] ** 2) / inertia)

    def stop(t, y):
        return y[0] - 0.45 * L

    stop.terminal = True
    found = solve_ivp(rates, (0, 1e3), (x0, 0.0), method="DOP853", rtol=rtol, atol=atol, events=stop, dense_output=True)
    end = found.t[-1]
    samples = int(math.floor(end / interval)) + 1
    values = found.sol([k * interval for k in range(samples)])[1]
    return end, samples, values[-1]


def pendulum(row):
    l, g, c, a = row
    k = g / l

    def rates(t, y):
        return (y[1], -k * math.sin(y[0]) - c * y[1])

    def passes(t, y):
        return y[0]

    found = solve_ivp(rates, (0, lasts), (a, 0.0), method="DOP853", rtol=rtol, atol=atol, events=passes)
    times = found.t_events[0]
    return found.t[-1], len(times), times[-1]


follow = chain if model == "chain" else pendulum
for _ in sys.stdin:
    begin = time.process_time()
    found = [follow(row) for row in rows]
    seconds = time.process_time() - begin
    with open(results_file, "wb") as file:
        for numbers in found:
            file.write(struct.pack("<3d", *numbers))
    print(f"{seconds:.9f}", flush=True)

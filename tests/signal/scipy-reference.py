"""Reference figures for tests/signal/scipy-reference.test.ts.

Run:  /usr/bin/python3 tests/signal/scipy-reference.py > tests/signal/scipy-reference.json
Made with scipy 1.10.1 and numpy 1.24.2; the versions are written into the file. Every row names the call.
The test signal is the linear congruential generator of Numerical Recipes, s = 1664525 s + 1013904223 mod
2^32, seed 12345, as 2 s / 2^32 - 1, so that both sides can make it without exchanging samples.
"""

import json

import numpy
import scipy
from scipy import signal, stats

RATE_HZ = 16000


def uniform(count, seed=12345):
    state = seed
    values = []
    for _ in range(count):
        state = (1664525 * state + 1013904223) % 2**32
        values.append(2 * state / 2**32 - 1)
    return numpy.array(values)


def rounded(values):
    return [float(f"{v:.9g}") for v in numpy.asarray(values).ravel()]


def tones(count, rate_hz, table):
    time = numpy.arange(count) / rate_hz
    return sum(a * numpy.cos(2 * numpy.pi * hz * time + p) for hz, a, p in table)


noise = uniform(2048)
# Whole periods in 8192 samples at 16 kHz, all between 1.2 and 2.8 kHz.
BIN = RATE_HZ / 8192
IN_BAND = [(640 * BIN, 1.0, 0.3), (777 * BIN, 0.7, 1.1), (901 * BIN, 0.5, 2.0), (1300 * BIN, 0.9, 0.1)]
IN_48K = [(300.0, 1.0, 0.4), (2100.0, 0.6, 1.3), (5200.0, 0.4, 2.2)]

low = signal.butter(4, 700, "low", fs=RATE_HZ, output="sos")
high = signal.butter(4, 6000, "high", fs=RATE_HZ, output="sos")
envelope = numpy.abs(signal.hilbert(tones(8192, RATE_HZ, IN_BAND))) ** 2
resampled = signal.resample_poly(tones(9600, 48000, IN_48K), 1, 3, window=("kaiser", 8.0))

rows = {
    "hann": ["scipy.signal.windows.hann(16, sym=False)", signal.windows.hann(16, sym=False)],
    "flat-top": ["scipy.signal.windows.flattop(16, sym=False)", signal.windows.flattop(16, sym=False)],
    "welch": [
        "scipy.signal.welch(noise, fs=16000, window='hann', nperseg=256, noverlap=128, detrend=False)[1]",
        signal.welch(noise, fs=RATE_HZ, window="hann", nperseg=256, noverlap=128, detrend=False)[1],
    ],
    "low-pass": [
        "scipy.signal.sosfilt(butter(4, 700, 'low', fs=16000, output='sos'), noise)[200:232]",
        signal.sosfilt(low, noise)[200:232],
    ],
    "high-pass": [
        "scipy.signal.sosfilt(butter(4, 6000, 'high', fs=16000, output='sos'), noise)[200:232]",
        signal.sosfilt(high, noise)[200:232],
    ],
    "running-median": ["scipy.signal.medfilt(noise, 9)[100:132]", signal.medfilt(noise, 9)[100:132]],
    "envelope": ["abs(scipy.signal.hilbert(tones))**2 [1000:1256:4]", envelope[1000:1256:4]],
    "resample": [
        "scipy.signal.resample_poly(tones48k, 1, 3, window=('kaiser', 8.0))[1000:1032]",
        resampled[1000:1032],
    ],
    "kurtosis": ["scipy.stats.kurtosis(noise, fisher=True, bias=True)", [stats.kurtosis(noise)]],
}

print(
    json.dumps(
        {
            "tool": "scipy",
            "version": scipy.__version__,
            "numpy": numpy.__version__,
            "tones": IN_BAND,
            "tones48k": IN_48K,
            "rows": {name: {"call": call, "values": rounded(values)} for name, (call, values) in rows.items()},
        },
        indent=1,
    )
)

"""CPU seconds of scipy for what the floor of bench-triage.ts does: read WAV files and make one
spectrogram of each, 4096 samples every 1024, Hann window, double precision.

    python3 tests/tools/scipy-spectrograms.py FILE.wav...
"""

import sys
import time

import numpy as np
from scipy.io import wavfile
from scipy.signal import stft


def listen(path):
    rate, samples = wavfile.read(path)
    mono = np.asarray(samples if samples.ndim == 1 else samples[:, 0], dtype=np.float64)
    _, _, frames = stft(mono, rate, window="hann", nperseg=4096, noverlap=4096 - 1024)
    return np.abs(frames) ** 2


files = sys.argv[1:]
for warm in files[:5]:
    listen(warm)
before = time.process_time()
for name in files:
    listen(name)
print(time.process_time() - before)

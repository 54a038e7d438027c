/**
 * A RIFF WAVE file, 16-bit PCM, one channel.
 *
 * @param samples shape [n], full scale ±1; values beyond are clipped
 * @returns the bytes of the file, 44 + 2n
 *
 * Layout: Microsoft and IBM, Multimedia Programming Interface and Data Specifications 1.0 (1991).
 */
export function wavBytes(samples: Float32Array, sampleRateHz: number): Uint8Array {
  const dataLength = 2 * samples.length;
  const bytes = new Uint8Array(44 + dataLength);
  const view = new DataView(bytes.buffer);
  const text = (offset: number, word: string) => {
    for (let i = 0; i < word.length; i++) bytes[offset + i] = word.charCodeAt(i);
  };
  text(0, "RIFF");
  view.setUint32(4, 36 + dataLength, true);
  text(8, "WAVEfmt ");
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true); // PCM
  view.setUint16(22, 1, true); // one channel
  view.setUint32(24, sampleRateHz, true);
  view.setUint32(28, 2 * sampleRateHz, true);
  view.setUint16(32, 2, true);
  view.setUint16(34, 16, true);
  text(36, "data");
  view.setUint32(40, dataLength, true);
  for (let i = 0; i < samples.length; i++) {
    const clipped = Math.max(-1, Math.min(1, samples[i]!));
    view.setInt16(44 + 2 * i, Math.round(clipped * 32_767), true);
  }
  return bytes;
}

declare module "wav-decoder" {
  /** wav-decoder 1.3.0 ships no types; only what is used here. */
  interface WavSamples {
    readonly channelData: Float32Array[];
  }
  const wavDecoder: {
    readonly decode: {
      sync(buffer: ArrayBuffer, options: { symmetric: boolean }): WavSamples;
    };
  };
  export default wavDecoder;
}

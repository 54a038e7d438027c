declare module "fft.js" {
  /** fft.js 4.0.4 ships no usable types; complex arrays interleave real and imaginary parts. */
  export default class FFT {
    constructor(size: number);
    createComplexArray(): number[];
    realTransform(out: Float64Array, data: Float64Array): void;
    transform(out: Float64Array, data: Float64Array): void;
    inverseTransform(out: Float64Array, data: Float64Array): void;
  }
}

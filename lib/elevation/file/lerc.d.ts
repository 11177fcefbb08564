/** The part of the decoder's interface that is used here; the package ships no types. */
declare module 'lerc' {
  interface DecodedLerc {
    readonly width: number;
    readonly height: number;
    /** One array, with the bands of a pixel side by side when asked for so. */
    readonly pixels: readonly { readonly buffer: ArrayBuffer }[];
    /** One value for each pixel, zero where it holds none; absent when all do. */
    readonly mask?: Uint8Array | null;
  }
  const lerc: {
    decode(
      bytes: ArrayBuffer,
      options: { readonly returnPixelInterleavedDims: boolean },
    ): DecodedLerc;
  };
  export default lerc;
}

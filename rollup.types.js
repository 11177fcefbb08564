import dts from 'rollup-plugin-dts';

/**
 * An open raster is a handle. What the decoder's own type says of it would ask every program for the DOM's types, so
 * outside it is an object and no more.
 */
const opaqueImage = {
  name: 'opaque-image',
  renderChunk(code) {
    const imported = "import { GeoTIFFImage } from 'geotiff';";
    if (!code.includes(imported)) throw new Error('the type of an open raster is not imported');
    return code.replace(imported, 'type GeoTIFFImage = object;');
  },
};

/** Declarations of the library in one file, beside its module. */
export default {
  input: 'lib/index.ts',
  output: { file: 'dist/lib/index.d.ts', format: 'es' },
  plugins: [dts(), opaqueImage],
};

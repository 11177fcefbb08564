import type { GeoTIFFImage } from 'geotiff';

/** How a file writes its coordinate system down, so that another one in the same system can be written; plain data. */
export interface WrittenSystem {
  /** GeoTIFF keys as they stand in the directory, four numbers for each: number, tag, count, value or place. */
  readonly keys: readonly (readonly number[])[];
  /** What keys refer to by place. */
  readonly doubles: readonly number[];
  readonly text: string;
  /** By which the file's coordinates are multiplied to be those of the frame's projection. */
  readonly unitFactor: number;
}

const RASTER_TYPE = 1025;
/** Keys from here on are about heights. */
const VERTICAL = 4096;

/** Takes the system of a file's map from its keys; whether cells are areas and what heights are in is left out. */
export function writtenSystem({ fileDirectory }: GeoTIFFImage, unitFactor: number): WrittenSystem {
  const directory = Array.from(fileDirectory.getValue('GeoKeyDirectory') ?? []);
  const keys: number[][] = [];
  for (let at = 4; at + 4 <= directory.length; at += 4) keys.push(directory.slice(at, at + 4));
  return {
    keys: keys.filter(([key]) => key !== RASTER_TYPE && key < VERTICAL),
    doubles: Array.from(fileDirectory.getValue('GeoDoubleParams') ?? []),
    text: (fileDirectory.getValue('GeoAsciiParams') ?? '').replace(/\0+$/, ''),
    unitFactor,
  };
}

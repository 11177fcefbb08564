import { localFrame, makeFrame, type Frame } from './frame';

/** The frame to measure in where there is no elevation: one centred on a box of longitudes and latitudes. */
export function frameAround([west, south, east, north]: readonly [
  number,
  number,
  number,
  number,
]): Frame {
  return makeFrame(localFrame([(west + east) / 2, (south + north) / 2]));
}

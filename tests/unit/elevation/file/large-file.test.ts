import { mkdtemp, open, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cornerAndCell, geoKeys, long, short, writeTiff } from '../../../../fixtures/broken/tiff';
import { openElevation } from '../../../../lib/elevation/file/open-elevation';
import { readWindow } from '../../../../lib/elevation/window/read-window';
import { ownMsSince } from '../../own-time';
import { lngLatAt, UTM_KEYS } from '../plane';

/**
 * A file of 419 MB on disk: 40 by 40 tiles of 256 by 256 floats at half a metre. Every tile holds the same
 * ramp, so that heights tell the place within a tile and the file is quick to write.
 */
const tile = 256;
const across = 40;
const cell = 0.5;
const west = 320_000;
const north = 4_305_120;
const tileBytes = tile * tile * 4;
let folder = '';
let path = '';

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'lotfall-'));
  path = join(folder, 'large.tif');
  const count = across * across;
  const tags = {
    256: long(tile * across),
    257: long(tile * across),
    258: short(32),
    259: short(1),
    262: short(1),
    277: short(1),
    339: short(3),
    322: short(tile),
    323: short(tile),
    ...cornerAndCell(west, north, cell),
    34735: geoKeys(UTM_KEYS),
  };
  const header = (start: number) =>
    writeTiff({
      tags: {
        ...tags,
        324: long(...Array.from({ length: count }, (_, i) => start + i * tileBytes)),
        325: long(...new Array<number>(count).fill(tileBytes)),
      },
      blocks: [],
    });
  const start = header(0).length;
  const ramp = new Float32Array(tile * tile).map(
    (_, i) => 10 + (i % tile) / 100 + Math.floor(i / tile) / 1000,
  );
  const row = Buffer.alloc(tileBytes * across);
  for (let i = 0; i < across; i++) row.set(new Uint8Array(ramp.buffer), i * tileBytes);
  const file = await open(path, 'w');
  await file.write(header(start));
  for (let i = 0; i < across; i++) await file.write(row);
  await file.close();
});
afterAll(async () => {
  await rm(folder, { recursive: true });
});

describe('a tiled file of 400 MB', () => {
  it('gives a lot in half a second and little memory', async () => {
    const middle = lngLatAt(west + 2560.3, north - 2560.3);
    const request = {
      area: [middle[0] - 2e-4, middle[1] - 2e-4, middle[0] + 2e-4, middle[1] + 2e-4] as const,
      marginM: 80,
    };
    const before = process.memoryUsage().rss;
    const started = process.cpuUsage();
    const file = await openElevation({ name: 'large.tif', path });
    const { grid } = await readWindow(file, request);
    const tookMs = ownMsSince(started);
    const memoryMB = (process.memoryUsage().rss - before) / 1e6;
    expect(file.description.width * file.description.height * 4).toBe(419_430_400);
    expect(grid.width * grid.height).toBeGreaterThan(100_000);
    expect(tookMs).toBeLessThan(500);
    expect(memoryMB).toBeLessThan(300);
    // Each height against the place within its tile.
    for (const i of [0, 5000, grid.z.length - 1]) {
      const east = (grid.westM + ((i % grid.width) + 0.5) * grid.cellM) / grid.frame.metresPerUnit;
      const down =
        (grid.northM - (Math.floor(i / grid.width) + 0.5) * grid.cellM) / grid.frame.metresPerUnit;
      const column = Math.floor((east + grid.frame.originEast - west) / cell) % tile;
      const row = Math.floor((north - down - grid.frame.originNorth) / cell) % tile;
      expect(grid.z[i] + grid.datumM).toBeCloseTo(10 + column / 100 + row / 1000, 4);
    }
  });
});

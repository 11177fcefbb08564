import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { Area } from '../../../../lib/elevation/window/area';
import { openElevation } from '../../../../lib/elevation/file/open-elevation';
import { readWindow } from '../../../../lib/elevation/window/read-window';
import { InputError } from '../../../../lib/errors';
import { lngLatAt } from '../plane';

const folder = fileURLToPath(new URL('../../../../fixtures/broken/', import.meta.url));
const files = readdirSync(folder).filter((name) => name.endsWith('.tif'));

/** For each file: the code of its refusal, or the notes that come with the grid. */
const answers: Record<string, string | readonly string[]> = {
  'sound.tif': [],
  'not-a-tiff.tif': 'elevation-not-tiff',
  'web-page.tif': 'elevation-not-tiff',
  'empty.tif': 'elevation-not-tiff',
  'header-only.tif': 'elevation-truncated',
  'directory-cut.tif': 'elevation-damaged',
  'data-cut.tif': 'elevation-truncated',
  'no-georeference.tif': 'elevation-no-georeference',
  'no-system.tif': 'elevation-no-crs',
  'control-points.tif': 'elevation-control-points',
  'cells-without-size.tif': 'elevation-no-georeference',
  'unknown-system.tif': 'elevation-unknown-crs',
  'older-datum.tif': 'elevation-datum-shift',
  'off-the-globe.tif': 'elevation-place-impossible',
  'feet-without-vertical-unit.tif': 'elevation-vertical-unit',
  'all-nodata.tif': 'elevation-all-nodata',
  'nodata-rounded-in-text.tif': ['area-without-data'],
  'nodata-not-named.tif': ['absurd-heights', 'area-without-data'],
  'zeros-for-nodata.tif': ['zeros-taken-as-void', 'area-without-data'],
  'whole-metres.tif': ['coarse-steps'],
  'centimetres-unsaid.tif': ['vertical-unit-assumed', 'coarse-steps', 'implausibly-steep'],
  'cells-of-3-m.tif': ['coarse-cells'],
  'cells-of-10-m.tif': ['too-coarse-cells'],
  'picture.tif': 'elevation-is-picture',
  'brightness.tif': 'elevation-is-picture',
  'lzma.tif': 'elevation-compression',
  'odd-numbers.tif': 'elevation-number-format',
  'damaged-block.tif': 'elevation-damaged',
  'short-block.tif': 'elevation-damaged',
  'one-giant-strip.tif': 'elevation-block-too-large',
  'absurd-size.tif': 'elevation-bad-size',
  'no-size.tif': 'elevation-bad-size',
  'absurd-tile.tif': 'elevation-bad-size',
  'block-longer-than-its-cells.tif': 'elevation-truncated',
  'directory-in-a-circle.tif': [],
};

async function read(name: string) {
  const blob = new Blob([readFileSync(folder + name)]);
  const file = await openElevation({ name, blob });
  const { west, south, east, north } = file.description.bounds;
  const inset = (from: number, to: number): number => from + 0.02 * (to - from);
  const area: Area = [
    inset(west, east),
    inset(south, north),
    inset(east, west),
    inset(north, south),
  ];
  return readWindow(file, { area, marginM: 0 });
}

describe('each odd or broken file', () => {
  it('has an answer here', () => {
    expect(files).toEqual(Object.keys(answers).sort());
  });

  it.each(files)('%s', async (name) => {
    const answer = answers[name];
    if (typeof answer === 'string') {
      const refusal = await read(name).then(
        () => undefined,
        (error: unknown) => error,
      );
      expect(refusal).toBeInstanceOf(InputError);
      const { code, message } = refusal as InputError;
      expect(code).toBe(answer);
      // One sentence that names the file and ends with what to do.
      expect(message).toMatch(/^[\w.-]+\.tif: [^;]+; [^;]+[^.]\.$/);
    } else {
      const { grid, notes } = await read(name);
      expect(notes.map(({ code }) => code)).toEqual(answer);
      expect(grid.z.some((z) => z >= 1)).toBe(true);
    }
  });
});

describe('what a note or refusal says', () => {
  it('cells of 10 m are no ground for siting', async () => {
    const { notes } = await read('cells-of-10-m.tif');
    expect(notes[0]).toMatchObject({ level: 'warning', refusesSiting: true });
    expect((await read('cells-of-3-m.tif')).notes[0].refusesSiting).toBeUndefined();
  });

  it('no-data marks of every kind leave the same cells', async () => {
    const whole = await read('sound.tif');
    for (const name of ['nodata-rounded-in-text', 'nodata-not-named', 'zeros-for-nodata']) {
      const { grid, lowestM } = await read(`${name}.tif`);
      expect(lowestM).toBeCloseTo(20 + 0.05 * 6 - 0.03 * 19, 4);
      for (let i = 0; i < grid.z.length; i++) {
        if (i % grid.width < 6) expect(grid.z[i]).toBeNaN();
        else expect(grid.z[i] + grid.datumM).toBeCloseTo(whole.grid.z[i] + whole.grid.datumM, 4);
      }
    }
  });

  it('a lot elsewhere is named by where it lies', async () => {
    const name = 'sound.tif';
    const file = await openElevation({ name, blob: new Blob([readFileSync(folder + name)]) });
    const [lng, lat] = lngLatAt(320_500, 4_300_010);
    const area: Area = [lng, lat, lng + 1e-5, lat + 1e-5];
    await expect(readWindow(file, { area, marginM: 0 })).rejects.toThrow(
      /sound\.tif: it does not cover the lot, which lies up to 47\d m beyond it to the east;/,
    );
  });

  it('a size or piece that would exhaust memory is refused without claiming any', async () => {
    const before = process.memoryUsage().arrayBuffers;
    for (const name of [
      'one-giant-strip',
      'absurd-size',
      'absurd-tile',
      'block-longer-than-its-cells',
    ]) {
      await expect(read(`${name}.tif`)).rejects.toBeInstanceOf(InputError);
    }
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(10e6);
  });
});

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { cellAt, cellCentre } from '../../lib/elevation/grid';
import { openElevation } from '../../lib/elevation/file/open-elevation';
import { readWindow } from '../../lib/elevation/window/read-window';
import { makeFrame } from '../../lib/frame/frame';
import { bareLot, demoElevation, demoPlan, save, tempFolder } from './inputs';
import { expectRefused, lotfall } from './run-lotfall';

const at = tempFolder();
const elevation = ['--elevation', demoElevation];

describe('lotfall export', () => {
  it('writes what the ending says, with layers named in our words', async () => {
    const run = await lotfall('export', demoPlan, ...elevation, '--out', at('lot.gpkg'));
    expect(run).toMatchObject({ status: 0, stderr: '' });
    expect(run.stdout).toMatch(/^basin: 1 \(Polygon\)$/m);
    expect(run.stdout).toMatch(/^planting_zone: 3 \(Polygon\)$/m);
    expect(readFileSync(at('lot.gpkg')).subarray(0, 15).toString()).toBe('SQLite format 3');
  });

  it('writes the finished ground, lower in the basin and nowhere else high', async () => {
    await lotfall('export', demoPlan, ...elevation, '--to', 'tif', '--out', at('lot.tif'));
    const [before, after] = await Promise.all(
      [demoElevation, at('lot.tif')].map(async (path) => {
        const file = await openElevation({ name: path, path });
        return (await readWindow(file)).grid;
      }),
    );
    // the window around the lot is smaller than the file; both lie on its cells
    const frames = [makeFrame(before.frame), makeFrame(after.frame)];
    let [deepest, highest] = [0, 0];
    after.z.forEach((z, cell) => {
      const there = frames[0].toLocal(frames[1].toLngLat(cellCentre(after, cell)));
      const change = z + after.datumM - before.z[cellAt(before, ...there)] - before.datumM;
      deepest = Math.min(deepest, change);
      highest = Math.max(highest, change);
    });
    // the basin's ponding depth at least; no building stands in it
    expect(deepest).toBeLessThan(-0.15);
    expect(highest).toBeLessThan(1);
  });

  it('prints text formats, and works without elevation and without a basin', async () => {
    const corners = [
      [8, 50],
      [8.001, 50],
      [8.001, 50.001],
    ] as const;
    const bare = save(at('bare.plan.geojson'), bareLot(corners));
    const run = await lotfall('export', bare, '--to', 'gpx');
    expect(run.stdout).toMatch(/^<\?xml[^]*<trk><name>lot<\/name>[^]*<\/gpx>\n$/);
  });

  it('refuses in one sentence', async () => {
    const call = (...args: readonly string[]) => lotfall('export', demoPlan, ...args);
    expectRefused(await call(), /no format is named; add --to and one of gpx/);
    expectRefused(await call('--to', 'svg'), /no format 'svg' to export to/);
    expectRefused(await call('--to', 'gpkg'), /gpkg is no text to be printed; add --out lot.gpkg/);
    expectRefused(await call('--to', 'gpx', '--out', at('x.kml')), /does not end as gpx does/);
    expectRefused(await call('--to', 'tif', '--out', at('x.tif')), /no elevation is named/);
    expectRefused(await call('--to', 'dxf', '--unit', 'furlong'), /'furlong' is no unit/);
  });
});

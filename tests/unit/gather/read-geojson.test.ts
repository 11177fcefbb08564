import { describe, expect, it } from 'vitest';
import { readFound } from '../../../lib/gather/read-found';
import { geoJson, given } from './given';

const point = { type: 'Point', coordinates: [-87.1, 42.5] };

describe('reading GeoJSON', () => {
  it('takes a bare geometry, and collections within collections apart', async () => {
    const bare = await readFound(given('a/b.json', JSON.stringify(point)));
    expect(bare.layers[0]).toMatchObject({ name: 'b', shapes: [{ parts: [point] }] });
    const nested = {
      type: 'GeometryCollection',
      geometries: [point, { type: 'GeometryCollection', geometries: [point] }],
    };
    const { layers } = await readFound(given('x', geoJson([[nested]])));
    expect(layers[0].shapes[0].parts).toEqual([point, point]);
  });

  it('reads the system that the format named in 2008', async () => {
    const crs = (name: string) => ({ crs: { type: 'name', properties: { name } } });
    const systemOf = async (more: object) =>
      (await readFound(given('x', geoJson([[point]], more)))).layers[0].system;
    expect(await systemOf({})).toMatchObject({ is: 'known', name: 'WGS 84' });
    expect(await systemOf(crs('urn:ogc:def:crs:OGC:1.3:CRS84'))).toMatchObject({ is: 'known' });
    expect(await systemOf(crs('urn:ogc:def:crs:EPSG::26916'))).toMatchObject({
      is: 'known',
      name: 'NAD83 / UTM zone 16N',
      unitM: 1,
    });
    expect(await systemOf(crs('EPSG:2193'))).toMatchObject({ is: 'known', unitM: 1 });
    expect(await systemOf(crs('our own grid'))).toMatchObject({ is: 'asked' });
  });

  it('asks for the system where coordinates are no degrees', async () => {
    const metres = { type: 'Point', coordinates: [500_000, 4_700_000] };
    const { layers } = await readFound(given('x', geoJson([[metres]])));
    expect(layers[0].system).toMatchObject({ is: 'asked' });
  });

  it('lists columns with a few of their values, harmless to show', async () => {
    const rows = [1, 2, 3, 4, 4].map((n) => [point, { n, name: '\u001b[31m<script>' }] as const);
    const { layers } = await readFound(given('x', geoJson(rows)));
    expect(layers[0].columns).toEqual([
      { name: 'n', samples: ['1', '2', '3'] },
      { name: 'name', samples: ['[31m<script>'] },
    ]);
  });

  it('leaves out what is no geometry and says so', async () => {
    const odd = [
      [{ type: 'Circle', coordinates: [1, 2] }],
      [{ type: 'Point', coordinates: ['a', 2] }],
    ] as const;
    const { notes, layers } = await readFound(given('x', geoJson(odd)));
    expect(notes).toHaveLength(2);
    expect(layers[0].shapes.map(({ parts }) => parts)).toEqual([[], []]);
  });
});

describe('files that cannot be read', () => {
  const refusals: readonly (readonly [name: string, text: string, said: RegExp])[] = [
    ['empty.geojson', '', /it is empty/],
    ['cut.geojson', geoJson([[point]]).slice(0, -9), /line 1, column \d+/],
    ['a.geojson', '{"type": "Topology"}', /TopoJSON/],
    ['a.geojson', '{"a": 1}', /expected GeoJSON, got "an object without a type"/],
    ['parcels.dwg', 'AC1027 and so on', /a DWG drawing; save it as DXF/],
    ['map.geojson', '%PDF-1.7', /a PDF document/],
    ['what.bin', '\u0001\u0002', /none of the formats/],
  ];
  it.each(refusals)('%s: one sentence (%#)', async (name, text, said) => {
    const refusal = readFound(given(name, text));
    await expect(refusal).rejects.toThrow(said);
    await expect(refusal).rejects.toThrow(new RegExp(`^${name}: [^\\n]+; [^\\n]+\\.$`));
  });
});

import { describe, expect, it } from 'vitest';
import { readFound } from '../../../lib/gather/read-found';
import { systemOfCode } from '../../../lib/gather/system-of';
import { emptyPlan, gatherAs, given } from './given';

/** A drawing from its groups, header variables and blocks first. */
function drawing(
  entities: string,
  {
    header = '',
    blocks = '',
    end = '0 EOF',
  }: { header?: string; blocks?: string; end?: string } = {},
): string {
  const section = (name: string, inside: string): string =>
    `0 SECTION 2 ${name} ${inside} 0 ENDSEC`;
  return [section('HEADER', header), section('BLOCKS', blocks), section('ENTITIES', entities), end]
    .join(' ')
    .trim()
    .split(/\s+/)
    .join('\n');
}

const metres = '9 $INSUNITS 70 6';
const partsIn = async (text: string) =>
  (await readFound(given('a.dxf', text))).layers.flatMap(({ shapes }) =>
    shapes.flatMap(({ parts }) => parts),
  );

describe('reading drawings', () => {
  it('closes polylines that say so and bends their bulges', async () => {
    // A half circle from 0,0 to 2,0 that bulges to the right of the way: counter-clockwise, below.
    const [line] = await partsIn(
      drawing('0 LWPOLYLINE 8 A 70 1 10 0 20 0 42 1 10 2 20 0 10 2 20 2'),
    );
    const points = line.coordinates as number[][];
    expect(points[0]).toEqual(points.at(-1));
    const lowest = Math.min(...points.map(([, y]) => y));
    expect(lowest).toBeCloseTo(-1, 12);
  });

  it('sets blocks of blocks, in rows and columns, and draws layer 0 on the layer they are set on', async () => {
    const blocks =
      '0 BLOCK 2 P 10 1 20 0 30 0 0 POINT 8 0 10 1 20 1 30 0 0 ENDBLK ' +
      '0 BLOCK 2 Q 10 0 20 0 30 0 0 INSERT 8 0 2 P 10 5 20 0 30 0 0 POINT 8 B 10 0 20 0 0 ENDBLK';
    const text = drawing('0 INSERT 8 A 2 Q 10 100 20 0 30 0 50 90 70 2 44 10', { blocks });
    const { layers } = await readFound(given('a.dxf', text));
    expect(layers.map(({ name }) => name)).toEqual(['A', 'B']);
    const placed = layers[0].shapes[0].parts.map(({ coordinates }) =>
      (coordinates as number[]).map((each) => Math.round(each * 1e9) / 1e9 + 0),
    );
    // P's point stands 1 north of its base, 5 east in Q; a quarter turn takes east to north.
    expect(placed).toEqual([
      [99, 5, 0],
      [99, 15, 0],
    ]);
  });

  it('leaves out sheets, what lies aslant, and blocks that hold themselves', async () => {
    const blocks = '0 BLOCK 2 P 0 INSERT 8 A 2 P 10 0 20 0 0 ENDBLK';
    const text = drawing(
      '0 POINT 8 A 67 1 10 0 20 0 0 CIRCLE 8 A 10 0 20 0 40 1 210 1 220 0 230 0 0 INSERT 8 A 2 P 10 0 20 0',
      { blocks },
    );
    const { layers, notes } = await readFound(given('a.dxf', text));
    expect(layers).toEqual([]);
    expect(notes.join()).toMatch(/1 CIRCLE that lie aslant are not read.*1 INSERT of 'P' are not/);
  });

  it('takes the place of a symbol for a tree, not its picture', async () => {
    const blocks =
      '0 BLOCK 2 OAK 0 CIRCLE 8 0 10 0 20 0 40 3 0 LINE 8 0 10 0 20 0 11 1 21 1 0 ENDBLK';
    const text = drawing('0 INSERT 8 TREES 2 OAK 10 500000 20 0', { blocks, header: metres });
    const found = await readFound(given('a.dxf', text));
    const system = await systemOfCode(26916, 'the test');
    const { layers } = await gatherAs(emptyPlan, found, 'tree', { system });
    expect(layers[0].ids).toEqual(['tree-1']);
  });

  it('asks which foot where feet and survey feet lie metres apart', async () => {
    const found = await readFound(
      given('a.dxf', drawing('0 POINT 8 A 10 2000000 20 400000', { header: '9 $INSUNITS 70 2' })),
    );
    const system = await systemOfCode(2289, 'the test');
    const asked = await gatherAs(emptyPlan, found, 'well', { system });
    expect(asked.layers[0].asked).toMatchObject({ asks: 'unit' });
    const placeWith = async (unitM: number) =>
      (await gatherAs(emptyPlan, found, 'well', { system, unitM })).change?.puts?.[0].geometry
        .coordinates as unknown as number[];
    const [survey, other] = [await placeWith(1200 / 3937), await placeWith(0.3048)];
    // 2 parts in a million of 2,000,000 feet: 1.2 m, some 1.5e-5 degrees.
    expect(Math.abs(survey[0] - other[0])).toBeGreaterThan(1e-5);
  });

  it('reads names in the code page that an old drawing names', async () => {
    const text = drawing('0 POINT 8 M? 10 0 20 0', {
      header: '9 $ACADVER 1 AC1015 9 $DWGCODEPAGE 3 ANSI_1251',
    });
    const bytes = new TextEncoder().encode(text);
    bytes[bytes.indexOf('?'.charCodeAt(0))] = 0xc6;
    const { layers } = await readFound({ name: 'a.dxf', bytes });
    expect(layers[0].name).toBe('MЖ');
  });

  it.each([
    ['cut', drawing('0 POINT 8 A 10 0 20 0', { end: '' }), /breaks off before its end/],
    ['damaged', drawing('0 POINT 8 A oops 0 20 0'), /line \d+ is not the number/],
  ])('refuses one that is %s', async (_, text, said) => {
    const refusal = readFound(given('a.dxf', text));
    await expect(refusal).rejects.toThrow(said);
    await expect(refusal).rejects.toThrow(/^a\.dxf: [^\n]+; [^\n]+\.$/);
  });
});

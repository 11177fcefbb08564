import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readPlan } from '../../lib/plan/read-plan';
import { demoPlan, tempFolder } from './inputs';
import { documentOf, expectRefused, lotfall, lotfalls } from './run-lotfall';

const at = tempFolder();
const file = (name: string): string => `fixtures/gather/${name}`;

interface Document {
  readonly added: number;
  readonly layers: readonly {
    layer: string;
    as: string | null;
    ids: string[];
    left: { why: string; count: number }[];
    asks: string | null;
    columns: { name: string; samples: string[] }[];
  }[];
}

describe('lotfall gather', () => {
  it('adds to the plan that it is near to, says what came in, and replaces nothing', async () => {
    const out = at('with.plan.geojson');
    const files = ['parcels-feet.zip', 'trees-web.zip', 'gas.kml'].map(file);
    const run = await lotfall('gather', ...files, '--near', demoPlan, '--out', out);
    expect(run).toMatchObject({ status: 0, stderr: '' });
    expect(run.stdout).toMatch(/^9 features came in\n/);
    const before = readPlan(readFileSync(demoPlan, 'utf8'), 'before').plan.features;
    const { features } = readPlan(readFileSync(out, 'utf8'), 'after').plan;
    expect(features.slice(0, before.length)).toEqual(before);
    const came = features.slice(before.length);
    expect(came.map(({ properties }) => properties.kind).join(' ')).toBe(
      'lot lot lot lot tree tree utility utility utility',
    );
    expect(came.map(({ properties }) => properties.name)).toContain('12-0007');
    const again = await lotfall('gather', ...files, '--near', out, '--json');
    expect((documentOf(again) as Document).added).toBe(0);
  });

  it('lists without writing what each layer holds and would become', async () => {
    const run = await lotfall('gather', file('parcels-feet.zip'), '--json');
    const { layers } = documentOf(run) as Document;
    expect(layers).toMatchObject([{ layer: 'parcels', as: 'lot', asks: null, left: [] }]);
    expect(layers[0].columns).toEqual([
      { name: 'PIN', samples: ['12-0007', '12-0008', '12-0009'] },
      { name: 'note', samples: ['Señora Ñandú', 'with a hole', 'two parts'] },
    ]);
  });

  it('takes kinds, system, unit and closing from the call', async () => {
    const call = [
      ...['gather', file('drawing-r12.dxf')],
      ...['--layer', 'water_main=utility:sewer', '--layer', 'BUILDINGS=building'],
    ];
    const [asked, answered, far] = await lotfalls(
      call,
      [
        ...call,
        '--system',
        'EPSG:26916',
        '--unit',
        'm',
        '--close',
        '--layer',
        'Trees=none',
        '--json',
      ],
      ['gather', file('buildings-utm.geojson'), '--near', demoPlan, '--within', '1 m', '--json'],
    );
    expect(asked.status).toBe(2);
    expect(asked.stderr).toMatch(
      /^drawing-r12\.dxf, BUILDINGS: a drawing does not name[^\n]*--system/,
    );
    const { layers } = documentOf(answered) as Document;
    expect(layers.map(({ layer, as, ids }) => [layer, as, ids.length])).toEqual([
      ['BUILDINGS', 'building', 1],
      ['WATER_MAIN', 'utility:sewer', 2],
      ['TREES', null, 0],
      ['MÜLL', null, 0],
    ]);
    expect((documentOf(far) as Document).layers[0].left).toEqual([
      { why: 'farther than 1 m from the lot', count: 2 },
    ]);
  });

  it('says of each file that it cannot read why, and brings in the rest', async () => {
    const out = at('rest.plan.geojson');
    const run = await lotfall(
      ...['gather', 'README.md', file('trees-web.zip'), file('older-datum.zip')],
      ...['--as', 'tree', '--out', out, '--near', demoPlan],
    );
    expect(run.status).toBe(2);
    expect(run.stderr.trim().split('\n')).toEqual([
      expect.stringMatching(/^README\.md: [^\n]+; [^\n]+\.$/),
      expect.stringMatching(/^older-datum\.zip, polder: [^\n]+28992[^\n]+\.$/),
    ]);
    expect(existsSync(out)).toBe(true);
  });

  it('refuses calls that ask for what there is not', async () => {
    const trees = file('trees-web.zip');
    const [none, kind, layer, system, nothing] = await lotfalls(
      ['gather'],
      ['gather', trees, '--as', 'house'],
      ['gather', trees, '--layer', 'oaks=tree'],
      ['gather', file('trees.csv'), '--system', 'EPSG:1'],
      ['gather', trees, '--as', 'building', '--out', at('none.geojson')],
    );
    expectRefused(none, /no file is named/);
    expectRefused(kind, /'house' is no kind; use one of lot, building/);
    expectRefused(layer, /no layer 'oaks'; use one of trees/);
    expectRefused(system, /EPSG:1/);
    expectRefused(nothing, /nothing comes in/);
  });
});

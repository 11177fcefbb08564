/** Questions that owners, designers, reviewers and groups ask, each put to the command with what they have. */
import { describe, expect, it } from 'vitest';
import {
  area,
  evenFall,
  garden,
  hollowAtWall,
  house,
  levels,
  line,
  lots,
  place,
  planOf,
  point,
  roof,
} from './asked-lots';
import { save, tempFolder, type PlanJson } from './inputs';
import { lotfall } from './run-lotfall';

const at = tempFolder();
let saved = 0;

/** What a command says of a plan. */
async function told(
  command: string,
  plan: PlanJson,
  ...options: readonly string[]
): Promise<string> {
  const file = save(at(`asked-${++saved}.plan.geojson`), plan);
  const { stdout, stderr } = await lotfall(command, file, ...options);
  expect(stderr).toBe('');
  return stdout;
}

const states = ['--before', 'existing', '--after', 'proposed'] as const;
const onEven = [...lots, house, roof, ...levels(evenFall)];
const onHollow = [...lots, house, roof, ...levels(hollowAtWall)];

describe('an owner with levels and no elevation file', () => {
  it('whose water arrives from the lot above learns how much, and that it has to be let in', async () => {
    expect(await told('drainage', planOf(onEven))).toMatch(
      /run-on from Larch Bank 1 +at least [\d.]+ m³/,
    );
    const swale = line('swale', 'swale', [
      [2, 2],
      [28, 2],
    ]);
    expect(await told('setbacks', planOf([...onEven, swale]))).toMatch(
      /Water that comes by nature from higher land has to be let in/,
    );
  });

  it('whose neighbour lets a downspout and a pump out at the line sees both named, measured, and whom to ask', async () => {
    const plan = planOf([
      ...onEven,
      area('their-roof', 'roof', [-15, 8, -6, 17]),
      point('spout', 'downspout', [-6, 12], { roof: 'their-roof', outlet: place([-0.3, 12]) }),
      point('pump', 'sump-outlet', [-1, 15], { rate_m3_per_h: 0.25, name: 'Pump next door' }),
    ]);
    const text = await told('setbacks', plan);
    expect(text).toMatch(/✕ fails +Sump outlet to the lot line +Pump next door/);
    expect(text).toMatch(/\? check +Outlet to the lot line +spout/);
    expect(text).toMatch(/Ask the town’s engineer/);
  });

  it('whose neighbour paved sees before and after, and who gets more', async () => {
    const paved = area('patio', 'surface', [-12, 4, -3, 14], {
      cover: 'paving',
      state: 'proposed',
    });
    expect(await told('drainage', planOf([...onEven, paved]), ...states)).toMatch(
      /Worse off: Larch Bank 3 gets [\d.]+ m³ more from Larch Bank 1/,
    );
  });

  it('below whom a bank was raised sees where the water turns', async () => {
    const bank = line(
      'bank',
      'berm',
      [
        [31, 0],
        [31, 24],
      ],
      { height_m: 0.4, width_m: 0.5, state: 'proposed' },
    );
    expect(await told('drainage', planOf([...onEven, bank]), ...states)).toMatch(
      /passed on to Larch Bank 5 .* less/,
    );
  });

  it('who would raise the lowest corner, or fill the puddle between two houses, sees whom that harms', async () => {
    const ground = levels(
      ([x, y]) => evenFall([x, y]) - 0.25 * Math.exp(-((x - 25) ** 2 + (y - 12) ** 2) / 20),
    );
    const fill = area('fill', 'regrade', [21, 7, 29.5, 17], {
      elevation_m: 19.75,
      state: 'proposed',
    });
    const text = await told('drainage', planOf([...lots, house, ...ground, fill]), ...states);
    expect(text).toMatch(/Worse off: .*at the wall of House, where none stands today/);
  });

  it('whose wall gets wet learns what stands there, whether roofs feed it, and what would dry it', async () => {
    expect(await told('drainage', planOf(onHollow))).toMatch(
      /Water stands by House: 15 cm deep, 1\.5 m³, against the wall/,
    );
    const remedies = await told('remedies', planOf(onHollow));
    expect(remedies).toMatch(/^1\. dries/m);
    expect(remedies).toMatch(/grade the ground away from House/);
    expect(remedies).toMatch(/French drain +It takes up water that is in the ground/);
  });

  it('whose window well fills learns whether water comes over its rim', async () => {
    const well = point('well', 'window-well', [9, 12], { rim_m: 0.05, name: 'Well' });
    expect(await told('drainage', planOf([...onHollow, well]))).toMatch(
      /Well: water stands 15 cm deep there and comes over its rim of 5 cm/,
    );
  });

  it('whose patio falls to the door sees what a trench drain takes, and where its pipe can end', async () => {
    const plan = planOf([
      ...onHollow,
      line(
        'grate',
        'trench-drain',
        [
          [9.2, 9.5],
          [9.2, 14.5],
        ],
        { pipe: 'pipe' },
      ),
      line(
        'pipe',
        'drain-pipe',
        [
          [9.2, 9.5],
          [9.2, 5],
          [29, 3],
        ],
        { diameter_m: 0.1 },
      ),
    ]);
    const text = await told('drainage', plan);
    expect(text).not.toMatch(/against the wall/);
    expect(text).toMatch(/pipe: It carries up to [\d.]+ l\/s when full/);
  });

  it('who is quoted a French drain and a pit learns what each does here', async () => {
    const plan = planOf([
      lots[1],
      house,
      line('french', 'french-drain', [
        [2, 2],
        [25, 2],
      ]),
      area('pit', 'soakaway', [24, 3, 26, 5], { depth_m: 1.2 }),
      point('high', 'spot-height', [2, 2], { drop_m: 0.3 }),
      point('low', 'spot-height', [28, 2], { drop_m: 0.9 }),
    ]);
    const text = await told('design', plan);
    expect(text).toMatch(/pit holds 1\.7 m³.*Half empty after/);
    expect(text).toMatch(/french: not judged: it draws down water that is in the ground/);
    expect(text).toMatch(/from high to low: 26\.00 m, falls 60 cm/);
  });

  it('who has a swale in an easement learns which way it falls, and that filling it asks for leave', async () => {
    const plan = planOf([
      ...onEven,
      area('way', 'easement', [0, 20, 30, 24], { name: 'Drainage way' }),
      line(
        'band',
        'swale',
        [
          [0, 22],
          [30, 22],
        ],
        { depth_m: 0.2, width_m: 2 },
      ),
      area('filled', 'regrade', [10, 20, 20, 24], { elevation_m: 20.2, state: 'proposed' }),
      line('fence', 'fence', [
        [15, 19],
        [15, 24],
      ]),
    ]);
    const text = await told('setbacks', plan);
    expect(text).toMatch(
      /✕ fails +Swales and watercourses neither filled nor blocked +filled +band/,
    );
    expect(text).toMatch(/\? check +Easements neither filled nor built over/);
    expect(text).toMatch(/\? check +Fences across drainage ways/);
    expect(await told('fall', plan)).toMatch(/falls [\d.]+ (m|cm)/);
  });

  it('who asks where the hose of the pump may end is told by the distance', async () => {
    const hose = point('hose', 'sump-outlet', [2, 20], { rate_m3_per_h: 1, name: 'Hose' });
    const text = await told('setbacks', planOf([lots[1], house, hose]));
    expect(text).toMatch(/✓ meets +Sump outlet to the lot line +Hose/);
    expect(text).toMatch(/nothing that makes ice on a walk or street/);
  });

  it('whose garden stays wet for days is told what it may be and what to do', async () => {
    const wet = point('wet', 'observation', [25, 7.5], {
      depth_m: 0.1,
      on: '2026-05-02',
      rain_mm: 25,
      still_after_h: 96,
      name: 'Still wet',
    });
    const text = await told('drainage', planOf([...onEven, garden, wet]));
    expect(text).toMatch(
      /Still wet: .*A garden that stands wet so long: its surface may be sealed/,
    );
  });

  it('whose test hole took a day and a half has its verdict, and the depth that the soil bears', async () => {
    const hole = point('hole', 'soil-test', [25, 8], {
      method: 'hole',
      diameter_m: 0.3,
      name: 'Hole',
      fillings: [
        { water_depth_m: 0.3, hours: 24, left_m: 0 },
        { water_depth_m: 0.3, hours: 36, left_m: 0 },
      ],
    });
    const text = await told('design', planOf([lots[1], house, roof, hole]));
    expect(text).toMatch(/✕ within 24 h/);
    expect(text).toMatch(/✓ within 48 h/);
    expect(text).toMatch(/the garden may be \d+ cm deep/);
  });

  it('in England learns which distance counts for the soakaway of a patio', async () => {
    const pit = area('pit', 'soakaway', [22, 12, 24, 14], { name: 'Pit' });
    const text = await told('setbacks', planOf([lots[1], house, pit]), '--rules', 'england');
    expect(text).toMatch(/✕ fails +Soakaway to a building +Pit +House +3\.00 m +5\.00 m/);
    expect(text).toMatch(/✓ meets +Soakaway to the lot line +Pit/);
    expect(text).toMatch(/roof or patio drains there/);
  });

  it('who would dig near an oak, by hand, learns how near, and whom to call first', async () => {
    const oak = point('oak', 'tree', [20, 3], { trunk_diameter_m: 0.6, name: 'Oak' });
    const plan = planOf([lots[1], house, garden, oak]);
    expect(await told('setbacks', plan)).toMatch(/✕ fails +T +Tree roots and canopy +Oak/);
    expect(await told('setbacks', plan, '--locate-request')).toMatch(/private/i);
  });

  it('who was told of negative grading learns how much earth the fall asks for', async () => {
    expect(await told('design', planOf([lots[1], house]))).toMatch(/House +142 m² +10 m³/);
    expect(await told('drainage', planOf(onHollow))).toMatch(
      /against [\d.]+ m of wall|against the wall/,
    );
  });
});

describe('a designer, a reviewer, a group', () => {
  it('with levels from a mark of their own has a ground, and is told how sure it is', async () => {
    const drops = levels(hollowAtWall).map((level) => ({
      ...level,
      properties: {
        kind: 'spot-height',
        drop_m: Math.round(100 * (21 - Number(level.properties.elevation_m))) / 100,
      },
    }));
    const text = await told('drainage', planOf([...lots, house, ...drops]));
    expect(text).toMatch(/Water stands by House: 1[45] cm deep/);
    expect(text).toMatch(/The ground is made from 67 levels/);
    expect(text).toMatch(/Measure here next/);
  });

  it('with existing and proposed levels of a grading plan sees which neighbour gets more', async () => {
    const isRaised = ([x, y]: readonly [number, number]): boolean =>
      x >= 5 && x <= 25 && y > 2 && y < 22;
    const proposed = levels((xy) => evenFall(xy) + (isRaised(xy) ? 0.3 : 0), { state: 'proposed' });
    const plan = planOf([
      ...lots,
      house,
      ...levels(evenFall, { state: 'gone' }),
      ...proposed.map((level) => ({ ...level, id: `${level.id}-proposed` })),
    ]);
    const text = await told('drainage', plan, ...states);
    expect(text).toMatch(/Worse off: .*Larch Bank 1 gets/);
    expect(text).toMatch(/passed on to Larch Bank 5 .*less/);
  });

  it('asked to allow a fence across a drainage easement has the condition to set', async () => {
    const plan = planOf([
      lots[1],
      area('way', 'easement', [0, 20, 30, 24], { name: 'Drainage way' }),
      line(
        'fence',
        'fence',
        [
          [15, 19],
          [15, 24],
        ],
        { name: 'Fence' },
      ),
    ]);
    expect(await told('setbacks', plan)).toMatch(
      /Fence\. It crosses Drainage way, and the plan does not say what gap is left below it/,
    );
  });

  it('which asks who sends water onto common land has every lot in one table', async () => {
    const common = area('common', 'lot', [60, 0, 70, 24], { own: false, name: 'Common land' });
    const text = await told('review', planOf([...onEven, common]));
    for (const name of ['Larch Bank 1', 'Larch Bank 3', 'Larch Bank 5', 'Common land']) {
      expect(text).toContain(name);
    }
  });
});

import { describe, expect, it } from 'vitest';
import type { LngLat, XY } from '../../../../lib/frame/frame';
import { readPlan } from '../../../../lib/plan/read-plan';
import type { Settings } from '../../../../lib/plan/schema';
import { checkSetbacks } from '../../../../lib/setback/judge/check-setbacks';
import { checkedBasins } from '../../../../lib/setback/rules/checked-basins';
import { digPieces, isCovered } from '../../../../lib/setback/locate/dig-pieces';
import { locateRequest, locateTerms } from '../../../../lib/setback/locate/locate-request';
import { locateRequestText } from '../../../../lib/setback/locate/locate-request-text';
import { allServices, clearLocates, serviceAnswers } from '../../../../lib/setback/locate/locates';
import { parseRuleSet } from '../../../../lib/setback/rules/read-rule-set';
import { ruleSetById } from '../../../../lib/setback/sets/rule-sets';
import type { SetbackResult } from '../../../../lib/setback/judge/setback-result';
import { box, frame, planOf, type Drawn } from '../plan-of';

const today = '2026-05-10';
const lot: Drawn = {
  id: 'lot',
  properties: { kind: 'lot', own: true },
  rings: [box(-40, -20, 40, 20)],
};
const basin: Drawn = {
  id: 'b',
  properties: { kind: 'basin', name: 'Garden', ponding_depth_m: 0.1, side_slope: 0 },
  rings: [box(0, 0, 6, 4)],
};
/** Berm (0.3 m) and working room (1 m) beyond the rim. */
const reachM = 1.3;
type Kept = NonNullable<Settings['locates']>[number];

function globe(ring: readonly XY[]): LngLat[] {
  return [...ring, ring[0]].map((at) => frame.toLngLat(at));
}

function ground(...rings: readonly XY[][]): NonNullable<Kept['area']> {
  return { type: 'Polygon', coordinates: rings.map(globe) };
}

function answer(by: Kept['by'], more: Partial<Kept> = {}): Kept {
  const until = '2026-05-20';
  return {
    found: 'no-lines',
    services: [...allServices],
    by,
    on: '2026-05-01',
    until,
    area: 'lot',
    ...more,
  };
}

function planWith(locates: readonly Kept[], ...drawn: readonly Drawn[]) {
  const local = planOf(lot, basin, ...drawn);
  return {
    ...local,
    plan: { ...local.plan, lotfall: { ...local.plan.lotfall, locates: [...locates] } },
  };
}

/** The row about lines that are not on the plan. */
function unmarked(
  locates: readonly Kept[],
  drawn: readonly Drawn[] = [],
  ruleSet = ruleSetById('default'),
): SetbackResult {
  const plan = planWith(locates, ...drawn);
  const { results } = checkSetbacks({
    plan,
    basins: checkedBasins(plan),
    ruleSet,
    locates: clearLocates(plan),
    today,
  });
  const row = results.find(({ rule, feature }) => rule === 'utility' && feature === null);
  if (row === undefined) throw new Error('no such row');
  return row;
}

function line(id: string, service: string, side: string, by = side): Drawn {
  return {
    id,
    properties: {
      kind: 'utility',
      service,
      side,
      located: { by, on: '2026-05-01', until: '2026-05-20' },
    },
    line: [
      [-40, 15],
      [40, 15],
    ],
  };
}

describe('a lot where locators found nothing', () => {
  it('is stated clear by whom, when and under which number, once both have answered for every service', () => {
    const row = unmarked([
      answer('public', { reference: 'T-17' }),
      answer('private', { on: '2026-05-02' }),
    ]);
    expect(row).toMatchObject({
      result: 'pass',
      why: 'Stated clear by the public notice service on 2026-05-01 (T-17): every service; stated clear by a private locator on 2026-05-02: every service.',
    });
  });

  it('asks for what is lacking: a party, a service', () => {
    expect(unmarked([])).toMatchObject({
      result: 'check',
      why: 'Unmarked is not absent. Ask the public notice service about every service (no answer on record); ask a private locator, on the owner’s side, about every service (no answer on record).',
    });
    const services = allServices.filter((each) => each !== 'gas' && each !== 'sewer');
    expect(unmarked([answer('public', { services }), answer('private')])).toMatchObject({
      result: 'check',
      why: 'Unmarked is not absent. Ask the public notice service about gas and sewer (no answer on record).',
    });
  });

  it('counts several answers together, each for its own services', () => {
    const [first, ...others] = allServices;
    const both = [
      answer('public', { services: [first], reference: 'one' }),
      answer('public', { services: others, reference: 'rest' }),
      answer('private'),
    ];
    expect(unmarked(both).result).toBe('pass');
    expect(unmarked(both).why).toMatch(/\(one\): electric; stated clear .*\(rest\): gas, water/);
    expect(unmarked(both.slice(1)).result).toBe('check');
  });

  it.each<[string, Partial<Kept>, RegExp]>([
    ['has run out', { until: '2026-05-09' }, /the answer of 2026-05-01 ran out on 2026-05-09/],
    ['is dated later', { on: '2026-05-11' }, /the answer of 2026-05-11 is dated later/],
    [
      'holds for ten years',
      { until: '2036-05-20' },
      /until 2036-05-20, has dates more than a year/,
    ],
    ['is ten years ahead', { on: '2036-05-01', until: '2036-05-20' }, /dates more than a year off/],
    ['does not say where', { area: undefined }, /does not say about which ground/],
    ['is about other ground', { area: ground(box(10, -10, 30, 10)) }, /about other ground/],
    ['ends at the rim', { area: ground(box(0, 0, 6, 4)) }, /about other ground/],
    [
      'leaves a hole in it',
      { area: ground(box(-9, -9, 15, 13), box(1, 1, 2, 2)) },
      /about other ground/,
    ],
  ])('does not count an answer that %s', (_, more, why) => {
    const row = unmarked([answer('public', more), answer('private')]);
    expect(row.result).toBe('check');
    expect(row.why).toMatch(why);
    expect(row.why).toMatch(/Ask the public notice service about every service/);
    expect(row.why).not.toMatch(/private/);
  });

  it('counts to its last day and from its first', () => {
    const other = answer('private');
    expect(unmarked([answer('public', { until: today }), other]).result).toBe('pass');
    expect(unmarked([answer('public', { on: today }), other]).result).toBe('pass');
  });

  it.each([
    ['ten years ahead', { on: '2036-05-01', until: '2036-05-20' }],
    ['said to hold for ten years', { on: '2026-05-01', until: '2036-05-20' }],
  ])('asks whether the dates are right of a line whose locate is %s', (_, dates) => {
    const gas: Drawn = {
      id: 'gas',
      properties: {
        kind: 'utility',
        service: 'gas',
        side: 'public',
        located: { by: 'public', ...dates },
      },
      line: [
        [-30, 15],
        [30, 15],
      ],
    };
    const plan = planWith([], gas);
    const { results } = checkSetbacks({
      plan,
      basins: checkedBasins(plan),
      ruleSet: ruleSetById('default'),
      today,
    });
    const row = results.find(({ feature }) => feature === 'gas');
    expect(row).toMatchObject({ result: 'check' });
    expect(row?.why).toMatch(/are its dates right\?/);
  });

  it('takes a newer answer before one that has run out', () => {
    const old = answer('public', { until: '2026-05-02' });
    expect(unmarked([old, answer('public'), answer('private')]).result).toBe('pass');
    expect(unmarked([answer('public'), old, answer('private')]).result).toBe('pass');
  });

  it('says of several that do not count what is least lacking', () => {
    const [old, early, vague, far] = [
      answer('public', { until: '2026-05-02' }),
      answer('public', { on: '2026-05-11' }),
      answer('public', { area: undefined }),
      answer('public', { area: ground(box(10, -10, 30, 10)) }),
    ];
    const why = (...locates: Kept[]): string => unmarked([...locates, answer('private')]).why;
    expect(why(old, early, vague, far)).toMatch(/about other ground/);
    expect(why(old, early, vague)).toMatch(/does not say about which ground/);
    expect(why(old, early)).toMatch(/dated later/);
  });

  it('does not take the lot for the ground where the dig leaves it', () => {
    const edge: Drawn = { ...basin, rings: [box(33, 0, 39, 4)] };
    const local = planOf(lot, edge);
    const plan = {
      ...local,
      plan: { ...local.plan, lotfall: { version: 1 as const, locates: [answer('public')] } },
    };
    const [record] = clearLocates(plan);
    const [checked] = checkedBasins(plan);
    expect(isCovered(digPieces(plan, checked), record.area ?? [])).toBe(false);
  });

  it('needs the notch and the trenches that lead to it covered as well', () => {
    const pipe: Drawn = {
      id: 'pipe',
      properties: { kind: 'drain-pipe' },
      line: [
        [-12, 2],
        [0, 2],
      ],
    };
    const around = answer('public', { area: ground(box(-5, -5, 11, 9)) });
    expect(unmarked([around, answer('private')]).result).toBe('pass');
    expect(unmarked([around, answer('private')], [pipe]).result).toBe('check');
    const longer = answer('public', { area: ground(box(-14, -5, 11, 9)) });
    expect(unmarked([longer, answer('private')], [pipe]).result).toBe('pass');
  });

  it('lets a line that is located now answer for its service on its side, and for no other', () => {
    const services = allServices.filter((each) => each !== 'gas');
    const others = [answer('public', { services }), answer('private')];
    const marked = unmarked(others, [line('gas', 'gas', 'public')]);
    expect(marked.result).toBe('pass');
    expect(marked.why).toMatch(/; marked by the public notice service and drawn: gas\.$/);
    expect(unmarked(others, [line('gas', 'gas', 'private')]).result).toBe('check');
    expect(unmarked(others, [line('gas', 'gas', 'public', 'private')]).result).toBe('check');
    expect(unmarked(others, [line('water', 'water', 'public')]).result).toBe('check');
  });
});

describe('the services that a rule set expects', () => {
  const set = (services?: string[]) => {
    const rule = ruleSetById('default').rules.find(({ test }) => test === 'utility');
    if (rule?.test !== 'utility') throw new Error('no rule about lines');
    const { id, letter, title, published, binding, source } = rule;
    const document = {
      id: 'own',
      title: 'Own',
      jurisdiction: 'Here',
      rules: [
        {
          test: 'utility',
          id,
          letter,
          title,
          published,
          binding,
          source,
          tolerance_m: 0.6,
          ...(services === undefined ? {} : { services }),
        },
      ],
    };
    return parseRuleSet(document, 'own.json');
  };

  it('are every one where it does not say', () => {
    expect(locateTerms(set())).toEqual({ toleranceM: 0.6, services: allServices });
    expect(locateTerms(set(['gas']))).toEqual({ toleranceM: 0.6, services: ['gas'] });
    expect(() => set(['gaz'])).toThrow(/services/);
  });

  it('are all that has to be answered', () => {
    const answers = [
      answer('public', { services: ['gas', 'water'] }),
      answer('private', { services: ['gas'] }),
    ];
    expect(unmarked(answers, [], set(['gas']))).toMatchObject({
      result: 'pass',
      why: 'Stated clear by the public notice service on 2026-05-01: gas; stated clear by a private locator on 2026-05-01: gas.',
    });
    expect(unmarked(answers, [], set(['gas', 'water'])).why).toBe(
      'Unmarked is not absent. Ask a private locator, on the owner’s side, about water (no answer on record).',
    );
  });
});

describe('isCovered', () => {
  const pieces = digPieces(planOf(basin), checkedBasins(planOf(basin))[0]);
  const by = (ring: XY[]): boolean => isCovered(pieces, [{ type: 'polygon', rings: [ring] }]);

  it('asks for the whole dig, to the outline’s error', () => {
    expect(by(box(-reachM, -reachM, 6 + reachM, 4 + reachM))).toBe(true);
    expect(by(box(-reachM + 0.015, -reachM, 6 + reachM, 4 + reachM))).toBe(true);
    expect(by(box(-reachM + 0.03, -reachM, 6 + reachM, 4 + reachM))).toBe(false);
  });

  it('does not add up two grounds of which neither holds the piece', () => {
    expect(
      isCovered(pieces, [
        { type: 'polygon', rings: [box(-9, -9, 3, 12)] },
        { type: 'polygon', rings: [box(3, -9, 15, 12)] },
      ]),
    ).toBe(false);
  });
});

describe('the locate request', () => {
  const request = (locates: readonly Kept[], ...drawn: readonly Drawn[]) => {
    const plan = planWith(locates, ...drawn);
    return locateRequest({
      plan,
      basins: checkedBasins(plan),
      toleranceM: 0.4572,
      locates: clearLocates(plan),
      today,
    });
  };

  it('asks nobody again while answers count, and says until when', async () => {
    const found = await request([
      answer('public', { reference: 'T-17' }),
      answer('private', { until: '2026-05-15' }),
    ]);
    expect(found.ask.map(({ needed, valid_until }) => [needed, valid_until])).toEqual([
      [false, '2026-05-20'],
      [false, '2026-05-15'],
    ]);
    expect(found.ask[0].answers[0]).toEqual({
      service: 'electric',
      state: 'clear',
      on: '2026-05-01',
      until: '2026-05-20',
      reference: 'T-17',
    });
    const text = locateRequestText(found, 'metric');
    expect(text).toMatch(
      /^On record by the public notice service: valid until 2026-05-20\.\n {2}stated clear on 2026-05-01 \(T-17\), until 2026-05-20: every service$/m,
    );
    expect(text).not.toMatch(/^Ask/m);
  });

  it('asks again for what has run out or is about other ground, and says why', async () => {
    const found = await request([
      answer('public', { services: ['gas'], until: '2026-05-09' }),
      answer('public', { services: ['water'], area: ground(box(10, -10, 30, 10)) }),
      answer('private'),
    ]);
    expect(found.ask.map(({ needed }) => needed)).toEqual([true, false]);
    const text = locateRequestText(found, 'metric');
    expect(text).toMatch(/^Ask the public notice service/m);
    expect(text).toMatch(/^ {2}about gas: the answer of 2026-05-01 ran out on 2026-05-09$/m);
    expect(text).toMatch(/^ {2}about water: the answer of 2026-05-01 is about other ground/m);
    expect(text).toMatch(
      /^ {2}about electric, sewer, communications and reclaimed water: no answer/m,
    );
  });

  it('covers by its own outline the very dig that it asked about', async () => {
    const { outline } = await request([]);
    const area = {
      type: 'MultiPolygon' as const,
      coordinates: outline.map((rings) => rings.map((ring) => [...ring])),
    };
    const row = unmarked([answer('public', { area }), answer('private', { area })]);
    expect(row.result).toBe('pass');
  });
});

describe('serviceAnswers', () => {
  it('does not work out the ground where no answer is in time', () => {
    const plan = planWith([answer('public', { until: '2026-05-02' })]);
    const answers = serviceAnswers({
      plan,
      locates: clearLocates(plan),
      services: allServices,
      today,
      pieces: () => {
        throw new Error('not needed');
      },
    });
    expect(answers.map(({ state }) => state)).toEqual([
      ...allServices.map(() => 'expired'),
      ...allServices.map(() => 'none'),
    ]);
  });
});

describe('reading answers in a plan', () => {
  const read = (kept: unknown) =>
    readPlan(
      JSON.stringify({
        type: 'FeatureCollection',
        features: [],
        lotfall: { version: 1, locates: [kept] },
      }),
      'lot',
    ).plan.lotfall.locates;

  it('keeps what it knows and what it does not', () => {
    const kept = { ...answer('public', { area: ground(box(0, 0, 9, 9)) }), note: 'by post' };
    expect(read(kept)).toEqual([kept]);
  });

  it.each<[string, object, RegExp]>([
    ['of lines that were found', { found: 'lines' }, /locates\.0\.found: expected 'no-lines'/],
    ['of no service', { services: [] }, /locates\.0\.services: expected at least one service/],
    ['of an unknown service', { services: ['gaz'] }, /services\.0: expected one of electric, gas/],
    ['of nobody', { by: undefined }, /by: expected one of public, private, but it is missing/],
    ['that ends before it begins', { until: '2026-04-30' }, /`until` not to be before `on`/],
    ['on no day', { on: '2026-02-31' }, /locates\.0\.on: expected a date/],
    ['about a ground in words', { area: 'garden' }, /area: expected 'lot', or a GeoJSON Polygon/],
    [
      'about a ground that crosses itself',
      {
        area: ground([
          [0, 0],
          [9, 9],
          [9, 0],
          [0, 9],
        ]),
      },
      /area: .*do not cross themselves/,
    ],
  ])('refuses one %s in a sentence', (_, more, message) => {
    expect(() => read({ ...answer('public'), ...more })).toThrow(message);
  });
});

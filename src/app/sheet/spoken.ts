import type { DrainageResult } from '../../../lib/drainage/answer/drainage-result';
import { featureName } from '../../../lib/plan/feature-name';
import type { Frame, LngLat } from '../../../lib/frame/frame';
import { areaM2, lengthM } from '../../../lib/frame/shapes';
import type { Plan, PlanFeature } from '../../../lib/plan/schema';
import type { SetbackFindings } from '../../../lib/setback/judge/setback-result';
import { formatArea, formatLength } from '../../../lib/units/format';
import type { UnitSystem } from '../../../lib/units/units';
import { cornersOf, middleOf } from '../map/layers/middle-of';
import type { Verdict } from '../../../lib/verdict';
import { stateWords } from '../state/plan/change-features';
import { drawnKinds, kindName } from '../state/plan/drawn-kinds';

/** In what terms places and sizes are said. */
export interface Terms {
  readonly frame: Frame;
  readonly units: UnitSystem;
  /** From where places are told: the middle of the lot. */
  readonly from: LngLat;
}

/** Features in the order in which they are walked: kind by kind as they are drawn, then as the plan has them. */
export function walkOrder({ features }: Plan): PlanFeature[] {
  const order = drawnKinds.map(({ kind }) => kind);
  const rank = ({ properties }: PlanFeature): number => order.indexOf(properties.kind);
  return [...features].sort((a, b) => rank(a) - rank(b));
}

/** The feature after the one that is selected, or before it; round at either end. Null for an empty plan. */
export function nextFeature(plan: Plan, selected: string | null, step: 1 | -1): PlanFeature | null {
  const order = walkOrder(plan);
  if (order.length === 0) return null;
  const at = order.findIndex(({ id }) => id === selected);
  if (at === -1) return order[step === 1 ? 0 : order.length - 1];
  return order[(at + step + order.length) % order.length];
}

/** A feature as it is spoken: name, kind, size, state, where it lies and its turn in the walk. */
export function spokenFeature(
  feature: PlanFeature,
  plan: Plan,
  terms: Terms,
  states: readonly string[] = [],
): string {
  const name = featureName(feature);
  const kind = kindName(feature.properties.kind);
  const order = walkOrder(plan);
  const turn = order.findIndex(({ id }) => id === feature.id) + 1;
  return [
    name,
    ...(name.toLowerCase().includes(kind) ? [] : [kind]),
    ...sizeOf(feature, terms),
    ...ownState(feature),
    ...(feature.properties.state === undefined ? [] : [stateWords[feature.properties.state]]),
    ...states,
    spokenPlace(middleOf(feature, terms.frame), terms),
    `${turn} of ${order.length}`,
  ].join(', ');
}

/** Where a place lies, from the middle of the lot. */
export function spokenPlace(place: LngLat, { frame, units, from }: Terms): string {
  const [x, y] = frame.toLocal(place);
  const [x0, y0] = frame.toLocal(from);
  const way = (metres: number, ahead: string, back: string): string[] =>
    Math.abs(metres) < 0.005
      ? []
      : [`${formatLength(Math.abs(metres), units)} ${metres > 0 ? ahead : back}`];
  const ways = [...way(x - x0, 'east', 'west'), ...way(y - y0, 'north', 'south')];
  return ways.length === 0 ? 'in the middle of the lot' : `${ways.join(' and ')} of the middle`;
}

function sizeOf(feature: PlanFeature, { frame, units }: Terms): string[] {
  const { geometry } = feature;
  if (geometry.type === 'Point') return [];
  if (geometry.type === 'LineString') {
    return [`${formatLength(lengthM(cornersOf(feature, frame)), units, 0.05)} long`];
  }
  const rings = geometry.coordinates.map((ring) =>
    ring.map(([lng, lat]) => frame.toLocal([lng, lat])),
  );
  return [formatArea(areaM2(rings), units)];
}

/** What the plan itself says of a feature's state. */
function ownState({ properties }: PlanFeature): string[] {
  switch (properties.kind) {
    case 'lot':
      return [properties.own ? 'the lot being planned' : 'a neighbour'];
    case 'building':
      return [
        properties.foundation === undefined
          ? 'foundation not given'
          : `foundation ${properties.foundation.replace('-', ' ')}`,
      ];
    case 'surface':
      return [properties.cover];
    case 'utility':
      return [
        properties.service.replace('-', ' '),
        properties.located === undefined ? 'not located' : 'located',
      ];
    default:
      return [];
  }
}

/** Whether water stands by a building when the storm is over, and how deep. */
export function wetWords(
  water: Pick<DrainageResult, 'buildings'> | null,
  id: string,
  units: UnitSystem,
): string[] {
  const row = water?.buildings.find(({ building }) => building === id);
  if (row === undefined) return [];
  return [
    row.depth_m > 0 ? `water stands by it, ${formatLength(row.depth_m, units)} deep` : 'dry walls',
  ];
}

/** What the rules say to a basin, counted. */
export function ruleWords(findings: SetbackFindings | null, id: string): string[] {
  const rows = findings?.results.filter(({ basin }) => basin === id) ?? [];
  if (rows.length === 0) return [];
  const count = (result: Verdict): number => rows.filter((row) => row.result === result).length;
  return [`${count('pass')} rules met, ${count('fail')} not, ${count('check')} cannot be judged`];
}

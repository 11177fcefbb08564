import type { LocalFeature } from '../../plan/local-plan';
import { halfWidthM } from '../rules/concerned';
import type { CheckedBasin } from '../rules/checked-basins';
import type { Rule } from '../rules/rule';

/** From where to where a rule was measured at a basin, and what of that nobody drew. */
export interface WhatWasMeasured {
  /** An edge of the basin or a level in it, in words; `null` where nothing is measured from the basin. */
  readonly measured_from: string | null;
  /** What of the feature it is measured to, in words; `null` where it is measured to nothing drawn. */
  readonly measured_to: string | null;
  /** How far outside the rim the edge measured from is taken to lie, metres; negative inside it; `null` where none is. */
  readonly edge_offset_m: number | null;
  /** What was taken for want of a drawing, a sentence each without figures in the user's units. */
  readonly assumed: readonly string[];
}

const edgeWords = {
  rim: 'the rim of the basin',
  berm: 'the outer foot of the assumed berm',
  bottom: 'the edge of the level floor',
} as const;

const bermAssumed =
  'The berm is not drawn: it is assumed all round, with a level top and an outer slope as high as the bowl is deep.';
const floorAssumed =
  'The edge of the floor is not drawn: it is taken inside the rim by the depth of the bowl times its side slope.';

export function whatWasMeasured(
  rule: Rule,
  basin: CheckedBasin,
  feature: LocalFeature | null,
): WhatWasMeasured {
  const to = feature === null ? null : measuredTo(feature);
  switch (rule.test) {
    case 'distance':
    case 'inside-lot':
      return { ...fromEdge(rule.edge, basin), measured_to: to };
    case 'utility':
      return feature === null ? nothing : { ...fromEdge(rule.edge, basin), measured_to: to };
    case 'not-uphill':
      return { ...fromEdge('rim', basin), measured_to: to };
    case 'steep-ground':
      return {
        ...fromEdge(rule.edge, basin),
        measured_to: 'the nearest ground as steep, by the elevation',
      };
    case 'separation-below':
      return {
        ...nothing,
        measured_from:
          rule.measuredFrom === 'surface'
            ? 'the surface of the ground'
            : 'the bottom of the dig, layers and all',
        measured_to: to === null ? null : 'what the hole met',
      };
    case 'slope':
      return { ...nothing, measured_from: 'the plane of the ground under and round the rim' };
    case 'wet-spot':
      return { ...nothing, measured_from: 'the ground inside the rim' };
    case 'overflow':
      return { ...nothing, measured_from: 'the way of the overflow over the finished ground' };
    case 'drain-down':
    case 'on-site':
      return nothing;
  }
}

const nothing: WhatWasMeasured = {
  measured_from: null,
  measured_to: null,
  edge_offset_m: null,
  assumed: [],
};

function fromEdge(
  edge: keyof typeof edgeWords,
  { bermWidthM = 0, bottomInsetM = 0 }: CheckedBasin,
): Omit<WhatWasMeasured, 'measured_to'> {
  const words = { measured_from: edgeWords[edge] };
  switch (edge) {
    case 'rim':
      return { ...words, edge_offset_m: 0, assumed: [] };
    case 'berm':
      return { ...words, edge_offset_m: bermWidthM, assumed: [bermAssumed] };
    case 'bottom':
      return { ...words, edge_offset_m: -bottomInsetM, assumed: [floorAssumed] };
  }
}

/** What of a feature distances are measured to: its true extent, as far as the plan gives it. */
function measuredTo(feature: LocalFeature): string {
  const isWide = halfWidthM(feature) > 0;
  switch (feature.kind) {
    case 'building':
      return isWide ? 'the footing, beyond the outline drawn' : 'the outline drawn';
    case 'lot':
      return 'the lot line';
    case 'tree':
      return 'the middle of the trunk';
    case 'septic-tank':
      return isWide ? 'the wall of the tank, round its middle' : 'the middle of the tank';
    default:
      switch (feature.shape.type) {
        case 'polygon':
          return 'the outline drawn';
        case 'point':
          return 'the point drawn';
        case 'line':
          return isWide ? 'its side, half its width from the line drawn' : 'the line drawn';
      }
  }
}

import type { Kind } from '../../../../lib/plan/schema';

/** How the user calls the kinds, in the order in which they are drawn. */
export const drawnKinds: readonly {
  readonly kind: Kind;
  readonly name: string;
  readonly how: string;
}[] = [
  { kind: 'lot', name: 'lot line', how: 'outline; the first is the lot being planned' },
  { kind: 'building', name: 'building', how: 'outline of the walls' },
  { kind: 'roof', name: 'roof', how: 'outline of the eaves' },
  { kind: 'downspout', name: 'downspout', how: 'a point; drag its outlet afterwards' },
  { kind: 'surface', name: 'surface', how: 'outline; lawn needs none' },
  { kind: 'utility', name: 'utility line', how: 'along the line as marked or on record' },
  { kind: 'septic-field', name: 'septic field', how: 'outline' },
  { kind: 'septic-tank', name: 'septic tank', how: 'a point' },
  { kind: 'well', name: 'well', how: 'a point' },
  { kind: 'tree', name: 'tree', how: 'a point at the trunk' },
  { kind: 'wall', name: 'wall', how: 'along its middle' },
  { kind: 'kerb', name: 'kerb', how: 'along its face' },
  { kind: 'berm', name: 'berm', how: 'along its crest' },
  { kind: 'swale', name: 'swale', how: 'along its bed' },
  { kind: 'regrade', name: 'graded place', how: 'outline of the part that is made even' },
  { kind: 'drain-pipe', name: 'drain pipe', how: 'from where water runs in to where it runs out' },
  { kind: 'yard-drain', name: 'yard drain', how: 'a point at the grate' },
  { kind: 'trench-drain', name: 'trench drain', how: 'along the grate' },
  { kind: 'soakaway', name: 'soakaway', how: 'outline of the stone or crates' },
  { kind: 'french-drain', name: 'French drain', how: 'along the trench' },
  { kind: 'window-well', name: 'window well', how: 'a point at the well' },
  { kind: 'fence', name: 'fence', how: 'along its posts' },
  { kind: 'sump-outlet', name: 'sump outlet', how: 'a point where the pump puts water out' },
  { kind: 'spot-height', name: 'spot height', how: 'a point that was levelled' },
  { kind: 'puddle-edge', name: 'puddle’s edge', how: 'outline of water that stood' },
  { kind: 'level-line', name: 'level line', how: 'along a contour or an edge at one height' },
  { kind: 'break-line', name: 'break line', how: 'along where the ground bends' },
  {
    kind: 'relevelled-ground',
    name: 'ground levelled again',
    how: 'outline around levels newer than the elevation file',
  },
  { kind: 'observation', name: 'water seen', how: 'a point where water stood' },
  { kind: 'soil-test', name: 'soil test', how: 'a point where the soil was tested' },
  { kind: 'easement', name: 'easement', how: 'outline' },
  { kind: 'wetland', name: 'wetland', how: 'outline' },
  { kind: 'basin', name: 'basin', how: 'outline of the rim' },
];

/** The name a kind goes by beside the map. */
export function kindName(kind: Kind): string {
  return drawnKinds.find((entry) => entry.kind === kind)?.name ?? kind.replaceAll('-', ' ');
}

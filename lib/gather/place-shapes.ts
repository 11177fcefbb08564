import proj4 from 'proj4';
import type { LngLat } from '../frame/frame';
import type { FilePosition, FoundLayer } from './found-layer';
import { unknownShiftM, type PlacedSystem } from './system-of';

/** What is said from outside where a layer does not say it itself. */
export interface Answers {
  /** The system of layers that name none, or one whose datum is in doubt. */
  readonly system?: PlacedSystem;
  /** Take a datum in doubt as it is written, though it may lie off. */
  readonly asWritten?: boolean;
  /** Metres for one unit of coordinates and heights, where a layer does not say. */
  readonly unitM?: number;
}

/** How a layer's coordinates become longitude and latitude. */
export interface Placing {
  readonly toLngLat: (at: FilePosition) => LngLat;
  /** What is to be known of it, a sentence each. */
  readonly notes: readonly string[];
}

/** What must be answered before a layer can be placed. */
export interface Asked {
  readonly asks: 'system' | 'unit';
  /** A clause, and what to answer. */
  readonly problem: string;
  readonly candidates: readonly number[];
}

/** Feet and US survey feet differ by two parts in a million: metres, where coordinates count from far away. */
const nearlyEqual = 1e-5;

/** The way from a layer's coordinates to the globe, or what has to be answered for it. */
export function placing(layer: FoundLayer, answers: Answers): Placing | Asked {
  const notes: string[] = [];
  let system: PlacedSystem;
  if (layer.system.is === 'known') {
    system = layer.system;
  } else if (answers.system !== undefined) {
    system = answers.system;
  } else if (layer.system.is === 'doubtful' && answers.asWritten === true) {
    system = { ...layer.system, is: 'known' };
    notes.push(
      `${layer.system.name} is taken as written: everything may lie up to ${unknownShiftM} m off`,
    );
  } else {
    return { asks: 'system', problem: layer.system.why, candidates: layer.system.candidates };
  }
  if (system.shiftAccuracyM !== null) {
    notes.push(
      `${system.name} rests on an older datum: places are good to ${system.shiftAccuracyM} m`,
    );
  }
  const factor = unitFactor(layer, system, answers);
  if (typeof factor !== 'number') return factor;
  const inverse = placer(system.definition);
  const by = factor * system.unitFactor;
  return { notes, toLngLat: ([x, y]) => inverse([x * by, y * by]) };
}

/** By what coordinates must be multiplied to be in the system's unit. */
function unitFactor(layer: FoundLayer, system: PlacedSystem, answers: Answers): number | Asked {
  if (layer.unitM === 'of the system' || system.unitM === null) {
    if (layer.system.is !== 'asked' || answers.unitM === undefined || system.unitM === null)
      return 1;
    return answers.unitM / system.unitM;
  }
  const said = layer.unitM ?? answers.unitM;
  if (said === undefined) {
    return { asks: 'unit', problem: 'it does not say in what unit it is drawn', candidates: [] };
  }
  const ratio = said / system.unitM;
  if (layer.unitM === null || ratio === 1 || Math.abs(ratio - 1) > nearlyEqual) return ratio;
  if (answers.unitM !== undefined) return answers.unitM / system.unitM;
  return {
    asks: 'unit',
    problem: `it says feet, and feet of ${layer.unitM} m and of ${system.unitM.toFixed(9)} m (${system.name}) lie metres apart there`,
    candidates: [],
  };
}

function placer(definition: string): (at: [number, number]) => LngLat {
  if (definition === 'WGS84') return (at) => at;
  const transform = proj4('WGS84', definition);
  return (at) => transform.inverse<[number, number]>(at);
}

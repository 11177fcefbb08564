import { buildTerrain } from '../../../lib/drainage/terrain/terrain';
import { routeByProgram } from './program-routing';
import {
  pour,
  ruleNames,
  shareReaching,
  sharesOf,
  type Move,
  type RuleName,
} from './receiver-rules';

/** Ways of routing that are compared: what this program does, and rules by name. */
export type Method = 'this program' | RuleName;
export const methods: readonly Method[] = ['this program', ...ruleNames];

/** A ground with its water sent one way. */
export interface Routed {
  /** Share of each cell's water that reaches a place, when low spots hold nothing back. */
  readonly reaching: (isTarget: Uint8Array) => Float32Array | Float64Array;
  /** Puts run-off down, metres by cell, and tells of every move, in cells times metres. */
  readonly eachMove: (runOffM: Float64Array, move: Move) => void;
}

export function routeBy(
  method: Method,
  z: Float32Array,
  width: number,
  height: number,
  cellM: number,
): Routed {
  if (method === 'this program') return routeByProgram(z, width, height, cellM);
  const shares = sharesOf(buildTerrain(z, width, height), method);
  return {
    reaching: (isTarget) => shareReaching(shares, isTarget),
    eachMove: (runOffM, move) => {
      pour(shares, runOffM).eachMove(move);
    },
  };
}

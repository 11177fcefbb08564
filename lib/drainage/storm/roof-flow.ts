import type { Pipe } from '../../ground/conduits';
import type { RoofOutlet } from './roof-outlet';
import { hourS } from '../../units/units';

/** Where one roof outlet's water of a storm goes. The parts add up to `volumeM3`. */
export interface RoofFlow {
  readonly outlet: RoofOutlet;
  readonly volumeM3: number;
  readonly barrelM3: number;
  readonly sewerM3: number;
  /** Let out beyond the elevation data. */
  readonly offMapM3: number;
  /** Water put down on the ground, in equal parts on some cells. */
  readonly landings: readonly { readonly cells: Int32Array; readonly volumeM3: number }[];
}

/** What roofs send where, and how much of it goes through drain pipes. */
export interface RoofFlows {
  readonly flows: readonly RoofFlow[];
  /** m3 by pipe. */
  readonly pipeUseM3: ReadonlyMap<string, number>;
  readonly notes: readonly string[];
}

/**
 * Sends a depth of roof run-off on its way: barrels fill first, then pipes take what they can carry, and what is too much for
 * a pipe runs over at the downspout.
 */
export function roofFlows(
  outlets: readonly RoofOutlet[],
  runOffM: number,
  pipes: ReadonlyMap<string, Pipe>,
  durationH: number,
): RoofFlows {
  const pipeUseM3 = new Map<string, number>();
  const notes: string[] = [];
  const flows = outlets.map((outlet): RoofFlow => {
    const volumeM3 = outlet.areaM2 * runOffM;
    const barrelM3 = Math.min(volumeM3, outlet.barrelM3);
    let carriedM3 = volumeM3 - barrelM3;
    const pipe = outlet.pipe === null ? undefined : pipes.get(outlet.pipe);
    let overM3 = 0;
    if (pipe !== undefined) {
      const used = pipeUseM3.get(pipe.id) ?? 0;
      const room = Math.max(0, pipe.capacityM3PerS * hourS * durationH - used);
      overM3 = Math.max(0, carriedM3 - room);
      carriedM3 -= overM3;
      pipeUseM3.set(pipe.id, used + carriedM3);
      if (overM3 > 0) {
        notes.push(
          `The drain pipe ${pipe.id} cannot carry all that ${outlet.downspout ?? outlet.roof} sends: ${overM3.toFixed(2)} m3 run over at the downspout.`,
        );
      }
    }
    const over = outlet.overCells.length > 0 ? overM3 : 0;
    const landings = [
      { cells: outlet.cells, volumeM3: outlet.to === 'ground' ? carriedM3 : 0 },
      { cells: outlet.overCells, volumeM3: over },
    ].filter((landing) => landing.volumeM3 > 0);
    return {
      outlet,
      volumeM3,
      barrelM3,
      sewerM3: outlet.to === 'storm-sewer' ? carriedM3 : 0,
      offMapM3: (outlet.to === 'off-map' ? carriedM3 : 0) + (overM3 - over),
      landings,
    };
  });
  return { flows, pipeUseM3, notes };
}

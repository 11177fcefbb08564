import { soakedWords, worthNaming, type Ledger } from '../../../lib/drainage/answer/ledger';
import type { Target } from '../state/session/target';

/** One piece of a ledger bar. */
export interface Segment {
  readonly key: string;
  readonly label: string;
  readonly volumeM3: number;
  /** Hatch, by what happens to the water. */
  readonly fate:
    'rain' | 'run-on' | 'sump' | 'soaked' | 'standing' | 'basin' | 'barrel' | 'sewer' | 'passed-on';
  /** Its place on the map, where it has one. */
  readonly target?: Target;
}

/** Water that comes to the lot. */
export function comesIn(ledger: Ledger, event: 'storm' | 'thaw' = 'storm'): Segment[] {
  const rain = event === 'thaw' ? 'melt and rain on the lot' : 'rain on the lot';
  return [
    { key: 'rain', label: rain, volumeM3: ledger.rain_m3, fate: 'rain' },
    ...worthNaming(ledger.run_on_from).map((share): Segment => ({
      key: `run-on ${share.name}`,
      label: `run-on from ${share.name}`,
      volumeM3: share.volume_m3,
      fate: 'run-on',
      ...lotTarget(share.lot),
    })),
    { key: 'sump', label: 'from the sump', volumeM3: ledger.sump_m3, fate: 'sump' },
  ];
}

/** Where that water ends. */
export function endsUp(ledger: Ledger): Segment[] {
  return [
    { key: 'soaked', label: soakedWords, volumeM3: ledger.soaked_m3, fate: 'soaked' },
    {
      key: 'standing',
      label: 'stands in low spots',
      volumeM3: ledger.standing_m3,
      fate: 'standing',
    },
    { key: 'basin', label: 'held by the basin', volumeM3: ledger.basin_m3, fate: 'basin' },
    { key: 'barrel', label: 'in barrels, soakaways', volumeM3: ledger.barrel_m3, fate: 'barrel' },
    { key: 'sewer', label: 'storm sewer', volumeM3: ledger.sewer_m3, fate: 'sewer' },
    ...worthNaming(ledger.passed_on_to).map((share): Segment => ({
      key: `passed-on ${share.name}`,
      label: `passed on to ${share.name}`,
      volumeM3: share.volume_m3,
      fate: 'passed-on',
      ...lotTarget(share.lot),
    })),
  ];
}

function lotTarget(lot: string | null): { target?: Target } {
  return lot === null ? {} : { target: { kind: 'feature', id: lot } };
}

/** Sum of a bar, m3. */
export function totalM3(segments: readonly Segment[]): number {
  return segments.reduce((sum, segment) => sum + segment.volumeM3, 0);
}

import type { LayerMaterial } from '../plan/basin-properties';

/** One layer below the floor of a basin. */
export interface Layer {
  readonly material: LayerMaterial;
  readonly name: string;
  readonly thicknessM: number;
  /** Share of the volume that is pores. */
  readonly porosity: number;
  /** Share of the volume that holds water against gravity. */
  readonly fieldCapacity: number;
  /** Saturated hydraulic conductivity, metres a second. */
  readonly conductivityMPerS: number;
}

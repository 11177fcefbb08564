import type { LngLat } from '../../../../lib/frame/frame';
import type { Kind } from '../../../../lib/plan/schema';
import type { OutlineForm } from '../../../../lib/siting/sizing/basin-outline';

/** What the pointer does on the map. */
export type Tool = 'none' | 'edit' | 'probe' | 'tape' | 'lay' | Drawing;

/** A feature of a kind is being drawn: corner by corner, or as a whole of a given outline. */
export interface Drawing {
  readonly draw: Kind;
  readonly outline?: PlacedOutline;
  /** Corners that it has when it is taken up again. */
  readonly corners?: readonly LngLat[];
  /** Properties that make the kind what the user calls it. */
  readonly preset?: Preset;
  /** A change to a feature that is drawn, in place of a feature. */
  readonly onto?: DrawnOnto;
}

export type Preset = Readonly<Record<string, string | number | boolean>>;

/** A line that splits an outline, or a hole in it. */
export interface DrawnOnto {
  readonly does: 'split' | 'hole';
  readonly id: string;
}

/** A basin's outline of one of the usual forms on its way to its place. */
export interface PlacedOutline {
  readonly form: OutlineForm;
  /** From tip to tip. */
  readonly lengthM: number;
  /** Across the middle of the length; the same as the length where the form is round. */
  readonly widthM: number;
  /** Direction of the long side, where a teardrop's narrow end lies, radians counter-clockwise from east. */
  readonly turnRad: number;
  /** Centre of area; `null` while it lies nowhere yet. */
  readonly centre: LngLat | null;
}

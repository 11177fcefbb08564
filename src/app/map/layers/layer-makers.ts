import type {
  CircleLayerSpecification,
  ExpressionSpecification,
  FillLayerSpecification,
  FilterSpecification,
  LayerSpecification,
  LineLayerSpecification,
  SymbolLayerSpecification,
} from 'maplibre-gl';
import { roleIs } from './layer-expressions';
import type { DrawnRole } from './plan-drawing';

type LinePaint = NonNullable<LineLayerSpecification['paint']>;
type LineLayout = NonNullable<LineLayerSpecification['layout']>;
type FillPaint = NonNullable<FillLayerSpecification['paint']>;
type CirclePaint = NonNullable<CircleLayerSpecification['paint']>;
type SymbolPaint = NonNullable<SymbolLayerSpecification['paint']>;
type SymbolLayout = NonNullable<SymbolLayerSpecification['layout']>;

/** What a layer draws: a source, or the pieces of it that a filter lets through. */
export interface Pieces {
  readonly source: string;
  readonly filter?: FilterSpecification;
}

/** The pieces of the plan's drawing with one of some roles, and what else is asked of them. */
export function ofPlan(role: DrawnRole | DrawnRole[], ...also: ExpressionSpecification[]): Pieces {
  const isOne = roleIs(...[role].flat());
  return { source: 'plan', filter: also.length === 0 ? isOne : ['all', isOne, ...also] };
}

/** The pieces of another source with one of some roles. */
export function ofRole(source: string, ...roles: string[]): Pieces {
  return { source, filter: ['in', ['get', 'role'], ['literal', roles]] };
}

/** How lines meet and end. */
export const round: LineLayout = { 'line-join': 'round' };
export const roundEnds: LineLayout = { 'line-join': 'round', 'line-cap': 'round' };
export const mitred: LineLayout = { 'line-join': 'miter' };

export function line(
  id: string,
  from: Pieces,
  paint: LinePaint,
  layout: LineLayout = {},
): LayerSpecification {
  return { id, type: 'line', ...from, layout, paint };
}

/** @param dashes - drawn and left out in turn, widths of the line */
export function pen(
  colour: NonNullable<LinePaint['line-color']>,
  width: NonNullable<LinePaint['line-width']>,
  dashes?: number[],
): LinePaint {
  const pen = { 'line-color': colour, 'line-width': width };
  return dashes === undefined ? pen : { ...pen, 'line-dasharray': dashes };
}

export function fill(id: string, from: Pieces, paint: FillPaint): LayerSpecification {
  return { id, type: 'fill', ...from, paint };
}

/** A disc with a rim; radius and width of the rim in pixels. */
export function disc(
  id: string,
  from: Pieces,
  radius: NonNullable<CirclePaint['circle-radius']>,
  colour: string,
  rim: string,
  rimWidth: number,
): LayerSpecification {
  const paint: CirclePaint = {
    'circle-radius': radius,
    'circle-color': colour,
    'circle-stroke-color': rim,
    'circle-stroke-width': rimWidth,
  };
  return { id, type: 'circle', ...from, paint };
}

/** A symbol at each point; none gives way to another. */
export function icons(
  id: string,
  from: Pieces,
  image: NonNullable<SymbolLayout['icon-image']>,
  layout: SymbolLayout = {},
): LayerSpecification {
  return {
    id,
    type: 'symbol',
    ...from,
    layout: {
      'icon-image': image,
      'icon-allow-overlap': true,
      'icon-ignore-placement': true,
      ...layout,
    },
  };
}

/** What is set along a line, so many pixels apart. */
export function along(spacing: number): SymbolLayout {
  return { 'symbol-placement': 'line', 'symbol-spacing': spacing };
}

/** Letters that stand upright on the screen and are set into a line of their own colour. */
export const setIntoLine: SymbolLayout = {
  'text-rotation-alignment': 'viewport',
  'text-padding': 1,
};

export function letters(
  id: string,
  from: Pieces,
  layout: SymbolLayout,
  paint: SymbolPaint,
): LayerSpecification {
  return { id, type: 'symbol', ...from, layout, paint };
}

export function type(
  words: NonNullable<SymbolLayout['text-field']>,
  font: string[],
  size: NonNullable<SymbolLayout['text-size']>,
): SymbolLayout {
  return { 'text-field': words, 'text-font': font, 'text-size': size };
}

/** The ink of letters, and what keeps what is under them clear of them, so many pixels wide. */
export function haloed(
  colour: NonNullable<SymbolPaint['text-color']>,
  halo: string,
  haloWidth: number,
): SymbolPaint {
  return { 'text-color': colour, 'text-halo-color': halo, 'text-halo-width': haloWidth };
}

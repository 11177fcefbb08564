import type { ExpressionSpecification } from 'maplibre-gl';
import type { DrawnRole } from './plan-drawing';

/**
 * Fonts of labels on the map. The first name is no font: the map reads the weight out of it and then draws
 * with the first family of the list that the page has.
 */
export const mediumFont = ['Barlow Semi Condensed Medium', 'Barlow Semi Condensed'];
export const boldFont = ['Barlow Semi Condensed SemiBold', 'Barlow Semi Condensed'];

/** Takes the pieces of the plan's drawing with one of some roles. */
export function roleIs(...roles: DrawnRole[]): ExpressionSpecification {
  return ['in', ['get', 'role'], ['literal', roles]];
}

/** One value where a piece is selected, one where it is pointed at, one elsewhere. */
export function byAttention(
  selected: number,
  hovered: number,
  otherwise: number | ExpressionSpecification,
): ExpressionSpecification {
  return [
    'case',
    ['boolean', ['feature-state', 'selected'], false],
    selected,
    ['boolean', ['feature-state', 'hovered'], false],
    hovered,
    otherwise,
  ];
}

/** One value for each value of a property. */
export function byProperty(
  property: string,
  values: Readonly<Record<string, string | number>>,
  otherwise: string | number,
): ExpressionSpecification {
  const cases = Object.entries(values).flat();
  return [
    'match',
    ['get', property],
    cases[0],
    cases[1],
    ...cases.slice(2),
    otherwise,
  ] as ExpressionSpecification;
}

/** A size that grows with the scale of the drawing: `small` at 1 : 1000 or so, `large` at 1 : 100. */
export function byScale(small: number, large: number): ExpressionSpecification {
  return ['interpolate', ['linear'], ['zoom'], 17.5, small, 21.5, large];
}

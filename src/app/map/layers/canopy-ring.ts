import type { XY } from '../../../../lib/frame/frame';

/** The outline of a tree's canopy as drawn on site plans: a ring of scallops, closed, local metres. */
export function canopyRing(centre: XY, radiusM: number): XY[] {
  const scallops = Math.max(9, Math.min(18, Math.round(radiusM * 4)));
  const steps = 6;
  const ring: XY[] = [];
  for (let i = 0; i < scallops * steps; i++) {
    const turn = i / (scallops * steps);
    // Each scallop bulges to the full radius and its ends lie a little inside.
    const bulge = Math.sin(Math.PI * ((i % steps) / steps));
    const reach = radiusM * (0.9 + 0.1 * bulge);
    const angle = turn * 2 * Math.PI;
    ring.push([centre[0] + reach * Math.cos(angle), centre[1] + reach * Math.sin(angle)]);
  }
  ring.push(ring[0]);
  return ring;
}

/** How far a phone's sheet of questions is pulled up. */
export type PulledHeight = 'low' | 'middle' | 'high';

export const pulledHeights: readonly PulledHeight[] = ['low', 'middle', 'high'];

/** Of the window's height: an answer under the map, half and half, a question with a strip of map. A choice. */
export const shareOf: Readonly<Record<PulledHeight, number>> = {
  low: 0.28,
  middle: 0.5,
  high: 0.76,
};

/** The height nearest to a share of the window's height. */
export function nearestHeight(share: number): PulledHeight {
  return pulledHeights.reduce((best, height) =>
    Math.abs(shareOf[height] - share) < Math.abs(shareOf[best] - share) ? height : best,
  );
}

/** A low spot on the scale, by the rain at which it begins to spill. */
export interface SpillMark {
  readonly id: string;
  readonly number: number;
  readonly mm: number;
}

/** Numbers as they are said: `1, 4 and 7`. */
function listed(numbers: readonly number[]): string {
  const sorted = [...numbers].sort((a, b) => a - b).map(String);
  const last = sorted.pop() ?? '';
  return sorted.length === 0 ? last : `${sorted.join(', ')} and ${last}`;
}

/** What a depth of rain does to the low spots, in a sentence without its stop. */
export function spillWords(
  marks: readonly SpillMark[],
  depthMm: number,
  rainText: (mm: number) => string,
): string {
  const spilling = marks.filter(({ mm }) => mm <= depthMm).map(({ number }) => number);
  const ahead = marks.filter(({ mm }) => mm > depthMm);
  const now =
    spilling.length === 0
      ? 'no low spot is full'
      : `low ${spilling.length === 1 ? 'spot' : 'spots'} ${listed(spilling)} ${spilling.length === 1 ? 'is' : 'are'} full and ${spilling.length === 1 ? 'spills' : 'spill'}`;
  if (ahead.length === 0) return now;
  const next = ahead.reduce((a, b) => (b.mm < a.mm ? b : a));
  return `${now}; next is ${next.number}, from ${rainText(next.mm)}`;
}

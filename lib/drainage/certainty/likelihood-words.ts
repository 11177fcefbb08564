/**
 * Words for a probability, with the least that each stands for: the scale of the guidance note on uncertainties of the
 * Intergovernmental Panel on Climate Change (2010), from memory, without its outermost steps, which a few hundred surfaces cannot tell.
 */
const steps = [
  { from: 0.9, words: 'very likely' },
  { from: 0.66, words: 'likely' },
  { from: 0.33, words: 'as likely as not' },
] as const;
const leastUnlikely = 0.1;

/** A probability in words alone. */
export function likelihood(probability: number): string {
  for (const { from, words } of steps) if (probability >= from) return words;
  return probability > leastUnlikely ? 'unlikely' : 'very unlikely';
}

/**
 * A probability in words with its number: 'likely (74 %)'. What was counted in all or in none of the surfaces is not
 * said to be certain: 'very likely (over 99 %)'.
 */
export function likelihoodWords(probability: number): string {
  const percent = Math.round(probability * 100);
  const number = percent === 100 ? 'over 99 %' : percent === 0 ? 'under 1 %' : `${percent} %`;
  return `${likelihood(probability)} (${number})`;
}

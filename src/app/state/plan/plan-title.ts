import type { Plan } from '../../../../lib/plan/schema';

/** What a plan is called: by its own name, else by that of the lot being planned; null when neither has one. */
export function planTitle({ features, lotfall }: Plan): string | null {
  if (lotfall.name !== undefined) return lotfall.name;
  const own = features.find(({ properties }) => properties.kind === 'lot' && properties.own);
  return own?.properties.name ?? null;
}

/** A plan's name as the beginning of a file's name, in whatever script it is written; `lot` where it has none. */
export function fileStem(plan: Plan): string {
  const stem = (planTitle(plan) ?? '')
    .normalize('NFC')
    .toLocaleLowerCase()
    .replace(/[^\p{L}\p{M}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '');
  return stem === '' ? 'lot' : stem;
}

import type { Plan } from '../../../lib/plan/schema';

/** Names of the settings in which two plans differ. */
export function settingsThatDiffer(a: Plan, b: Plan): string[] {
  const keys = new Set([...Object.keys(a.lotfall), ...Object.keys(b.lotfall)]);
  return [...keys].filter((key) => a.lotfall[key] !== b.lotfall[key]);
}

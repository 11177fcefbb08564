import type { Plan } from '../../../../lib/plan/schema';

/** Names of the settings in which two plans differ. */
export function settingsThatDiffer(a: Plan, b: Plan): string[] {
  const keys = new Set([...Object.keys(a.lotfall), ...Object.keys(b.lotfall)]);
  return [...keys].filter((key) => a.lotfall[key] !== b.lotfall[key]);
}

/** Whether two plans differ in nothing but their basins. */
export function isSameWithoutBasins(a: Plan, b: Plan): boolean {
  if (a === b) return true;
  const [left, right] = [a, b].map(({ features }) =>
    features.filter(({ properties }) => properties.kind !== 'basin'),
  );
  return (
    left.length === right.length &&
    left.every((feature, i) => feature === right[i]) &&
    settingsThatDiffer(a, b).length === 0
  );
}

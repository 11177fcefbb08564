/** A share as a percentage: whole, but neither all nor nothing where a little is missing or left. */
export function shareText(share: number): string {
  if (share > 0 && share < 0.005) return 'under 1 %';
  if (share < 1 && share > 0.995) return `${(Math.floor(share * 1000) / 10).toFixed(1)} %`;
  return `${Math.round(share * 100)} %`;
}

import type { Proposal } from './remedies-result';

/**
 * The better first: lawful; findings cured; without leave from others before what needs it; rain up to which walls stay dry; what neighbours are sent; earth moved.
 * No one figure stands for all: each is looked at only where those before it are equal. At the end by id, so that the order hangs
 * on nothing else.
 */
export function ranked(proposals: readonly Proposal[]): Proposal[] {
  return [...proposals].sort((a, b) => {
    for (const [of, sign] of order) {
      const difference = sign * (of(a) - of(b));
      if (Math.abs(difference) > 1e-9) return difference;
    }
    return a.id < b.id ? -1 : 1;
  });
}

/** Rules that are met by somebody else's leave alone. */
const leave: ReadonlySet<string> = new Set(['other-course', 'sewer-leave', 'kerb-opening']);

/** Whether it needs somebody's leave. */
function needsLeave({ rules }: Proposal): number {
  return rules.some(({ rule, result }) => result === 'check' && leave.has(rule)) ? 1 : 0;
}

/** How many findings of an effect there are that are more than the error of the heights. */
function sure({ findings }: Proposal, ids: readonly string[]): number {
  return findings.filter(({ id, doubtful }) => !doubtful && ids.includes(id)).length;
}

const order: readonly (readonly [(proposal: Proposal) => number, 1 | -1])[] = [
  [({ lawful }) => (lawful === 'fail' ? 1 : 0), 1],
  [(proposal) => sure(proposal, proposal.cures), -1],
  [needsLeave, 1],
  [dryToMm, -1],
  [(proposal) => sure(proposal, proposal.eases), -1],
  [sentM3, 1],
  [({ work }) => work.cut_m3 + work.fill_m3, 1],
];

/** The least rain up to which the walls that it cures stay dry; those that have been tried less come after. */
export function dryToMm({ cures, findings }: Proposal): number {
  const rains = findings
    .filter(({ id, doubtful }) => !doubtful && cures.includes(id))
    .map(({ dry_to_mm }) => dry_to_mm.after ?? 0);
  return rains.length === 0 ? 0 : Math.min(...rains);
}

/** What neighbours' lots are sent in the first event, m3, to the litre. */
export function sentM3({ storms }: Proposal): number {
  const sum = storms[0].sent
    .filter(({ to }) => to !== null)
    .reduce((total, { volume_m3 }) => total + volume_m3.after, 0);
  return Math.round(sum * 1000) / 1000;
}

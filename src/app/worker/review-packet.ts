import { sha256Of } from '../../../lib/checksum';
import type { ElevationIdentity } from '../../../lib/elevation/file/elevation-identity';
import type { Plan } from '../../../lib/plan/schema';
import { writePlan } from '../../../lib/plan/write-plan';
import { checkLot } from '../../../lib/setback/judge/check-lot';
import { madeFrom } from '../../../lib/setback/judge/made-from';
import { checkedBasins } from '../../../lib/setback/rules/checked-basins';
import { ruleSetOf, ruleSets } from '../../../lib/setback/sets/rule-sets';
import { movedWords, resultWords, sinceLast } from '../../../lib/setback/submission/since-last';
import { checkedOnGround } from '../../../lib/setback/water/checked-on-ground';
import { makePacket } from '../../../lib/sheet/packet/make-packet';
import { packetFacts } from '../../../lib/sheet/packet/packet-facts';
import { sheetPdf } from '../../../lib/sheet/write/pdf';
import type { SetPlan } from './drawing-set';
import { openedFonts } from './sheet-fonts';

/** A plan with the ground that it is judged on, and its file. */
export interface PacketPlan extends SetPlan {
  readonly file: string;
  /** Its file as a text. */
  readonly text: string;
}

/** A packet, and where there was an earlier submission what changed since, a sentence each. */
export interface ReviewPacket {
  readonly pdf: Uint8Array<ArrayBuffer>;
  readonly changed: readonly string[] | null;
}

/** A plan as it would be saved now. */
export function savedPlan(of: SetPlan, file: string): PacketPlan {
  return { ...of, file, text: writePlan(of.plan.plan) };
}

/** Judges a plan by its rules, with what the ground tells of its water. */
export function judgedForPacket({ plan, survey, file, text }: PacketPlan, date: string) {
  const ruleSet = ruleSetOf(plan.plan.lotfall);
  const { findings, water } = checkedOnGround(
    { local: plan, basins: checkedBasins(plan), ruleSet, survey },
    date,
  );
  return {
    plan,
    ruleSet,
    findings,
    lot: checkLot(plan, ruleSet, ruleSets[0].lot_rules ?? []),
    made: madeFrom(
      { file, sha256: sha256Of(text) },
      survey === null ? null : namedIn(plan.plan),
      ruleSet,
    ),
    notes: [
      ...(survey?.elevation.notes.map(({ text: note }) => note) ?? []),
      ...(water?.notes ?? []),
      ...findings.notes,
    ],
  };
}

export type JudgedForPacket = ReturnType<typeof judgedForPacket>;

/** The raster as the plan keeps it. */
function namedIn({ lotfall: { elevation } }: Plan): ElevationIdentity | null {
  if (elevation?.source === undefined) return null;
  return {
    name: elevation.source,
    sizeBytes: elevation.size_bytes ?? null,
    crc32: elevation.crc32 ?? null,
  };
}

/** Draws the packet of a judged plan, beside an earlier one where there is one. */
export async function reviewPacket(
  now: JudgedForPacket,
  earlier: JudgedForPacket | null,
  date: string,
): Promise<ReviewPacket> {
  const since =
    earlier === null ? undefined : sinceLast({ ...earlier, plan: earlier.plan.plan }, now);
  const facts = packetFacts({ ...now, notes: [...new Set(now.notes)], date, since });
  const fonts = await openedFonts();
  const sheet = makePacket(facts, fonts, facts.units === 'us' ? 'letter' : 'a4');
  return {
    pdf: new Uint8Array(await sheetPdf(sheet, fonts)),
    changed:
      since === undefined
        ? null
        : [...since.notes, ...movedWords(since, facts.units), ...resultWords(since, facts.units)],
  };
}

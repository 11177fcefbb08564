import { mkdir, writeFile } from 'node:fs/promises';
import { basename, extname, join } from 'node:path';
import { makePacket } from '../../../lib/sheet/packet/make-packet';
import { packetFacts } from '../../../lib/sheet/packet/packet-facts';
import type { Sheet } from '../../../lib/sheet/drawing/mark';
import { paperNames, type PaperName } from '../../../lib/sheet/paper/paper';
import { sheetPdf } from '../../../lib/sheet/write/pdf';
import { sheetHtml } from '../../../lib/sheet/write/stand-alone';
import type { SinceLast } from '../../../lib/setback/submission/since-last';
import type { Call } from '../command';
import { expectFolder, notWritten } from '../reading/folder';
import { usage } from '../usage';
import { sheetFonts } from '../writing/sheet-fonts';
import type { Judged } from './judged-plan';

export const packetOptions = {
  packets: { type: 'string' },
  paper: { type: 'string' },
  applicant: { type: 'string' },
  parcel: { type: 'string' },
  revision: { type: 'string' },
} as const;

export const packetHelp = `  --packets <folder>                    write a packet of each plan there as PDF, beside what else is asked for
  --paper <name>                        of packets: ${paperNames.join(', ')}; else a4, or letter for a plan in feet
  --applicant, --parcel, --revision     what a packet says of the submission; else the plan's own (lotfall.submission,
                                        the newest of lotfall.revisions), else room to write`;

/** The forms of a packet that `--out` writes. */
export const packetForms = ['.pdf', '.html'] as const;

/** Which packets the call asks for; checked before any plan is read. */
export interface PacketsAsked {
  readonly paper: PaperName | undefined;
  /** The form that `--out` asks for, of one plan. */
  readonly form: (typeof packetForms)[number] | undefined;
  readonly folder: string | undefined;
}

/** @throws {InputError} `usage` when a packet cannot be made so; `packets-not-written`. */
export async function packetsAsked(call: Call, many: boolean): Promise<PacketsAsked> {
  const named = call.option('paper')?.toLowerCase();
  const paper = paperNames.find((name) => name === named);
  if (named !== undefined && paper === undefined) {
    throw usage(`there is no paper '${named}' to draw on`, `use one of ${paperNames.join(', ')}`);
  }
  const ending = extname(call.option('out') ?? '').toLowerCase();
  const form = packetForms.find((each) => each === ending);
  if (form !== undefined && many) {
    throw usage(
      `'${basename(call.option('out') ?? '')}' would hold several packets`,
      'name a folder with --packets, where each plan gets its own',
    );
  }
  const folder = call.option('packets');
  if (folder !== undefined) await expectFolder(folder, 'packets');
  return { paper, form, folder };
}

/** The packet of a judged plan, drawn. */
function packetOf(
  call: Call,
  plan: Judged,
  { paper, since }: { paper: PaperName | undefined; since: SinceLast | undefined },
  fonts: Fonts,
): Sheet {
  const { at, found, made, today } = plan;
  const facts = packetFacts({
    plan: at.local,
    ruleSet: at.ruleSet,
    findings: found.findings,
    lot: found.lot,
    made,
    date: today,
    notes: found.notes,
    since,
    applicant: call.option('applicant'),
    parcel: call.option('parcel'),
    revision: call.option('revision'),
  });
  return makePacket(facts, fonts, paper ?? (facts.units === 'us' ? 'letter' : 'a4'));
}

type Fonts = Awaited<ReturnType<typeof sheetFonts>>;

/** The packet in the form that `--out` asks for; no file where it asks for none. */
export async function packetFile(
  call: Call,
  plan: Judged,
  { form, paper }: PacketsAsked,
  since: SinceLast | undefined,
): Promise<Record<string, string | Uint8Array>> {
  if (form === undefined) return {};
  const fonts = await sheetFonts();
  const sheet = packetOf(call, plan, { paper, since }, fonts);
  return form === '.pdf'
    ? { '.pdf': await sheetPdf(sheet, fonts) }
    : { '.html': sheetHtml(sheet, fonts) };
}

/** Writes packets into the folder asked for, one at a time, each under its plan's name. */
export class PacketFolder {
  readonly #taken = new Set<string>();

  constructor(
    readonly call: Call,
    readonly asked: PacketsAsked,
  ) {}

  /** @throws {InputError} `packets-not-written` */
  async write(plan: Judged, since?: SinceLast): Promise<void> {
    const { folder, paper } = this.asked;
    if (folder === undefined) return;
    const fonts = await sheetFonts();
    const bytes = await sheetPdf(packetOf(this.call, plan, { paper, since }, fonts), fonts);
    try {
      await mkdir(folder, { recursive: true });
      await writeFile(join(folder, this.#nameOf(plan.path)), bytes);
    } catch (error) {
      throw notWritten(folder, 'packets', error);
    }
  }

  /** Plans of two folders may have one name. */
  #nameOf(path: string): string {
    const stem = basename(path).replace(/(\.plan)?\.(geo)?json$/i, '');
    let name = `${stem}.packet.pdf`;
    for (let i = 2; this.#taken.has(name); i++) name = `${stem}-${i}.packet.pdf`;
    this.#taken.add(name);
    return name;
  }
}

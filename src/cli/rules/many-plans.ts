import { basename, extname } from 'node:path';
import { InputError } from '../../../lib/errors';
import {
  planTable,
  ruleRows,
  ruleTableHead,
  unreadRuleRow,
  worstFirst,
  type PlanRow,
} from '../../../lib/setback/judge/setback-table';
import type { Given } from '../reading/checked-plan';
import type { Call, CommandOutput } from '../command';
import { usage } from '../usage';
import { exitStatus } from './exit-status';
import { PacketFolder, type PacketsAsked } from './packets';
import { documentOf, judged, planRowOf, rowsOf, wordsOf } from './judged-plan';
import { summaryWords } from './setback-words';

export const byOption = { by: { type: 'string' } } as const;

export const byHelp = `  --by <rule|plan>                      for .csv of several plans: a row for each rule and plan, or for each plan; rule
                                        when not given`;

/** What is kept of a plan while the others are judged: a row, and its part of each form that is asked for. */
interface Kept {
  readonly row: PlanRow;
  readonly parts: readonly unknown[];
  readonly fault?: string;
}

interface Part {
  readonly row: PlanRow;
  readonly part: unknown;
}

/** In which form the answer leaves; no other is made, since of many plans each takes room. */
interface Form {
  readonly ofPlan: (plan: Awaited<ReturnType<typeof judged>>) => unknown;
  readonly ofFault: (path: string, problem: InputError) => unknown;
  readonly put: (parts: readonly Part[]) => Partial<CommandOutput>;
}

/**
 * Judges each of several plans and lets go of it before the next. What the user can put right in one does not keep the
 * others from it.
 */
export async function checkAll(
  given: Given,
  paths: readonly string[],
  packets: PacketsAsked,
): Promise<CommandOutput> {
  const folder = new PacketFolder(given.call, packets);
  const forms = formsOf(given.call);
  const kept: Kept[] = [];
  for (const path of paths) {
    given.call.onProgress(kept.length / paths.length, basename(path));
    kept.push(await keptOf(given, path, forms, folder));
  }
  let output: Partial<CommandOutput> = {};
  forms.forEach((form, i) => {
    const parts = kept.map(({ row, parts: all }) => ({ row, part: all[i] }));
    output = { ...output, ...form.put(parts) };
  });
  return {
    text: '',
    json: null,
    ...output,
    faults: kept.flatMap(({ fault }) => fault ?? []),
    status: exitStatus(
      given.call,
      kept.map(({ row }) => row.state),
    ),
  };
}

async function keptOf(
  given: Given,
  path: string,
  forms: readonly Form[],
  folder: PacketFolder,
): Promise<Kept> {
  const plan = await orProblem(() => judged(given, path));
  if (plan instanceof InputError) {
    const fault = faultOf(path, plan);
    const row: PlanRow = {
      plan: path,
      state: 'not-read',
      counts: null,
      worst: fault,
      about: null,
    };
    return { row, parts: forms.map((form) => form.ofFault(path, plan)), fault };
  }
  // What cannot be written ends the call, for none of the others could be written either.
  await folder.write(plan);
  return { row: planRowOf(plan), parts: forms.map((form) => form.ofPlan(plan)) };
}

/** What a task gives, or what the user can put right about it. */
export async function orProblem<T>(task: () => Promise<T>): Promise<T | InputError> {
  try {
    return await task();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
}

/** A fault's sentence, with the folder where the sentence names the file alone: two folders may hold files of one name. */
export function faultOf(path: string, { where, message }: InputError): string {
  const folder = path.slice(0, path.length - basename(path).length);
  return where.startsWith(path) ? message : `${folder}${message}`;
}

function formsOf(call: Call): Form[] {
  const ending = extname(call.option('out') ?? '').toLowerCase();
  const by = call.option('by') ?? 'rule';
  if (by !== 'rule' && by !== 'plan') {
    throw usage(`there is no table by '${by}'`, 'use rule or plan');
  }
  const asJson = call.flag('json') || ending === '.json';
  return [
    ...(asJson ? [documents] : []),
    ...(ending === '.csv' ? [by === 'plan' ? byPlan : byRule] : []),
    ...(ending === '.txt' || (ending === '' && !asJson) ? [words] : []),
  ];
}

const documents: Form = {
  ofPlan: (plan) => ({ plan: plan.path, ...documentOf(plan) }),
  ofFault: (path, problem) => ({ plan: path, error: problem.toProblem() }),
  put: (parts) => ({ json: parts.map(({ part }) => part) }),
};

/** Rows are kept as bytes: as text of two bytes a sign they would take twice the room. */
const byRule: Form = {
  ofPlan: (plan) => Buffer.from(ruleRows(rowsOf(plan))),
  ofFault: (path, problem) => Buffer.from(unreadRuleRow(path, faultOf(path, problem))),
  put: (parts) => ({
    files: {
      '.csv': Buffer.concat([
        Buffer.from(ruleTableHead),
        ...sorted(parts).map(({ part }) => part as Buffer),
      ]),
    },
  }),
};

const byPlan: Form = {
  ofPlan: () => null,
  ofFault: () => null,
  put: (parts) => ({ files: { '.csv': planTable(worstFirst(parts.map(({ row }) => row))) } }),
};

const words: Form = {
  ofPlan: (plan) => `${plan.path}\n\n${wordsOf(plan)}`,
  ofFault: () => null,
  put: (parts) => ({
    text: [
      ...parts.flatMap(({ part }) => (part === null ? [] : [part as string])),
      summaryWords(worstFirst(parts.map(({ row }) => row))),
    ].join('\n\n\n'),
  }),
};

function sorted(parts: readonly Part[]): Part[] {
  return worstFirst(parts.map((part) => ({ ...part.row, part }))).map(({ part }) => part);
}

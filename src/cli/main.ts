import { writeFile } from 'node:fs/promises';
import { basename, extname } from 'node:path';
import { inspect, parseArgs } from 'node:util';
import { InputError } from '../../lib/errors';
import type { Call, Command, CommandOutput } from './command';
import { fileFault } from './reading/file-fault';
import { streamsOfProcess, type Printer } from './printer';
import { usage } from './usage';

/** Each loaded only when it is called, with the libraries that it needs. */
const commands: ReadonlyMap<string, () => Promise<Command>> = new Map([
  ['drainage', async () => (await import('./water/drainage')).drainage],
  ['setbacks', async () => (await import('./rules/setbacks')).setbacks],
  ['sites', async () => (await import('./garden/sites')).sites],
  ['design', async () => (await import('./garden/design')).design],
  ['fall', async () => (await import('./paper/fall')).fall],
  ['report', async () => (await import('./handover/report')).report],
  ['remedies', async () => (await import('./water/remedies')).remedies],
  ['order', async () => (await import('./handover/order')).order],
  ['dates', async () => (await import('./handover/dates')).dates],
  ['review', async () => (await import('./lots/review')).review],
  ['work', async () => (await import('./handover/work')).work],
  ['plants', async () => (await import('./handover/plants')).plants],
  ['export', async () => (await import('./handover/export')).exporting],
  ['built', async () => (await import('./handover/built')).built],
  ['gather', async () => (await import('./plan/gather')).gather],
]);

const shared = {
  help: { type: 'boolean', short: 'h' },
  json: { type: 'boolean' },
  out: { type: 'string' },
} as const;

/**
 * Runs the command line.
 *
 * @param args - the words after the program's name.
 * @param page - where it prints.
 * @returns the exit status: 0 done, 1 a binding rule fails, 2 bad input or usage, 70 a fault in the program.
 */
export async function main(
  args: readonly string[],
  page: Printer = streamsOfProcess(),
): Promise<number> {
  try {
    return await dispatch(args, page);
  } catch (error) {
    page.done();
    if (error instanceof InputError) {
      page.fault(`${error.message}\n`);
      return 2;
    }
    // Not 1, which says that a rule fails.
    page.fault(`lotfall: a fault in the program, not in what it was given: ${inspect(error)}\n`);
    return 70;
  }
}

async function dispatch(args: readonly string[], page: Printer): Promise<number> {
  const asks = ['help', '--help', '-h'].includes(args[0]);
  const [name, ...rest] = asks && args.length > 1 ? [args[1], '--help'] : args;
  if (name === undefined) {
    page.fault(`${await overview()}\n`);
    return 2;
  }
  if (asks && args.length === 1) {
    page.print(`${await overview()}\n`);
    return 0;
  }
  const load = commands.get(name);
  if (load === undefined) {
    throw usage(`there is no command '${name}'`, `use one of ${[...commands.keys()].join(', ')}`);
  }
  const command = await load();
  const { values, positionals } = parse(command, rest);
  if (values['help'] === true) {
    page.print(`lotfall ${command.name}: ${command.summary}\n\n${command.help}\n`);
    return 0;
  }
  const call: Call = {
    words: positionals,
    option: (key) => (typeof values[key] === 'string' ? values[key] : undefined),
    all: (key) => {
      const value = values[key];
      return Array.isArray(value) ? value.map(String) : [];
    },
    flag: (key) => values[key] === true,
    onProgress: page.progress,
  };
  refuseOtherForms(command, call);
  try {
    const outcome = await command.run(call);
    page.done();
    await deliver(outcome, call, page);
    for (const fault of outcome.faults ?? []) page.fault(`${fault}\n`);
    return statusOf(outcome);
  } catch (error) {
    if (!(error instanceof InputError) || command.refusedStatus === undefined) throw error;
    page.done();
    page.fault(`${error.message}\n`);
    return command.refusedStatus(call, error);
  }
}

function statusOf({ status, faults = [], ruleFails }: CommandOutput): number {
  if (status !== undefined) return status;
  if (faults.length > 0) return 2;
  return ruleFails === true ? 1 : 0;
}

async function overview(): Promise<string> {
  const all = await Promise.all([...commands.values()].map((load) => load()));
  return `lotfall: sites, sizes and checks a rain garden on a lot

Usage: lotfall <command> <plan.geojson> [options]

Commands
${all.map(({ name, summary }) => `  ${name.padEnd(10)} ${summary}`).join('\n')}

Options of every command
  --json        one JSON document on standard output, nothing else there
  --out <file>  write a file instead of to standard output; its ending chooses the form (.json, .txt and what the
                command adds); with --json the document is printed as well
  --help, -h    more about a command

Exit status: 0 done, 1 a binding rule fails, 2 bad input or usage, 70 a fault in the program.
Figures are estimates for planning, not a survey or an engineered design. Local code governs.`;
}

function parse(command: Command, args: readonly string[]) {
  const options = { ...command.options, ...shared };
  try {
    const { values, positionals } = parseArgs({
      args: withNegatives(args, options),
      options,
      allowPositionals: true,
    });
    return { values: values as Readonly<Record<string, unknown>>, positionals };
  } catch (error) {
    const what = error instanceof Error ? error.message.split(/\. |\.?\n/)[0] : String(error);
    throw usage(what.charAt(0).toLowerCase() + what.slice(1), `see lotfall ${command.name} --help`);
  }
}

/** The words of a call with a negative number joined to the option before it, which would else be read as an option. */
function withNegatives(args: readonly string[], options: Command['options']): string[] {
  const joined: string[] = [];
  for (const word of args) {
    const before = joined.at(-1);
    const takes = before?.startsWith('--') === true && options[before.slice(2)]?.type === 'string';
    if (takes && /^-\.?\d/.test(word)) joined[joined.length - 1] = `${before}=${word}`;
    else joined.push(word);
  }
  return joined;
}

/** Before any work is done: whether the file to be written ends in a form that the command has. */
function refuseOtherForms(command: Command, call: Call): void {
  const file = call.option('out');
  if (file === undefined) return;
  const forms = ['.json', '.txt', ...(command.forms ?? [])];
  if (forms.includes(extname(file).toLowerCase())) return;
  throw usage(
    `the ending of '${basename(file)}' names no form that ${command.name} can write`,
    `end it in one of ${forms.join(', ')}`,
  );
}

/** Prints the outcome, or writes it in the form that the file's ending asks for. */
async function deliver(outcome: CommandOutput, call: Call, page: Printer): Promise<void> {
  const json = `${JSON.stringify(outcome.json, null, 2)}\n`;
  const file = call.option('out');
  if (file === undefined) {
    page.print(call.flag('json') ? json : `${outcome.text}\n`);
    return;
  }
  const forms: Record<string, string | Uint8Array> = {
    '.json': json,
    '.txt': `${outcome.text}\n`,
    ...outcome.files,
  };
  try {
    await writeFile(file, forms[extname(file).toLowerCase()]);
  } catch (error) {
    throw new InputError(
      {
        code: 'out-not-written',
        where: file,
        problem: `the file cannot be written: ${fileFault(error)}`,
        remedy: 'name a file in a folder that exists and may be written to',
      },
      { cause: error },
    );
  }
  if (call.flag('json')) page.print(json);
  else if (outcome.alsoText === true) page.print(`${outcome.text}\n`);
}

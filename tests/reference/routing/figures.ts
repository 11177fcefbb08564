/**
 * Prints how routings compare: `npx tsx tests/reference/routing/figures.ts` (a quarter of an hour; real grounds with
 * LOTFALL_DATA only). With `quick` the solver is left out.
 */
import {
  askedGround,
  demoGround,
  hasRealGrounds,
  realGrounds,
  roughGrounds,
  smoothGrounds,
  type AskedGround,
} from './grounds';
import { closedFormErrors, flowLineErrors, noiseChanges, solverErrors, summary } from './measure';
import { methods, type Method } from './methods';

const bearings = [0, 5, 10, 15, 20, 25, 30, 35, 40, 45];

/** A table with a row for each method. */
function print(
  title: string,
  head: readonly string[],
  cellsOf: (method: Method) => string[],
): void {
  console.log(`\n${title}\n\n| routing | ${head.join(' | ')} |`);
  console.log(`| --- |${' --- |'.repeat(head.length)}`);
  for (const method of methods) console.log(`| ${method} | ${cellsOf(method).join(' | ')} |`);
}

function short(errors: readonly number[] = []): string {
  if (errors.length === 0) return '-';
  const { mean, rms, worst } = summary(errors);
  return `${mean < 0 ? '' : '+'}${mean.toFixed(1)} ${rms.toFixed(1)} / ${worst.toFixed(0)}`;
}

async function main(): Promise<void> {
  console.log('Errors in per cent: mean, root of mean square / worst.');
  for (const cellM of [1, 0.5]) {
    const found = closedFormErrors(methods, bearings, cellM);
    print(
      `Planes, cones, domes, funnels, bowls at bearings of 0 to 45 degrees, cells of ${cellM} m`,
      ['lot of 20 m', 'basin of 5 m', 'line of 15 m', 'wrong ground, lot', 'wrong ground, basin'],
      (method) => {
        const errors = found.get(method);
        const { lot, basin, line } = errors?.area ?? {};
        return [lot, basin, line, errors?.misplaced.lot, errors?.misplaced.basin].map(short);
      },
    );
  }
  for (const noiseM of [0.001, 0.01]) {
    const found = noiseChanges(methods, [0, 10, 20, 33, 45], 1, noiseM, [1, 2, 3]);
    print(
      `Change by noise of ${1000 * noiseM} mm, cells of 1 m`,
      ['lot of 20 m', 'basin of 5 m', 'line of 15 m'],
      (method) => {
        const { lot, basin, line } = found.get(method) ?? {};
        return [lot, basin, line].map(short);
      },
    );
  }
  for (const parts of [1, 2]) {
    const found = smoothGrounds
      .filter(({ hollows }) => hollows === undefined)
      .map((made) => flowLineErrors(methods, made, parts));
    print(
      `Against flow lines on smooth grounds, cells of ${1 / parts} m`,
      ['over lot lines', 'into basins'],
      (method) => [
        short(found.flatMap((by) => by.get(method)?.overLines ?? [])),
        short(found.flatMap((by) => by.get(method)?.intoBasins ?? [])),
      ],
    );
  }
  if (process.argv.includes('quick')) return;
  const grounds: AskedGround[] = [...smoothGrounds, ...roughGrounds].map((made) =>
    askedGround(made),
  );
  grounds.push(await demoGround());
  if (hasRealGrounds) grounds.push(...(await realGrounds()));
  for (const [manning, untilS] of [
    [0.015, 5400],
    [0.2, 16_200],
  ]) {
    const found = grounds.map((ground) =>
      solverErrors(methods, ground, { manning, rainS: 1800, untilS, waveDepthM: 0.04 }),
    );
    for (const [kind, title] of [
      ['overLines', 'over lot lines'],
      ['intoBasins', 'into basins and hollows'],
    ] as const) {
      print(
        `Against shallow flow with n ${manning}, ${title}`,
        grounds.map(({ name }) => name),
        (method) => found.map((by) => short(by.get(method)?.[kind])),
      );
    }
  }
}

await main();

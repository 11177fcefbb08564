#!/usr/bin/env node
import { existsSync } from 'node:fs';

const { main } = existsSync(new URL('main.ts', import.meta.url))
  ? await sources()
  : await import('../../dist/lib/command.js');
process.exitCode = await main(process.argv.slice(2));

/** In a checkout the sources run as they stand: tsx translates them as they are loaded, which Node by itself does not on every version this supports. */
async function sources() {
  const { register } = await import('tsx/esm/api');
  register();
  return import('./main.ts');
}

#!/usr/bin/env node
// Node cannot run TypeScript by itself on every version this supports: tsx translates as files are loaded.
import { register } from 'tsx/esm/api';

register();
const { main } = await import('./main.ts');
process.exitCode = await main(process.argv.slice(2));

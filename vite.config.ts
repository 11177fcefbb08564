import { svelte } from '@sveltejs/vite-plugin-svelte';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';
import { offlineBuild } from './src/app/offline/offline-build.js';

/**
 * What the page may do: only what it ships. Blob and data addresses are needed by the map's image sources
 * and by the raster decoders; `https:` and loopback images and requests are for map tiles and elevation
 * addresses that the user names.
 */
const contentSecurityPolicy = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "worker-src 'self' blob:",
  "style-src 'self' 'unsafe-inline'",
  "font-src 'self' data:",
  "img-src 'self' data: blob: https: http://127.0.0.1:* http://localhost:*",
  "connect-src 'self' data: blob: https: http://127.0.0.1:* http://localhost:*",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

const root = fileURLToPath(new URL('.', import.meta.url));

/** The library and the command for Node, with their dependencies left to be resolved there. */
const library = {
  target: 'node20',
  outDir: 'dist/lib',
  ssr: true,
  rollupOptions: {
    input: { index: 'lib/index.ts', command: 'src/cli/main.ts' },
    output: { entryFileNames: '[name].js', chunkFileNames: 'parts/[name]-[hash].js' },
  },
};
const app = { target: 'es2022', outDir: 'dist/app', chunkSizeWarningLimit: 1500 };

export default defineConfig(({ mode }) => ({
  root,
  plugins: [svelte(), offlineBuild(contentSecurityPolicy)],
  // One page: what is not there is not there.
  appType: 'mpa',
  // Wherever the page is put.
  base: './',
  publicDir: mode === 'library' ? false : 'public',
  build: mode === 'library' ? library : app,
  worker: { format: 'es' },
  server: { host: '127.0.0.1' },
  preview: {
    host: '127.0.0.1',
    port: 4870,
    headers: {
      'Content-Security-Policy': contentSecurityPolicy,
      'X-Content-Type-Options': 'nosniff',
      'Referrer-Policy': 'no-referrer',
    },
  },
  test: {
    projects: [
      {
        extends: true,
        test: {
          name: 'lib',
          include: ['tests/{unit,property,reference,cli}/**/*.test.ts'],
          environment: 'node',
          setupFiles: ['tests/drawn-cases.ts'],
          // By itself one core would be left idle.
          maxWorkers: availableParallelism(),
          // What files import is loaded once by each worker, not once for each of two hundred files.
          isolate: false,
          // A cap for what hangs, not for what is slow: machines are, beside other work.
          testTimeout: 1_800_000,
          hookTimeout: 1_800_000,
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          environment: 'node',
          globalSetup: ['tests/browser/serve-app.ts'],
          testTimeout: 1_800_000,
          hookTimeout: 1_800_000,
          expect: { poll: { timeout: 300_000 } },
          // Two pages at a time: a page waits for its worker and its map, and each browser needs its memory.
          maxWorkers: 2,
        },
      },
    ],
  },
}));

/** Keeps a copy of the page in the browser, so that it opens and works without a network. */
import { answerFromCopy, type BuiltFiles, forgetOldCopies, keepCopy } from './kept-copy';
import { BUILD_MARK } from './build-mark';

declare const self: ServiceWorkerGlobalScope;

/** Written in by the build, once all its files are there. */
const build = JSON.parse(BUILD_MARK) as BuiltFiles;
const place = { caches, scope: self.registration.scope };

self.addEventListener('install', (event) => {
  event.waitUntil(keepCopy(place, build));
});

self.addEventListener('activate', (event) => {
  event.waitUntil(forgetOldCopies(place, build).then(() => self.clients.claim()));
});

// A newer build waits until the user takes it: nothing changes under work that is going on.
// All that a page ever says is that it does.
self.addEventListener('message', () => {
  void self.skipWaiting();
});

self.addEventListener('fetch', (event) => {
  event.respondWith(
    answerFromCopy(place, event.request).then((kept) => kept ?? fetch(event.request)),
  );
});

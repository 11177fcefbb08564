/**
 * Watches over a worker: one that fails outside of what it was asked, or whose answers cannot be read, is ended, for
 * what waits for it would wait for ever.
 *
 * @param onLost - called once, when it will answer no more.
 */
export function whenLost(worker: Worker, onLost: () => void): Worker {
  let isLost = false;
  const lose = (): void => {
    if (isLost) return;
    isLost = true;
    worker.terminate();
    onLost();
  };
  worker.addEventListener('error', lose);
  worker.addEventListener('messageerror', lose);
  return worker;
}

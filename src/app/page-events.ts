import { pastedFile } from './state/files/given-files';
import type { GatheringStore } from './state/files/gathering.svelte';
import type { PlanStore } from './state/plan/plan-store.svelte';

/** Whether a control has letters to undo by itself. */
function isTyping(target: EventTarget | null): boolean {
  if (target instanceof HTMLTextAreaElement) return true;
  return (
    target instanceof HTMLInputElement &&
    !['range', 'checkbox', 'radio', 'file'].includes(target.type)
  );
}

/** Whether something that is dragged over the page holds files. */
function holdsFiles({ dataTransfer }: DragEvent): boolean {
  return dataTransfer?.types.includes('Files') === true;
}

/** What keys, files dropped anywhere and what is pasted do to the plan. */
export function pageEvents(store: PlanStore, gathering: GatheringStore) {
  return {
    onkeydown: (event: KeyboardEvent) => {
      if (isTyping(event.target) || !(event.ctrlKey || event.metaKey)) return;
      const key = event.key.toLowerCase();
      if (key === 'z' && event.shiftKey) store.redo();
      else if (key === 'z') store.undo();
      else if (key === 'y') store.redo();
      else return;
      event.preventDefault();
    },
    ondragover: (event: DragEvent) => {
      // Without this the browser would leave the page for the file.
      if (holdsFiles(event)) event.preventDefault();
    },
    ondrop: (event: DragEvent) => {
      if (!holdsFiles(event)) return;
      event.preventDefault();
      void gathering.take([...(event.dataTransfer?.files ?? [])]);
    },
    onpaste: (event: ClipboardEvent) => {
      if (isTyping(event.target)) return;
      const given = [...(event.clipboardData?.files ?? [])];
      const text = event.clipboardData?.getData('text/plain') ?? '';
      if (given.length > 0) void gathering.take(given);
      else if (/^\s*[[{]/.test(text)) void gathering.take([pastedFile(text)]);
    },
  };
}
